/** Names that lead nowhere but into the folder they are used in. */

/**
 * Whether a name is that of a file in a folder and of nothing else, on every system: no folder before it, no
 * way to one above, nothing that does not show, no name of a device.
 */
export const isPlainFileName = (name: string): boolean =>
  name.length > 0 &&
  name.length <= 200 &&
  !/[/\\:*?"<>|\p{C}]/u.test(name) &&
  !/^[.\s]|[.\s]$|\.\./u.test(name) &&
  // Source: Microsoft, "Naming Files, Paths, and Namespaces".
  !/^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i.test(name);
