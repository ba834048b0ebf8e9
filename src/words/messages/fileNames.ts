/** What is wrong with the names of files that are made of trays. */
export const fileNames = {
  sameFile: (tray: string, place: string, file: string, other: string, otherPlace: string) =>
    `${tray} (${place}) would be written to ${file}, as ${other} (${otherPlace}) is; give it another name.`,
  ownFile: (tray: string, place: string, file: string) =>
    `The tray ${tray} (${place}) would overwrite the batch's own file ${file}; give it another name.`,
  notInArchive: (name: string) =>
    `${name} cannot be a name in an archive; give one without folders and without : * ? " < > |.`,
};
