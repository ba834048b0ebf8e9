/** The page of error codes. */
export const problems = {
  title: 'gatherpan: error codes',
  heading: 'Error codes of the HTTP interface',
  what: 'Every refusal is a problem document (RFC 9457, `application/problem+json`): `status`, `code`, `detail` in words, and in `errors` one entry for each fault with the path of its field.',
  codes: {
    BAD_INPUT: 'A value or a file is not acceptable. The sentence says what would be.',
    NOT_FOUND: 'There is no material, format or file of that name.',
    TOO_LARGE: 'More data than is taken. The limits are at </api/limits>.',
    NOT_MAKEABLE: 'The file is sound, but such a tray cannot be made in one piece.',
    NO_FLAT:
      'The tray has no flat shape to be cut, so it cannot be made in one piece, and there is no file of it.',
    NOT_SOLVED: 'No flat shape was found for this tray.',
    BUSY: 'No capacity now. Try again after the seconds in `Retry-After`.',
    TIMEOUT:
      'It took longer than allowed and was stopped. The sentence names the limit; the same again would take as long.',
    OUT_OF_MEMORY: 'It took more memory than allowed and was stopped. The same again would take as much.',
    CANCELLED: 'The client went away, so its job was stopped.',
    EXPORTER_FAILED: 'An exporter that does not belong to the service failed.',
    NO_SUCH_ADDRESS: 'Nothing is at this address.',
    METHOD: 'The address does not take that method; `Allow` names those it takes.',
    MEDIA_TYPE: 'Another type of content is taken at this address.',
    TOO_MANY: 'Too many requests came from one address. Wait for `Retry-After`.',
    REFUSED:
      'The request is malformed, too slow, expects what is not met, or comes from a page of another site.',
    FAULT: 'A fault of the program. Please report it.',
  },
};
