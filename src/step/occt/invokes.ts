/**
 * The kernel's calls under the eye of a `catch`, without the way through JavaScript.
 *
 * Each call of C++ that may be thrown out of goes through a function of the loader (Emscripten's `invoke_…`), which looks
 * the callee up in the kernel's table, calls it in a `try` and tells the kernel what was caught: from WebAssembly to
 * JavaScript and back, millions of times for a part, a third of all the time. Here the same functions are made in
 * WebAssembly. What the kernel throws is thrown to them as an exception of their own kind; whatever else is thrown passes
 * through them, as it does through the loader's.
 */

/** What the types of Node leave out. */
interface Table {
  set(place: number, value: unknown): void;
}
const { Table, Tag, Exception } = WebAssembly as unknown as {
  readonly Table: new (of: { initial: number; element: 'anyfunc' }) => Table;
  readonly Tag: new (of: { parameters: readonly string[] }) => object;
  readonly Exception: new (tag: object, values: readonly number[]) => object;
};

type Imported = (...values: number[]) => unknown;
type Imports = Record<string, Imported>;

/** `invoke_`, what comes back (v nothing, i and j whole numbers of 32 and 64 bits, f and d others), and what goes in. */
const INVOKE = /^invoke_([vifd])([ijfd]*)$/;
/** The loader's functions that throw for the kernel: a number, a place of its memory, or this word. */
const THROWS = new Set(['___cxa_throw', '___cxa_rethrow', '___resumeException', '_emscripten_longjmp']);
const JUMP = 'longjmp';

/** What the loader's functions call of the kernel: save the place of the stack, restore it, tell that there was a throw. */
const OWN = ['stackSave', 'stackRestore', '_setThrew'];

/**
 * Replaces those functions among the kernel's imports.
 *
 * @returns to be given the kernel's exports by the loader's names for them, before the kernel is used
 */
export function invokeInside(imports: WebAssembly.Imports): (exported: (name: string) => unknown) => void {
  const names = new Set<string>();
  const tag = new Tag({ parameters: [] });
  let table: unknown;
  const all = Object.values(imports) as Imports[];
  for (const functions of all) {
    for (const [key, imported] of Object.entries(functions)) {
      if (imported instanceof Table) table = imported;
      else if (INVOKE.test(imported.name)) names.add(imported.name);
      else if (THROWS.has(imported.name)) functions[key] = throwing(imported, tag);
    }
  }
  const own = new Table({ initial: OWN.length, element: 'anyfunc' });
  const { exports } = new WebAssembly.Instance(new WebAssembly.Module(moduleOf([...names])), {
    e: { table, own, tag } as unknown as WebAssembly.Imports[string],
  });
  for (const functions of all) {
    for (const [key, { name }] of Object.entries(functions)) {
      if (names.has(name)) functions[key] = exports[name] as Imported;
    }
  }
  return (exported) => {
    for (const [i, name] of OWN.entries()) own.set(i, exported(name));
  };
}

function throwing(imported: Imported, tag: object): Imported {
  return (...values) => {
    try {
      return imported(...values);
    } catch (error) {
      throw typeof error === 'number' || error === JUMP ? new Exception(tag, []) : error;
    }
  };
}

// The module, as the core specification 1.0 writes it, with tables and exceptions of its proposals.

const TYPES: Readonly<Record<string, number>> = { i: 0x7f, j: 0x7e, f: 0x7d, d: 0x7c };
const ZERO: Readonly<Record<string, readonly number[]>> = {
  v: [],
  i: [0x41, 0],
  f: [0x43, 0, 0, 0, 0],
  d: [0x44, 0, 0, 0, 0, 0, 0, 0, 0],
};
const FUNCREF = 0x70;
const [END, GET, SET] = [0x0b, 0x20, 0x21];

/** LEB128 */
function unsigned(value: number): number[] {
  const out: number[] = [];
  let rest = value;
  for (; rest > 127; rest = Math.floor(rest / 128)) out.push((rest % 128) | 128);
  return [...out, rest];
}
const sized = (bytes: readonly number[]): number[] => [...unsigned(bytes.length), ...bytes];
/** Its head, and the items as they are. */
function section(id: number, items: readonly (readonly number[])[]): (readonly number[])[] {
  const count = unsigned(items.length);
  const size = items.reduce((sum, item) => sum + item.length, count.length);
  return [[id, ...unsigned(size), ...count], ...items];
}
const text = (value: string): number[] => sized([...value].map((letter) => letter.charCodeAt(0)));

function moduleOf(names: readonly string[]): Uint8Array<ArrayBuffer> {
  const types: number[][] = [];
  const known = new Map<string, number>();
  /** Number of a type of function. */
  const type = (back: string, into: string): number => {
    const key = `${back} ${into}`;
    const found = known.get(key);
    if (found !== undefined) return found;
    const values = (letters: string): number[] => sized([...letters].map((letter) => TYPES[letter]!));
    known.set(key, types.length);
    return types.push([0x60, ...values(into), ...values(back === 'v' ? '' : back)]) - 1;
  };
  const call = (back: string, into: string, table: 0 | 1): number[] => [
    0x11,
    ...unsigned(type(back, into)),
    table,
  ];
  const own = (place: number, back: string, into: string): number[] => [0x41, place, ...call(back, into, 1)];
  const nothing = type('v', '');
  const functions = names.map((name) => {
    const [, back, into] = INVOKE.exec(name) as unknown as [string, string, string];
    // A number of 64 bits comes as its lower and its upper half.
    const split = `i${into.replaceAll('j', 'ii')}`;
    let next = 1;
    const given = [...into].flatMap((letter) => {
      const one = [GET, ...unsigned(next++)];
      return letter === 'j' ? [...one, 0xad, GET, ...unsigned(next++), 0xad, 0x42, 32, 0x86, 0x84] : one;
    });
    const before = unsigned(split.length);
    const body = [
      ...[1, 1, TYPES.i!],
      ...own(0, 'i', ''),
      ...[SET, ...before],
      ...[0x06, back === 'v' ? 0x40 : TYPES[back]!],
      ...given,
      ...[GET, 0],
      ...call(back, into, 0),
      // catch
      ...[0x07, 0],
      ...[GET, ...before],
      ...own(1, 'v', 'i'),
      ...[0x41, 1, 0x41, 0],
      ...own(2, 'v', 'ii'),
      ...ZERO[back]!,
      END,
      END,
    ];
    return { name, type: type(back, split), body };
  });
  const imported = (name: string, kind: readonly number[]): number[] => [
    ...text('e'),
    ...text(name),
    ...kind,
  ];
  const pieces = [
    [0, 0x61, 0x73, 0x6d, 1, 0, 0, 0],
    ...section(1, types),
    ...section(2, [
      imported('table', [1, FUNCREF, 0, 0]),
      imported('own', [1, FUNCREF, 0, OWN.length]),
      imported('tag', [4, 0, ...unsigned(nothing)]),
    ]),
    ...section(
      3,
      functions.map((one) => unsigned(one.type)),
    ),
    ...section(
      7,
      functions.map(({ name }, i) => [...text(name), 0, ...unsigned(i)]),
    ),
    ...section(
      10,
      functions.map(({ body }) => sized(body)),
    ),
  ];
  const bytes = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    bytes.set(piece, at);
    at += piece.length;
  }
  return bytes;
}
