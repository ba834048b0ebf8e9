/** Words of the contact sheet, on which every blank of a batch is shown small. */
export const contactSheet = {
  title: 'Contact sheet',
  oneBlank: (scale: string) => `1 blank, scale ${scale}`,
  blanks: (count: string, scale: string) => `${count} blanks, scale ${scale}`,
  page: (heading: string, page: string, pages: string) => `${heading}, page ${page} of ${pages}`,
  size: (length: string, width: string) => `${length} x ${width}`,
  sizeAndWarnings: (length: string, width: string) => `${length} x ${width}, see warnings`,
};
