/**
 * The one suite that every exporter has to pass, built-in or a third party's.
 *
 * A case is a function that throws when the exporter breaks the rule, so the suite itself can be tested with
 * exporters that are broken on purpose. A format that cannot do a thing (a table of stations has no unit to
 * declare) skips the case with a written reason.
 */
import { expect, it } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import type { Exporter, Parameter, ParameterValues } from '../../src/exporters/contract.ts';
import { createRegistry } from '../../src/exporters/registry.ts';
import type { Path } from '../../src/geometry/path.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import { loopArea, loopLength, pieces, relativeError } from './loopGeometry.ts';
import type { ReadDrawing, Reader } from './readers/readDrawing.ts';
import { concavePattern, moved, samplePattern } from './samplePattern.ts';

export interface Subject {
  readonly exporter: Exporter;
  /** Readers that are not ours; each has to find the same drawing. */
  readonly readers: Readonly<Record<string, Reader>>;
  /** How far a coordinate read back may be from the pattern's, mm: what the format's decimals allow. */
  readonly tolerance: number;
  /** Rules this format cannot keep, and why. */
  readonly skip?: Readonly<Partial<Record<string, string>>>;
}

export interface ConformanceCase {
  readonly name: string;
  readonly run: (subject: Subject) => Promise<void>;
}

export const conformanceCases: readonly ConformanceCase[] = [
  {
    name: 'is well formed',
    run: async ({ exporter }) => {
      expect(createRegistry([exporter]).list()).toEqual([exporter]);
    },
  },
  {
    name: 'writes the same bytes twice',
    run: async ({ exporter }) => {
      const [first, again] = [await sampleOf(exporter), (await fromFrozen(exporter)).bytes];
      expectSame(again, first);
    },
  },
  {
    name: 'writes the same bytes after and beside another drawing',
    run: async ({ exporter }) => {
      const first = await sampleOf(exporter);
      const [, beside] = await Promise.all([concaveOf(exporter), written(exporter, samplePattern())]);
      expectSame(beside, first);
      expectSame(await written(exporter, samplePattern()), first);
    },
  },
  {
    name: 'tells two patterns apart',
    run: async ({ exporter }) => {
      expect(Buffer.compare(await concaveOf(exporter), await sampleOf(exporter))).not.toBe(0);
    },
  },
  {
    name: 'leaves the pattern and the values unchanged',
    run: async ({ exporter }) => {
      const { before, after } = await fromFrozen(exporter);
      expect(after).toEqual(before);
    },
  },
  {
    name: 'declares millimetres',
    run: async (subject) => {
      for (const drawing of await readBack(subject, samplePattern())) expect(drawing.unit).toBe('mm');
    },
  },
  {
    name: 'keeps every loop closed',
    run: async (subject) => {
      for (const pattern of [samplePattern(), concavePattern()]) {
        for (const { loops } of await readBack(subject, pattern)) {
          expect(loops.length).toBe(1 + pattern.holes.length);
          expect(loops.every((loop) => loop.closed)).toBe(true);
        }
      }
    },
  },
  {
    name: 'keeps area and length',
    run: async (subject) => {
      for (const pattern of [samplePattern(), concavePattern()]) {
        for (const { loops } of await readBack(subject, pattern)) {
          cutPaths(pattern).forEach(({ vertices }, i) => {
            const read = loops[i]!.vertices;
            // Formats differ in which way round a loop runs.
            expect(
              relativeError(Math.abs(loopArea(read)), Math.abs(loopArea(vertices))),
              'relative error of area',
            ).toBeLessThan(1e-6);
            expect(
              relativeError(loopLength(read), loopLength(vertices)),
              'relative error of length',
            ).toBeLessThan(1e-6);
          });
        }
      }
    },
  },
  {
    name: 'keeps arcs as arcs',
    run: async (subject) => {
      for (const pattern of [samplePattern(), concavePattern()]) {
        for (const { loops } of await readBack(subject, pattern)) {
          cutPaths(pattern).forEach(({ vertices }, i) => {
            const [actual, expected] = [arcs(loops[i]!.vertices), arcs(vertices)];
            expect(actual.length, 'number of arcs').toBe(expected.length);
            expected.forEach((arc, k) => {
              expect(relativeError(actual[k]!.radius, arc.radius), 'radius').toBeLessThan(1e-6);
              expect(relativeError(actual[k]!.sweep, arc.sweep), 'sweep').toBeLessThan(1e-6);
            });
          });
        }
      }
    },
  },
  {
    name: 'turns with the pattern',
    run: async (subject) => {
      const pattern = moved(samplePattern(), 1, 1);
      for (const drawing of await readBack(subject, pattern)) {
        expectVertices(drawing, pattern, subject.tolerance);
      }
    },
  },
  ...[1e-3, 1e3].map((factor) => ({
    name: `keeps its accuracy scaled by ${factor}`,
    run: async (subject: Subject) => {
      // Not a round factor: coordinates that happen to lie on a coarse grid would prove nothing.
      const pattern = moved(samplePattern(), factor * 1.012345678, 0);
      for (const drawing of await readBack(subject, pattern)) {
        expectVertices(drawing, pattern, subject.tolerance);
      }
    },
  })),
  {
    name: 'refuses an unknown parameter and lists those it has',
    run: async ({ exporter }) => {
      const unknown = 'noSuchParameter';
      const error = await failure(async () =>
        createRegistry([exporter]).values(exporter, { [unknown]: true }),
      );
      expect(error).toBeInstanceOf(GatherpanError);
      expect((error as GatherpanError).code).toBe('BAD_INPUT');
      expect((error as GatherpanError).path).toBe(`${exporter.id}.${unknown}`);
      for (const { name } of exporter.parameters) expect((error as GatherpanError).message).toContain(name);
    },
  },
  {
    name: 'writes a readable file for every setting of every parameter',
    run: async (subject) => {
      for (const given of settings(subject.exporter)) {
        for (const drawing of await readBack(subject, samplePattern(), given)) {
          expect(drawing.loops.length, JSON.stringify(given)).toBe(2);
        }
      }
    },
  },
];

/** Registers one test a case. */
export function runConformance(subject: Subject): void {
  const known = new Set(conformanceCases.map(({ name }) => name));
  for (const [name, reason] of Object.entries(subject.skip ?? {})) {
    if (!known.has(name)) throw new Error(`cannot skip ${JSON.stringify(name)}: there is no such case`);
    if (reason === undefined || reason.trim() === '') throw new Error(`skip of ${name} needs a reason`);
  }
  for (const { name, run } of conformanceCases) {
    const reason = subject.skip?.[name];
    if (reason === undefined) it(name, () => run(subject));
    else it.skip(`${name} (skipped: ${reason})`, () => {});
  }
}

function written(
  exporter: Exporter,
  pattern: FlatPattern,
  given: Readonly<Record<string, unknown>> = {},
): Promise<Uint8Array> {
  return exporter.write(pattern, createRegistry([exporter]).values(exporter, given));
}

/** Byte for byte; `toEqual` walks over them one by one. */
const expectSame = (a: Uint8Array, b: Uint8Array): void => expect(Buffer.compare(a, b)).toBe(0);

/** What is made of an exporter once, when it is first asked for. */
function onceOf<Made>(make: (exporter: Exporter) => Promise<Made>): (exporter: Exporter) => Promise<Made> {
  const known = new WeakMap<Exporter, Promise<Made>>();
  return (exporter) => {
    const made = known.get(exporter) ?? make(exporter);
    known.set(exporter, made);
    return made;
  };
}

/** The sample as the exporter wrote it when it was first asked to. */
const sampleOf = onceOf((exporter) => written(exporter, samplePattern()));
/** The same of another drawing. */
const concaveOf = onceOf((exporter) => written(exporter, concavePattern()));
/** The sample again: frozen objects throw when written to; typed arrays cannot be frozen and are to be compared. */
const fromFrozen = onceOf(async (exporter) => {
  const given = { pattern: samplePattern(), values: createRegistry([exporter]).values(exporter, {}) };
  const before = structuredClone(given);
  const bytes = await exporter.write(deepFreeze(given.pattern), deepFreeze(given.values));
  return { bytes, before, after: structuredClone(given) };
});

/** The drawing as every reader of the subject finds it. */
async function readBack(
  { exporter, readers }: Subject,
  pattern: FlatPattern,
  given: Readonly<Record<string, unknown>> = {},
): Promise<ReadDrawing[]> {
  const bytes = await written(exporter, pattern, given);
  const all = Object.values(readers);
  expect(all.length).toBeGreaterThan(0);
  return all.map((read) => read(bytes));
}

const cutPaths = (pattern: FlatPattern): readonly Path[] => [
  pattern.outline,
  ...pattern.holes.map((hole) => hole.path),
];

/** Arcs by size, turning left or right alike: a reader may walk a loop the other way round. */
const arcs = (vertices: Path['vertices']): { radius: number; sweep: number }[] =>
  pieces(vertices)
    .filter((piece) => piece.sweep !== 0)
    .map(({ radius, sweep }) => ({ radius, sweep: Math.abs(sweep) }))
    .sort((a, b) => a.radius - b.radius || a.sweep - b.sweep);

/** Every vertex of the pattern is found in the loop read, and the loop has no others. */
function expectVertices(drawing: ReadDrawing, pattern: FlatPattern, tolerance: number): void {
  cutPaths(pattern).forEach(({ vertices }, i) => {
    const read = drawing.loops[i]?.vertices ?? [];
    expect(read.length).toBe(vertices.length);
    for (const { x, y } of vertices) {
      const nearest = Math.min(...read.map((other) => Math.hypot(other.x - x, other.y - y)));
      expect(nearest, `distance to the vertex (${x}, ${y})`).toBeLessThanOrEqual(tolerance);
    }
  });
}

/** One set of given values for each choice, both booleans and both ends of a range. */
function settings(exporter: Exporter): ParameterValues[] {
  return exporter.parameters.flatMap((parameter) =>
    extremes(parameter).map((value) => ({ [parameter.name]: value })),
  );
}

function extremes(parameter: Parameter): readonly (boolean | number | string)[] {
  switch (parameter.type) {
    case 'boolean':
      return [true, false];
    case 'number':
      return [parameter.minimum, parameter.maximum];
    case 'choice':
      return parameter.choices;
    case 'list':
      return ['', ...parameter.choices, parameter.usual, parameter.choices.join(', ')];
  }
}

async function failure(act: () => Promise<unknown>): Promise<unknown> {
  try {
    await act();
  } catch (error) {
    return error;
  }
  return undefined;
}

function deepFreeze<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !ArrayBuffer.isView(value)) {
    Object.values(value).forEach(deepFreeze);
    Object.freeze(value);
  }
  return value;
}
