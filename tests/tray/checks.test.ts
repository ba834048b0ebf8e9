/** How the numbers of a tray fit together, against the geometry done here on its own. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Fault, GatherpanError } from '../../src/errors.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { runs } from '../support/long.ts';
import { orRefusal, refusal } from '../support/refusal.ts';
import { changed, onlyFault } from './trayFiles.ts';

describe('numbers that do not fit together', () => {
  const cases: readonly [what: string, changes: Record<string, unknown>, message: string][] = [
    [
      'plan radius below the bottom radius',
      { 'plan.cornerRadius': 20 },
      'plan.cornerRadius is 20 mm, smaller than section.bottomRadius of 22 mm, and a corner cannot be tighter than its bend; give a corner radius of at least 22 mm or a bottom radius of at most 20 mm.',
    ],
    [
      'one of four plan radii below the bottom radius',
      { 'plan.cornerRadius': [45, 45, 21.5, 45] },
      'plan.cornerRadius.2 (corner C) is 21.5 mm, smaller than section.bottomRadius of 22 mm, and a corner cannot be tighter than its bend; give a corner radius of at least 22 mm or a bottom radius of at most 21.5 mm.',
    ],
    [
      'plan radius over half the width',
      { 'plan.cornerRadius': 150 },
      'plan.cornerRadius is 150 mm, more than half the width of 280 mm; give at most 140 mm.',
    ],
    [
      'plan radius over half the length of a plan that is wider than long',
      { plan: { length: 200, width: 280, cornerRadius: 120 } },
      'plan.cornerRadius is 120 mm, more than half the length of 200 mm; give at most 100 mm.',
    ],
    [
      'two plan radii over the side they share',
      { 'plan.cornerRadius': [100, 200, 90, 45] },
      'plan.cornerRadius.1 (corner B) and plan.cornerRadius.2 (corner C) add up to 290 mm, more than the width of 280 mm they share; give radii that add up to at most 280 mm.',
    ],
    [
      'bottom radius over half the width',
      { 'section.bottomRadius': 200, 'section.height': 200 },
      'section.bottomRadius is 200 mm, more than half the plan width of 280 mm; give at most 140 mm.',
    ],
    [
      'height below the bottom radius',
      { 'section.height': 11 },
      'section.height is 11 mm, below the end of the bend with section.bottomRadius 22 mm, so the wall would only turn up to 60.0 degrees and not upright; give a height of at least 22 mm or a bottom radius of at most 11 mm.',
    ],
    [
      'thickness over the inside radius, measured outside',
      { 'section.bottomRadius': 3, 'sheet.thickness': 2 },
      'sheet.thickness is 2 mm, but section.bottomRadius of 3 mm measured outside leaves an inside radius of only 1 mm, and the inside radius must not be smaller than the thickness; give a thickness of at most 1.5 mm or a bottom radius of at least 4 mm.',
    ],
    [
      'thickness over the bottom radius itself, measured outside',
      { 'section.bottomRadius': 3, 'sheet.thickness': 4 },
      'sheet.thickness is 4 mm, but section.bottomRadius of 3 mm measured outside leaves no inside radius, and the inside radius must not be smaller than the thickness; give a thickness of at most 1.5 mm or a bottom radius of at least 8 mm.',
    ],
    [
      'thickness over the inside radius, measured inside',
      { measured: 'inside', 'section.bottomRadius': 3, 'sheet.thickness': 4 },
      'sheet.thickness is 4 mm, but the inside radius is only 3 mm, and the inside radius must not be smaller than the thickness; give a thickness of at most 3 mm or a bottom radius of at least 4 mm.',
    ],
  ];
  test.each(cases)('%s', (_, changes, message) => {
    expect(onlyFault(changed(changes)).message).toBe(message);
  });

  test('several at once are all told', () => {
    const error = refusal(() => readTray(changed({ 'plan.cornerRadius': 20, 'section.height': 10 })));
    expect(error.faults.map((fault) => fault.path)).toEqual(['plan.cornerRadius', 'section.height']);
  });

  test.each([
    ['plan radius = bottom radius', { 'plan.cornerRadius': 22 }],
    ['height = bottom radius', { 'section.height': 22 }],
    ['plan radius = half the width', { 'plan.cornerRadius': 140 }],
    ['radii that use up a side', { 'plan.cornerRadius': [100, 180, 100, 180] }],
    ['thickness = inside radius', { 'section.bottomRadius': 4, 'sheet.thickness': 2 }],
    [
      'a full round of 0.7 in, which no binary number is',
      {
        units: 'in',
        plan: { length: 3, width: 1.4, cornerRadius: 0.7 },
        section: { bottomRadius: 0.7, height: 0.7 },
        'sheet.thickness': 0.04,
      },
    ],
  ])('the limit itself is accepted: %s', (_, changes) => {
    expect(() => readTray(changed(changes))).not.toThrow();
  });
});

/**
 * Where the bend begins and how far it rises, measured on a finely divided arc instead of by formula: an
 * edge of radius r laid against the base plane and against a wall that leans out by `draft` degrees.
 */
function bendByConstruction(r: number, draft: number): { setback: number; rise: number } {
  const lean = (draft * Math.PI) / 180;
  // Centre at distance r above the base and r inside the wall; the wall passes through the origin.
  const wall = { x: Math.sin(lean), y: Math.cos(lean) };
  const normal = { x: -wall.y, y: wall.x }; // to the inside
  // Solve |centre · normal| = r with centre.y = r.
  const centreX = (r - r * normal.y) / normal.x;
  const foot = { x: centreX - r * normal.x, y: r - r * normal.y };
  return { setback: -centreX, rise: foot.y };
}

describe('draft', () => {
  const draft = fc.double({ min: 0, max: 30, noNaN: true });
  const radius = fc.double({ min: 2, max: 100, noNaN: true });
  const margin = fc.double({ min: 1e-4, max: 0.5, noNaN: true });

  const file = (changes: Record<string, unknown>): unknown =>
    changed({ plan: { length: 1000, width: 900, cornerRadius: 300 }, 'sheet.thickness': 0.5, ...changes });
  const accepted = (changes: Record<string, unknown>): boolean =>
    !(orRefusal(() => readTray(file(changes))) instanceof GatherpanError);

  test('moves the smallest plan radius with the tangent length of the bend', () => {
    fc.assert(
      fc.property(draft, radius, margin, (lean, r, share) => {
        const { setback } = bendByConstruction(r, lean);
        const section = { bottomRadius: r, height: 300, draft: lean };
        expect(accepted({ section, 'plan.cornerRadius': Math.max(0.5, setback * (1 + share)) })).toBe(true);
        expect(accepted({ section, 'plan.cornerRadius': setback * (1 - share) })).toBe(false);
      }),
      { seed: 2, numRuns: runs(300) },
    );
  });

  test('moves the smallest height with the rise of the bend', () => {
    fc.assert(
      fc.property(draft, radius, margin, (lean, r, share) => {
        const { rise } = bendByConstruction(r, lean);
        const section = { bottomRadius: r, draft: lean };
        expect(accepted({ section: { ...section, height: Math.max(1, rise * (1 + share)) } })).toBe(true);
        expect(accepted({ section: { ...section, height: Math.max(1, rise) * (1 - share) } })).toBe(false);
      }),
      { seed: 3, numRuns: runs(300) },
    );
  });

  test('lets the bends of both sides meet in the middle of the plan and no further', () => {
    fc.assert(
      fc.property(draft, fc.double({ min: 40, max: 400, noNaN: true }), margin, (lean, width, share) => {
        const { setback } = bendByConstruction(1, lean);
        const widest = width / 2 / setback;
        const plan = { length: 1000, width, cornerRadius: width / 2 };
        const section = (bottomRadius: number) => ({ bottomRadius, height: 2000, draft: lean });
        expect(accepted({ plan, section: section(widest * (1 - share)) })).toBe(true);
        const error = refusal(() => readTray(file({ plan, section: section(widest * (1 + share)) })));
        expect(error.path).toBe('section.bottomRadius');
      }),
      { seed: 4, numRuns: runs(300) },
    );
  });
});

describe('what a sentence says to give instead', () => {
  const draft = fc.constantFrom(0, 5, 12.5, 30);
  const units = fc.constantFrom('mm', 'in');

  test('is accepted, for every number named', () => {
    let tried = 0;
    fc.assert(
      fc.property(
        units,
        fc.constantFrom('outside', 'inside'),
        draft,
        fc.double({ min: 0.5, max: 160, noNaN: true }),
        fc.double({ min: 1, max: 200, noNaN: true }),
        fc.double({ min: 0.2, max: 10, noNaN: true }),
        fc.double({ min: 0.5, max: 160, noNaN: true }),
        (unit, measured, lean, bottomRadius, height, thickness, cornerRadius) => {
          const scale = unit === 'mm' ? 1 : 1 / 25.4;
          const tray = changed({
            units: unit,
            measured,
            plan: { length: 420 * scale, width: 280 * scale, cornerRadius: cornerRadius * scale },
            section: { bottomRadius: bottomRadius * scale, height: height * scale, draft: lean },
            'sheet.thickness': thickness * scale,
          });
          let error: GatherpanError;
          try {
            readTray(tray);
            return;
          } catch (caught) {
            error = caught as GatherpanError;
          }
          for (const { path, message } of error.faults) {
            for (const [, what, value] of message.matchAll(
              /(?:give|or) (?:a |an )?([a-z ]*?)(?: of)? ?at (?:most|least) ([\d.]+)/g,
            )) {
              const field = FIELDS[what!.trim()] ?? path;
              const remedy = changed({ [field]: Number(value) }, tray as object);
              // The remedy may uncover another fault, but it must cure this one.
              const after = faults(remedy).map((fault) => kind(fault));
              expect(after).not.toContain(kind({ path, message }));
              tried++;
            }
          }
        },
      ),
      { seed: 5, numRuns: runs(500) },
    );
    expect(tried).toBeGreaterThan(200);
  });

  const FIELDS: Record<string, string> = {
    'plan radius': 'plan.cornerRadius',
    'bottom radius': 'section.bottomRadius',
    height: 'section.height',
    thickness: 'sheet.thickness',
  };

  function faults(tray: unknown): readonly Fault[] {
    try {
      readTray(tray);
      return [];
    } catch (error) {
      return (error as GatherpanError).faults;
    }
  }

  /** What is wrong and where, numbers aside. */
  const kind = ({ path, message }: Fault): string => `${path}: ${message.replace(/[\d.]+/g, '#')}`;
});

describe('polygons', () => {
  const polygon = (...corners: readonly (readonly [number, number, number?])[]): unknown =>
    changed({ plan: { vertices: corners.map(([x, y, radius = 25]) => ({ x, y, radius })) } });

  test.each([
    ['triangle', polygon([0, 0], [300, 0], [150, 260])],
    ['rectangle anywhere', polygon([100, 50], [400, 50], [400, 250], [100, 250])],
    [
      'with radii that use up every side',
      polygon([0, 0, 100], [200, 0, 100], [200, 200, 100], [0, 200, 100]),
    ],
  ])('accepted: %s', (_, file) => {
    expect(() => readTray(file)).not.toThrow();
  });

  test.each([
    [
      'clockwise',
      polygon([0, 0], [0, 200], [200, 200], [200, 0]),
      /plan\.vertices runs clockwise; give the vertices counter-clockwise/,
    ],
    [
      'crossing itself',
      polygon([0, 0], [300, 300], [300, 0], [0, 300]),
      /plan\.vertices crosses itself: side A–B meets side C–D/,
    ],
    [
      'five-pointed star',
      polygon(
        ...[0, 1, 2, 3, 4].map((i): [number, number] => [
          200 * Math.cos((i * 4 * Math.PI) / 5),
          200 * Math.sin((i * 4 * Math.PI) / 5),
        ]),
      ),
      /crosses itself/,
    ],
    ['folding back on itself', polygon([0, 0], [300, 0], [100, 0], [100, 200]), /crosses itself/],
    ['touching itself', polygon([0, 0], [400, 0], [400, 300], [200, 0], [0, 300]), /crosses itself/],
    [
      'first vertex repeated',
      polygon([0, 0], [300, 0], [300, 300], [0, 0]),
      /plan\.vertices\.3 \(corner D\) is at the same place as plan\.vertices\.0/,
    ],
    [
      'a vertex on a straight side',
      polygon([0, 0], [150, 0], [300, 0], [300, 300], [0, 300]),
      /plan\.vertices\.1 \(corner B\) lies on a straight side/,
    ],
    [
      'arcs longer than a side',
      polygon([0, 0, 60], [100, 0, 60], [100, 400], [0, 400]),
      /plan\.vertices\.0\.radius \(corner A\) is 60 mm and plan\.vertices\.1\.radius \(corner B\) is 60 mm, which take 120 mm of the side between them, but it is 100 mm long/,
    ],
    [
      'a radius below the bottom radius',
      polygon([0, 0], [300, 0], [300, 300, 10], [0, 300]),
      /plan\.vertices\.2\.radius \(corner C\) is 10 mm, smaller than section\.bottomRadius/,
    ],
    [
      'too small altogether',
      polygon([0, 0, 1], [9, 0, 1], [9, 90, 1], [0, 90, 1]),
      /plan\.vertices is 9 mm wide along x; give a plan that is from 10 mm to 5000 mm/,
    ],
  ])('refused: %s', (_, file, message) => {
    expect(onlyFault(file).message).toMatch(message);
  });

  test('a rectangle and the same written as a polygon are accepted and refused alike', () => {
    const side = fc.integer({ min: 10, max: 400 });
    const radius = fc.double({ min: 1, max: 200, noNaN: true });
    fc.assert(
      fc.property(
        side,
        side,
        fc.tuple(radius, radius, radius, radius),
        fc.double({ min: 1, max: 100, noNaN: true }),
        (length, width, radii, r) => {
          const section = { bottomRadius: r, height: 150, draft: 10 };
          const common = { section, 'sheet.thickness': 0.2 };
          const [a, b] = [length / 2, width / 2];
          const vertices = [
            [a, b],
            [-a, b],
            [-a, -b],
            [a, -b],
          ].map(([x, y], i) => ({ x, y, radius: radii[i] }));
          const rectangle = changed({ ...common, plan: { length, width, cornerRadius: radii } });
          const same = changed({ ...common, plan: { vertices } });
          expect(isAccepted(rectangle)).toBe(isAccepted(same));
        },
      ),
      { seed: 6, numRuns: runs(500) },
    );
  });

  test('regular polygons with arcs up to the inscribed circle are accepted, beyond it refused', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 3, max: 60 }),
        fc.double({ min: 0, max: 7, noNaN: true }),
        (count, turned) => {
          const inscribed = 300 * Math.cos(Math.PI / count);
          const plan = (radius: number): unknown =>
            polygon(
              ...Array.from({ length: count }, (_, i): [number, number, number] => {
                const angle = turned + (2 * Math.PI * i) / count;
                return [300 * Math.cos(angle), 300 * Math.sin(angle), radius];
              }),
            );
          expect(isAccepted(plan(inscribed * (1 - 1e-6)))).toBe(true);
          expect(isAccepted(plan(inscribed * (1 + 1e-6)))).toBe(false);
        },
      ),
      { seed: 7, numRuns: runs(200) },
    );
  });

  function isAccepted(file: unknown): boolean {
    try {
      readTray(file);
      return true;
    } catch {
      return false;
    }
  }
});
