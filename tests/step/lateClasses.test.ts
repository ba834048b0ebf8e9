/** Classes of a kernel in small, whose loader is played here: what is handed to it, in which order, and when. */
import { beforeEach, expect, it } from 'vitest';
import { LateClasses } from '../../src/step/occt/lateClasses.ts';

const memory = new WebAssembly.Memory({ initial: 1 });
let free = 8;

/** Lays a text into the kernel's memory. @returns where */
function text(value: string): number {
  const at = free;
  new Uint8Array(memory.buffer).set([...value].map((letter) => letter.charCodeAt(0)).concat(0), at);
  free = Math.ceil((at + value.length + 1) / 4) * 4;
  return at;
}

/** Lays types into it. @returns their count and where they are */
function types(...list: readonly number[]): [number, number] {
  const at = free;
  new Int32Array(memory.buffer, at, list.length).set(list);
  free += 4 * list.length;
  return [list.length, at];
}

/** What the loader has been handed: kind and first type. */
let handed: string[] = [];
let occt: Record<string, unknown>;
let binders: Record<string, (...values: number[]) => void>;

/** The loader's functions are known by their names; the kernel imports them by letters. */
function loader(): Record<string, (...values: number[]) => void> {
  const named = (kind: string) =>
    Object.defineProperty(
      (...values: number[]): void => {
        handed.push(`${kind} ${values.join(' ')}`);
      },
      'name',
      { value: `__embind_register_${kind}` },
    );
  return {
    a: named('class'),
    b: named('class_constructor'),
    c: named('class_function'),
    d: named('class_class_function'),
    e: named('enum'),
  };
}

/** Registers a class as the kernel does: its type, those of pointers to it, its base and, eleventh, its name. */
function registerClass(name: string, type: number, base = 0): void {
  binders.a!(type, type + 1, type + 2, base, 0, 0, 0, 0, 0, 0, text(name), 0, 0);
}
/** The first word of a call and its first value. */
const calls = (): string[] => handed.map((call) => call.split(' ').slice(0, 2).join(' '));

beforeEach(() => {
  handed = [];
  binders = loader();
  const late = new LateClasses({ env: binders as unknown as WebAssembly.ModuleImports }, memory);
  occt = late.of({ Shape: 'shape', Face: 'face', Point: 'point', Tool: 'tool', FS: 'files' });
  registerClass('Shape', 100);
  registerClass('Face', 200, 100);
  registerClass('Point', 300);
  registerClass('Tool', 400);
  // Made from a point, by pointer; gives a face; makes a tool, of which nothing more is known.
  binders.b!(200, ...types(201, 301), 0, 0, 0);
  binders.c!(400, text('find'), ...types(202, 400), 0, 0, 0);
  binders.d!(300, text('origin'), ...types(300, 999), 0, 0, 0);
});

it('nothing is bound before it is named, and what is no class is left alone', () => {
  expect(handed).toEqual([]);
  expect(occt.FS).toBe('files');
  expect(handed).toEqual([]);
  binders.e!(7);
  expect(handed).toEqual(['enum 7']);
});

it('one that stands alone is bound alone, with its functions and all of their values', () => {
  expect(occt.Point).toBe('point');
  expect(calls()).toEqual(['class 300', 'class_class_function 300']);
  expect(handed[0]).toMatch(/^class 300 301 302 0 0 0 0 0 0 0 \d+ 0 0$/);
  expect(handed[1]!.split(' ')).toHaveLength(8);
});

it('its base, what it is made from and what its functions give are bound with it, also by pointer', () => {
  expect(occt.Face).toBe('face');
  expect(new Set(calls())).toEqual(
    new Set(['class 200', 'class_constructor 200', 'class 100', 'class 300', 'class_class_function 300']),
  );
  expect(calls()).not.toContain('class 400');
});

it('and what those need in their turn; a class comes before its own functions', () => {
  expect(occt.Tool).toBe('tool');
  expect(calls()).toHaveLength(7);
  for (const [of, own] of [
    ['class 200', 'class_constructor 200'],
    ['class 300', 'class_class_function 300'],
    ['class 400', 'class_function 400'],
  ] as const)
    expect(calls().indexOf(of)).toBeLessThan(calls().indexOf(own));
});

it('each is bound once, however often it is named or needed', () => {
  for (const name of ['Point', 'Face', 'Point', 'Tool', 'Face', 'Shape']) occt[name];
  expect(calls().sort()).toEqual([
    'class 100',
    'class 200',
    'class 300',
    'class 400',
    'class_class_function 300',
    'class_constructor 200',
    'class_function 400',
  ]);
});
