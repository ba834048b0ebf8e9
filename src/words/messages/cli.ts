/** What the commands say is wrong: with what was typed, and with the files that were named. */
export const cli = {
  /** What was typed is no command line. `flags` as the help has them. */
  usage: {
    missingArgument: (name: string) => `error: missing required argument '${name}'`,
    missingValue: (flags: string) => `error: option '${flags}' argument missing`,
    missingOption: (flags: string) => `error: required option '${flags}' not specified`,
    unknownOption: (flag: string) => `error: unknown option '${flag}'`,
    unknownCommand: (name: string) => `error: unknown command '${name}'`,
    tooMany: (command: string, expected: string, given: string) =>
      `error: too many arguments for '${command}'. Expected ${expected} argument${expected === '1' ? '' : 's'} but got ${given}.`,
    didYouMean: (name: string) => `(Did you mean ${name}?)`,
    didYouMeanOneOf: (names: string) => `(Did you mean one of ${names}?)`,
  },

  fault: (reason: string) =>
    `gatherpan itself failed (${reason}); this is a fault of the program, please report it with the tray file.`,
  faultUnknown: 'gatherpan: a fault of the program, please report it.',
  serviceFault: 'gatherpan: a fault of the program',
  serviceFaultOf: (kind: string) => `gatherpan: a fault of the program (${kind})`,

  // Files
  folderForTray: 'This is a folder; a tray file is accepted.',
  folderForStep: 'This is a folder; a STEP file is accepted.',
  notText: 'The tray file is not UTF-8 text; save it as JSON in UTF-8.',
  larger: (megabytes: string) =>
    `The file is larger than ${megabytes} MB; a file of at most ${megabytes} MB is accepted.`,
  standardInputTwice: '- was given twice; standard input can be read once.',
  stepLarger: (megabytes: string) =>
    `The STEP file is larger than ${megabytes} MB; at most ${megabytes} MB is accepted.`,
  stepTooLarge: (megabytes: string, most: string) =>
    `The STEP file is ${megabytes} MB; at most ${most} MB is accepted.`,
  notStep:
    'Standard input does not begin with ISO-10303-21; a STEP file (AP203, AP214 or AP242) is accepted.',
  drawingNoFile: 'this is no file; a DXF drawing is accepted.',
  drawingTooLarge: (megabytes: string, most: string) =>
    `the drawing is ${megabytes} MB; give one of at most ${most} MB.`,
  unitUnknown: (unit: string, units: string) => `--units is ${unit}; give one of ${units}.`,
  unitWithoutDrawing:
    '--units is the unit of a drawing, and the plan of this tray is not taken from one; leave --units out.',
  unitTwice: (unit: string, own: string) =>
    `--units is ${unit}, but plan.units of the tray file is ${own}; leave one of them out.`,
  drawingOfRow: 'rows take the drawing of their base; give one base a drawing.',
  baseNotObject: 'The base tray is not a JSON object; give a tray file.',
  measurementsTooLarge: (megabytes: string, most: string) =>
    `The measurements file is ${megabytes} MB; one of at most ${most} MB is accepted.`,
  measurementsEmpty:
    'The measurements file is empty; give a JSON object with rimHeight, rimThickness or marks.',
  trials: {
    noName: '--keep needs a name for the trial; give --name, for example --name "June, new hammer".',
    nameAlone:
      '--name goes with --keep, or with a file of kept trials in the place of the measurements; give one of these.',
    notAgain:
      'These trials are kept already, so --keep and --person have nothing to do; leave them out, or give the measurements of a new one.',
  },
  measurementsNotJson: (fault: string) => `The measurements file is not JSON: ${fault}.`,

  // Options; `value` as it was typed, in quotes
  number: (option: string, value: string, least: string, most: string) =>
    `${option} is ${value}; a number from ${least} to ${most} is accepted.`,
  wholeNumber: (option: string, value: string, least: string, most: string) =>
    `${option} is ${value}; a whole number from ${least} to ${most} is accepted.`,
  stages: (value: string, most: string) => `--stages is ${value}; give a whole number from 1 to ${most}.`,
  oneOf: (option: string, value: string, accepted: string) =>
    `${option} is ${value}; one of ${accepted} is accepted.`,
  withoutSheet: (option: string) =>
    `${option} was given without --sheet; give the size of the stock sheet too, for example --sheet 2000x1000.`,
  sheetSize: (value: string) =>
    `--sheet is ${value}; length x width from 50 to 20000 mm is accepted, for example 2000x1000, 96x48in or 8x4ft.`,
  noQuantity: (value: string, most: string) =>
    `--quantity ${value} is not a quantity; give name=number, a whole number from 1 to ${most}.`,
  quantityOfNone: (name: string) => `--quantity names ${name}, and there is no tray of that name.`,
  outAndZip: 'Both --out and --zip were given; give one of them.',
  queueAndJobs: 'Both --queue and --jobs were given; --jobs is for the worker then.',
  noFormat: (ids: string) => `--format is empty; give one or more of ${ids}, separated by commas.`,
  noSetting: (text: string) => `--set ${text} is not a setting; give format.parameter=value.`,
  settingOfOther: (text: string, format: string, formats: string) =>
    `--set ${text} is for the format ${format}, which is not made here; give a setting of ${formats}, or name the format in --format.`,
  settingTwice: (setting: string) => `--set ${setting} was given twice; give it once.`,

  // What would be written
  batchOverwrites: (path: string) => `The batch would overwrite ${path}; give another --out or --zip.`,
  layoutOverwrites: (path: string) => `The layout would overwrite ${path}; give another --out.`,
  nameTaken: (name: string, files: string) =>
    `name is ${name}, and so it is in ${files}; give every tray of one call a name of its own.`,
  writtenTwice: (file: string, format: string, tray: string, otherFormat: string, otherTray: string) =>
    `The file ${file} would be written twice (${format} of ${tray}; ${otherFormat} of ${otherTray}); make the two in separate calls with different --out.`,
  overwritesTray: (path: string, tray: string) =>
    `The file ${path} would overwrite the tray file ${tray}; give another folder with --out.`,
  exporterFailed: (exporter: string, reason: string) =>
    `The exporter ${exporter} failed (${reason}); its module has to be corrected.`,
  exporterEnded: (exporter: string) =>
    `The exporter ${exporter} ended without an answer; its module has to be corrected: it must not end the process.`,
  exporterSilent: (exporter: string, seconds: string) =>
    `The exporter ${exporter} did not answer within ${seconds} s and was stopped; its module has to be corrected.`,
  exporterChanged: (exporter: string) =>
    `The module of the exporter ${exporter} has changed since the command began; run the command again.`,
  exporterUnsound: (exporter: string, question: string) =>
    `The exporter ${exporter} gave no sound answer to ${question}; its module has to be corrected.`,
  exporterWithoutBytes: (exporter: string) =>
    `The exporter ${exporter} returned no bytes; its module has to be corrected.`,

  // Trays
  noTrays: 'There is no tray to lay out.',
};
