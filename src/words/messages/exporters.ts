/**
 * What is wrong with the setting of a format, with an exporter of a third party, or with what is to be written.
 *
 * Where a parameter is called `accepted` it is one of the noun phrases of the table.
 */
export const exporters = {
  stepCoordinate: (coordinate: string) =>
    `The STEP file cannot be written: a coordinate is ${coordinate}; a finite number below 1e9 is needed.`,

  // Settings
  settingRefused: (field: string, value: string, accepted: string) =>
    `${field} is ${value}; ${accepted} is accepted.`,
  settingsNone: (field: string, exporter: string) =>
    `${field} is not known; the exporter ${exporter} has no parameters.`,
  settingUnknown: (field: string, exporter: string, known: string) =>
    `${field} is not known; the exporter ${exporter} accepts ${known}.`,
  settingNear: (field: string, near: string, exporter: string, known: string) =>
    `${field} is not known (the nearest is ${near}); the exporter ${exporter} accepts ${known}.`,
  accepted: {
    trueOrFalse: 'true or false',
    range: (least: string, most: string) => `a number from ${least} to ${most}`,
    rangeOf: (least: string, most: string, unit: string) => `a number from ${least} to ${most} ${unit}`,
    oneOf: (choices: string) => `one of ${choices}`,
    anyOf: (choices: string) => `a list, separated by commas, of ${choices}`,
  },
  /** Settings of version 0.1, and what has taken their place. */
  earlier: {
    cutOnly: (names: string) =>
      `This version still takes ${names} from version 0.1; the next will not. Leave it out: the drawing holds the cut alone unless dxf.marks asks for more.`,
    marks: (names: string, instead: string) =>
      `This version still takes ${names} from version 0.1; the next will not. Write ${instead} instead.`,
    outside: (names: string, instead: string) =>
      `This version still takes ${names} from version 0.1; the next will not. Write ${instead} instead; the text then stands on the blank.`,
    besideMarks: (names: string) =>
      `${names} is from version 0.1, and dxf.marks has taken its place; give dxf.marks alone.`,
  },
  /** A value found, where it is not a text or a number. */
  found: {
    list: 'a list',
    object: 'of type object',
    function: 'of type function',
    undefined: 'of type undefined',
    bigint: 'of type bigint',
    symbol: 'of type symbol',
  },

  // Formats by name
  formatsNone: (format: string) => `The format ${format} is not known; no exporter is registered.`,
  formatUnknown: (format: string, known: string) =>
    `The format ${format} is not known; one of ${known} is accepted.`,
  formatOfSeveral: (format: string, some: string) =>
    `The format ${format} is not known; give one of ${some}.`,
  formatNear: (format: string, near: string, known: string) =>
    `The format ${format} is not known (the nearest is ${near}); one of ${known} is accepted.`,
  sameId: (id: string, label: string, otherLabel: string) =>
    `Two exporters have the id ${id} (${label}; ${otherLabel}); every exporter needs an id of its own.`,

  /** An exporter that does not keep to the contract; `exporter` is one of the first two. */
  contract: {
    exporter: (exporter: string) => `Exporter ${exporter}`,
    parameter: (exporter: string, parameter: string) => `${exporter}: parameter ${parameter}`,
    notExporter: (exporter: string, value: string) =>
      `${exporter} is ${value}; an exporter object is accepted.`,
    notParameter: (exporter: string, value: string) =>
      `${exporter} is ${value}; a parameter object is accepted.`,
    otherVersion: (exporter: string, contract: string, own: string) =>
      `${exporter} is written for version ${contract} of the exporters' contract, and this program has version ${own} (of 0.1 it was 1); see in the README what changed, and state contract: ${own}.`,
    sameParameter: (exporter: string, name: string) =>
      `${exporter} has two parameters called ${name}; every parameter needs a name of its own.`,
    absent: (exporter: string, property: string, accepted: string) =>
      `${exporter} has no ${property}; ${accepted} is accepted.`,
    refused: (exporter: string, property: string, value: string, accepted: string) =>
      `${exporter}: ${property} is ${value}; ${accepted} is accepted.`,
    accepted: {
      id: 'lower-case letters, digits and hyphens, a letter first',
      label: 'a text that is not empty',
      extension: 'lower-case letters, digits and single dots between them, without the leading dot,',
      mediaType: 'a media type such as text/plain',
      parameters: 'a list, which may be empty,',
      write: 'a function',
      name: 'letters and digits, a letter first',
      help: 'a text that is not empty',
      minimum: 'a finite number',
      maximum: 'a finite number',
      unit: 'a text, which may be empty,',
      choices: 'a list of different texts, none of them empty (nor with a comma or a space, for a list),',
      type: 'one of boolean, number, choice, list',
      default: 'a value that the parameter itself accepts',
      usual: 'a value that the parameter itself accepts',
      extensionFor: 'a function',
      leadsTo: 'a function',
      earlier: 'an object with a list of parameters and a function instead',
    },
  },

  // Modules
  exportsNone: (module: string) =>
    `The module ${module} exports no exporter; a default export or an export named exporter is accepted, one exporter or a list.`,
  exportsEmpty: (module: string) =>
    `The module ${module} exports an empty list; at least one exporter is needed.`,
  inModule: (module: string, fault: string) => `In the module ${module}: ${fault}`,
  moduleNotFound: (module: string) =>
    `The exporter module ${module} was not found; the path of a JavaScript file or the name of an installed package is accepted.`,
  notInstalled: (name: string) =>
    `The exporter package ${name} is not installed; the name of an installed package or a path that begins with ./ is accepted.`,
  notInstalledButFile: (name: string, path: string) =>
    `The exporter package ${name} is not installed (for the file in this folder write ${path}); the name of an installed package or a path that begins with ./ is accepted.`,
  notRun: (module: string, reason: string) => `The exporter module ${module} could not be run: ${reason}`,

  // What is to be written
  notFinite: (key: string, value: string) =>
    `The report cannot be written: ${key} is ${value}; a finite number is needed.`,
  shape: (layer: string, kind: string, number: string) => `Layer ${layer}, ${kind} ${number}`,
  vertex: (shape: string, vertex: string) => `${shape}, vertex ${vertex}`,
  fewVertices: (shape: string, vertices: string) =>
    `${shape} has ${vertices} vertices; at least two are needed to draw it.`,
  coordinate: (shape: string, name: string, value: string, most: string) =>
    `${shape}: ${name} is ${value}; a number between -${most} and ${most} is needed.`,
  partIsFinished:
    'The tray came from a STEP part that was solved as it is: that part is the finished tray already; leave formed-step out.',
};
