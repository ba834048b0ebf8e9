/** What the service says is wrong. The OpenAPI document is for programmers and stays in English, beside the code. */

const accepted =
  'a tray file (JSON), a table of sizes (CSV), a plan as DXF drawing or a solid as STEP file is accepted';

export const server = {
  /** What each code means, as the title of a problem document. */
  titles: {
    BAD_INPUT: 'A value or a file is not acceptable',
    NOT_FOUND: 'No material, format or file of that name',
    TOO_LARGE: 'More data than is taken',
    NOT_MAKEABLE: 'This tray cannot be made in one piece',
    NO_FLAT: 'This tray has no flat shape to be cut',
    NOT_SOLVED: 'No flat shape was found for this tray',
    BUSY: 'No capacity now',
    TIMEOUT: 'It took longer than allowed',
    OUT_OF_MEMORY: 'It took more memory than allowed',
    CANCELLED: 'Stopped by the client',
    EXPORTER_FAILED: 'An exporter failed',
    NO_SUCH_ADDRESS: 'Nothing is at this address',
    METHOD: 'This address does not take that method',
    MEDIA_TYPE: 'This type of content is not taken',
    TOO_MANY: 'Too many requests from one address',
    REFUSED: 'The request is refused',
    FAULT: 'A fault of the program',
  },

  // Requests
  fault: 'gatherpan itself failed; this is a fault of the program, please report it.',
  noSuchAddress: 'Nothing is at this address.',
  malformed: 'The request is malformed.',
  expectation: 'The request has an Expect header that is not met here; leave it out.',
  noTunnel: 'Tunnels are not opened here.',
  tooSlow: 'The request came too slowly and was given up.',
  headersTooLarge: 'The headers of the request are too large.',
  requestTooLarge: 'The request is larger than this address takes.',
  compressed: 'Compressed requests are not taken; send the content as it is.',
  clientGone: 'The client went away.',
  wrongLength: 'The request is shorter or longer than its Content-Length says.',
  method: (allowed: string) => `This address takes ${allowed}.`,
  methods: (allowed: string, other: string) => `This address takes ${allowed} or ${other}.`,
  takesFields: 'This address takes a form, as application/x-www-form-urlencoded.',
  takesTray: 'This address takes a tray file as application/json.',
  takesForm: 'This address takes multipart/form-data with the file in the field "file".',
  tooMany: (most: string, seconds: string) =>
    `More than ${most} requests came from this address in a minute; wait ${seconds} s.`,
  hostUnknown: 'This service is not known under that host name.',
  otherSite: 'Requests from pages of another site are refused.',
  givenTwice: (name: string) => `${name} was given twice; give it once.`,
  unknownName: (name: string, known: string) => `${name} is not known here; ${known} is accepted.`,
  unknownNameOfSeveral: (name: string, known: string) => `${name} is not known here; ${known} are accepted.`,
  unit: (value: string, known: string) => `unit is ${value}; one of ${known} is accepted.`,
  quantity: (value: string, most: string) =>
    `quantity is ${value}; a whole number from 1 to ${most} is accepted.`,
  noFormats: 'formats is empty; name at least one format.',
  baseNoTray: 'base is not a tray file; a JSON object is accepted.',

  // Room and time
  stopping: 'The service is stopping.',
  warming: (seconds: string) => `The service is warming up; try again in ${seconds} s.`,
  busy: (seconds: string) => `More work is waiting than there is room for; try again in ${seconds} s.`,
  waitedTooLong: (waited: string, seconds: string) =>
    `This waited ${waited} s for its turn and was not begun, because other work takes longer than usual; try again in ${seconds} s.`,
  busyTables: (seconds: string) => `Other tables of sizes are being solved; try again in ${seconds} s.`,
  busyUploads: (seconds: string) =>
    `Too many files are being uploaded at this moment; try again in ${seconds} s.`,
  jobStopped: 'The job was stopped.',
  tookTooLong: (seconds: string) =>
    `This took longer than the ${seconds} s that one job may take and was stopped; send a simpler tray or a smaller file, or use the command, which has a limit of your own choice.`,
  tookTooMuchMemory: (size: string) =>
    `This took more memory than the ${size} that one job may use and was stopped; send a simpler tray or a smaller file.`,
  tableStopped: 'The table was stopped.',
  tableTookTooLong: (minutes: string) =>
    `The table took longer than ${minutes} minutes and was stopped; give fewer rows at a time.`,

  // Uploads
  upload: {
    // To those without scripts
    drawingLeavesOpen:
      'The drawing leaves something open. Say it under "Open file", and choose the file again.',
    chooseAgain: 'To save the files of this part, choose it again.',

    noBoundary: 'The form is malformed: its Content-Type has no boundary of 1 to 70 characters.',
    otherField: (field: string) => `The form has a file in the field ${field}; the field "file" is accepted.`,
    fieldTooLong: (field: string) => `The field ${field} is too long.`,
    tooManyParts: 'The form has more parts than one file and 8 fields.',
    malformed: 'The upload is malformed or ends too early; send it again.',
    noFile: 'The form has no file; give one in the field "file".',
    brokenOff: 'The upload was broken off.',
    tooLargeSaid: (size: string, most: string) =>
      `The file is ${size}; a file of at most ${most} is accepted.`,
    tooLarge: 'The file is too large.',
    tooLargeFor: {
      tray: (most: string) => `The file is too large for a tray file; at most ${most} are accepted.`,
      table: (most: string) => `The file is too large for a table of sizes; at most ${most} are accepted.`,
      drawing: (most: string) => `The file is too large for a drawing; at most ${most} are accepted.`,
      solid: (most: string) => `The file is too large for a solid; at most ${most} are accepted.`,
    },
    empty: `The file is empty; ${accepted}.`,
    archive: `The file is an archive; unpack it first; ${accepted}.`,
    compressed: `The file is compressed; unpack it first; ${accepted}.`,
    utf16: `The file is UTF-16 text; save it as UTF-8; ${accepted}.`,
    noText: `The file is not a text file; ${accepted}.`,
    noContent: `The file has no content; ${accepted}.`,
    unknownKind: `The file is of no kind that is known here; ${accepted}.`,
    noTable: 'The file is not a table of sizes; a CSV file is accepted.',
    noSolid: 'The file is not a solid; a STEP file is accepted.',
    trayNoText: 'The tray file is not UTF-8 text; save it as JSON in UTF-8.',
    tableNoText: 'The table is not UTF-8 text; save it as CSV in UTF-8.',
  },
  archiveTooLarge: (most: string) =>
    `The files of this table are more than ${most}; give fewer rows or fewer formats at a time.`,
  noRow: 'No row of the table could be made.',
  noRowBecause: (place: string, faults: string) => `No row of the table could be made. ${place}: ${faults}`,

  /** Why an address cannot be listened at. */
  listen: {
    inUse: (host: string, port: string) =>
      `gatherpan cannot listen at ${host}, port ${port}: something else listens there; give others with --host and --port.`,
    refused: (host: string, port: string) =>
      `gatherpan cannot listen at ${host}, port ${port}: permission is refused; give others with --host and --port.`,
    noAddress: (host: string, port: string) =>
      `gatherpan cannot listen at ${host}, port ${port}: this machine has no such address; give others with --host and --port.`,
    noHost: (host: string, port: string) =>
      `gatherpan cannot listen at ${host}, port ${port}: there is no such host; give others with --host and --port.`,
    other: (host: string, port: string, code: string) =>
      `gatherpan cannot listen at ${host}, port ${port}: the system reports ${code}; give others with --host and --port.`,
  },
};
