/** What is wrong with tables and families of trays, with what is made of them, and with files on the disk. */
export const batch = {
  // Where a tray stands. A place leads a sentence, or stands in one.
  line: (line: string) => `line ${line}`,
  row: (row: string) => `row ${row}`,
  rowWith: (row: string, values: string) => `row ${row} (${values})`,
  andMore: (places: string, count: string) => `${places} and ${count} more`,
  atLine: (line: string, sentence: string) => `Line ${line}: ${sentence}`,
  atCell: (line: string, column: string, sentence: string) => `Line ${line}, column ${column}: ${sentence}`,
  atRow: (row: string, sentence: string) => `Row ${row}: ${sentence}`,
  atRowWith: (row: string, values: string, sentence: string) => `Row ${row} (${values}): ${sentence}`,

  // A table
  csv: {
    empty: 'The CSV file is empty; give a header with the names of tray fields.',
    noRows: 'The CSV file has a header but no rows; give one tray a line.',
    tooManyRows: (rows: string, most: string) =>
      `The CSV file has ${rows} rows; at most ${most} are accepted.`,
    unreadable: (reason: string) => `The CSV file cannot be read: ${reason}.`,
    unreadableNear: (line: string, reason: string) =>
      `The CSV file cannot be read near line ${line}: ${reason}.`,
    quoteNotClosed: 'a quotation mark is not closed',
    quoteWithin: 'a quotation mark stands in a cell that does not begin with one',
    behindQuote: 'something stands between the closing quotation mark of a cell and the separator',
    noName: 'the header has no name; give a dotted tray key.',
    unknown: (key: string) => `${key} is not a field of the tray file.`,
    unknownNear: (key: string, near: string) =>
      `${key} is not a field of the tray file; did you mean ${near}?`,
    twice: (key: string, column: string) => `${key} is also column ${column}; give it once.`,
    tooManyCells: (cells: string, columns: string) =>
      `the line has ${cells} cells and the header ${columns}; give as many, a cell with the separator in it in quotation marks.`,
  },
  quantity: (value: string, most: string) => `quantity is ${value}; give a whole number from 1 to ${most}.`,

  // A family
  family: {
    file: (value: string, give: string) => `The batch file is ${value}; give ${give}.`,
    notJson: (fault: string) => `The batch file is not JSON: ${fault}.`,
    noTrays: 'The batch file has no trays; give a list trays or an object ranges.',
    tooManyTrays: (count: string, most: string) =>
      `The batch file asks for ${count} trays; at most ${most} are accepted.`,
    unknown: (key: string) => `ranges: ${key} is not a field of the tray file.`,
    unknownNear: (key: string, near: string) =>
      `ranges: ${key} is not a field of the tray file; did you mean ${near}?`,
    downwards: (key: string, from: string, to: string) =>
      `ranges: ${key} runs from ${from} to ${to}, which is downwards; give the smaller value first.`,
    /** Noun phrases, what would be accepted. */
    accepted: {
      number: 'a number',
      numberAboveZero: 'a number above 0',
      wholeNumber: 'a whole number',
      atLeastTwo: 'at least 2',
      fullList: 'a list with at least one value',
      steps: 'a list of values, or an object with from, to and step, or with from, to and count',
      quantity: (most: string) => `a whole number from 1 to ${most}`,
      tray: 'an object with fields of a tray file',
      name: 'a name, with keys in braces where values shall stand',
      ranges: 'an object with a range for each dotted key',
      trays: 'a list of trays',
      family: 'an object with trays or ranges',
    },
  },

  // Names
  neitherCsvNorJson: (file: string) =>
    `${file} is neither .csv nor .json; give a batch file of one of the two.`,
  nameTwice: (name: string, places: string) =>
    `name ${name} is given more than once (${places}); give every tray a name of its own.`,

  // On the way
  jobs: (value: string, most: string) => `--jobs is ${value}; a whole number from 1 to ${most} is accepted.`,
  stopped: (done: string, total: string) =>
    `Stopped after ${done} of ${total} trays; the same command with --resume goes on from there.`,
  /** The folder holds what is made of an archive that is not whole. */
  stoppedArchive: (done: string, total: string, folder: string) =>
    `Stopped after ${done} of ${total} trays; their files lie in ${folder}. The same command with --resume goes on from there; delete the folder if you do not want to go on.`,
  archiveStopped: (folder: string) =>
    `Stopped before the archive was complete; its files lie in ${folder}. The same command with --resume packs them; delete the folder if you do not want to go on.`,
  fault: (reason: string) => `gatherpan itself failed (${reason}); please report it with the tray.`,

  // The queue
  queue: {
    noAddress: '--queue is not an address; one like redis://localhost:6379 is accepted.',
    notReached: (address: string, reason: string) =>
      `The queue at ${address} cannot be reached (${reason}); start its server, or leave --queue out.`,
    noAnswer: 'no answer',
    gaveUp: (reason: string) => `A worker on the queue did not take a chunk: ${reason}`,
    noReason: 'no reason',
    otherProgram: 'the batch comes from another version of gatherpan than this worker; run the same.',
    noFormat: (format: string) =>
      `this worker does not have the format ${format}; start it with the same --exporter as the batch.`,
    otherModule: (format: string) =>
      `this worker has the format ${format} from another state of its module than the batch; give both the same and start both again.`,
    noResults: (first: string, last: string, reason: string) =>
      `What a worker on the queue returned for rows ${first} to ${last} was refused: ${reason}. Nothing of it was written.`,
    noChunk: (reason: string) => `A chunk on the queue was refused: ${reason}.`,
    /** Clauses that end the two sentences above. */
    reasons: {
      form: 'it has not the form of such a message',
      packing: 'it cannot be unpacked, or is too large',
      program: 'it comes from another version of gatherpan',
      rows: 'it is about other rows than were asked for',
      files: 'its files have not the names that were asked for',
      bytes: 'a file has not the size or the hash that is given with it',
      tray: 'a row is no complete tray',
    },
  },

  // Where a batch writes
  inUse: (target: string, process: string, host: string, lock: string) =>
    `Another run is writing to ${target} (process ${process} on ${host}); wait until it has ended, or give another place. If no such run is there any more, delete ${lock}.`,
  inUseUnknown: (target: string, lock: string) =>
    `Another run is writing to ${target}; wait until it has ended, or give another place. If no such run is there any more, delete ${lock}.`,
  journalIsNoFile: (path: string) =>
    `${path} is a link or a folder, and the journal of a batch has to be a file of its own; move it away, or give another place.`,
  journalOfOthers: (path: string) =>
    `${path} is not the journal of a batch; move it away, or give another place.`,
  journalOfOtherProgram: (path: string) =>
    `${path} was written by another version of gatherpan, which may give other files; leave out --resume to make everything anew.`,

  archiveIsNoFile: (path: string) =>
    `${path} is there already and is not a file; give another name for the archive.`,

  // Files on the disk
  trayNotRead: (reason: string) => `The tray file cannot be read: ${reason}.`,
  notWritten: (path: string, reason: string) => `${path} cannot be written: ${reason}.`,
  /** Clauses that end the two sentences above, by the code of POSIX.1-2017, errno.h. */
  reasons: {
    ENOENT: 'there is no such file or folder',
    EACCES: 'permission is refused',
    EPERM: 'permission is refused',
    EROFS: 'the disk can only be read',
    EISDIR: 'there is a folder of that name',
    ENOTDIR: 'a file stands where a folder is needed',
    EEXIST: 'a file stands where a folder is needed',
    ENOSPC: 'the disk is full',
    EDQUOT: 'the quota of disk space is used up',
    EMFILE: 'too many files are open',
    ENAMETOOLONG: 'the name is too long',
    ELOOP: 'links lead in a circle',
  },
  otherReason: (code: string) => `the system reports ${code}`,
};
