/** Plans that are no rectangles: what is accepted, what is refused, and why. */
import { describe, expect, test } from 'vitest';
import { planLoop } from '../../src/tray/planLoop.ts';
import { readTray } from '../../src/tray/readTray.ts';
import type { PolygonPlan, RectanglePlan } from '../../src/tray/spec.ts';
import { refusal } from '../support/refusal.ts';
import { changed, onlyFault, WAIST } from './trayFiles.ts';

type Corner = Record<string, number | undefined>;

const small = { 'section.bottomRadius': 10, 'section.height': 30, 'sheet.thickness': 1 };
const withPlan = (plan: object, more: Record<string, unknown> = {}): unknown =>
  changed({ ...small, plan, ...more });
const lShape = (convex: number | undefined, concave: number | undefined): Corner[] =>
  (
    [
      [0, 0],
      [300, 0],
      [300, 150],
      [150, 150],
      [150, 300],
      [0, 300],
    ] as const
  ).map(([x, y], i) => {
    const radius = i === 3 ? concave : convex;
    return { x, y, ...(radius === undefined ? {} : { radius }) };
  });
const dShape = (bulge: number, more: Corner = {}): Corner[] => [
  { x: 100, y: 0, bulge, ...more },
  { x: -100, y: 0 },
  { x: -100, y: -50, radius: 30 },
  { x: 100, y: -50, radius: 30 },
];
const circle = (radius: number): Corner[] => [
  { x: radius, y: 0, bulge: 1 },
  { x: -radius, y: 0, bulge: 1 },
];
const verticesOf = (file: unknown) => (readTray(file).plan as PolygonPlan).vertices;

describe('concave and bulged plans', () => {
  test.each([
    ['an L', lShape(20, 40)],
    ['an L with a tight inward corner, which the base rounds', lShape(20, 0.5)],
    ['a circle of two half circles', circle(60)],
    ['a circle as small as the bend', circle(10)],
    ['a D', dShape(1)],
    [
      'a D whose round side is a shallow arc with corners',
      dShape(0.4, { radius: 15 }).map((v, i) => (i === 1 ? { ...v, radius: 15 } : v)),
    ],
    [
      'a side that bulges inwards',
      dShape(-0.15, { radius: 15 }).map((v, i) => (i === 1 ? { ...v, radius: 15 } : v)),
    ],
  ])('accepted: %s', (_, vertices) => {
    const file = withPlan({ vertices });
    expect(readTray(readTray(file))).toEqual(readTray(file));
  });

  test('one radius for all goes to the corners that have none and need one', () => {
    const radii = verticesOf(
      withPlan({ vertices: dShape(1).map(({ radius: _, ...rest }) => rest), cornerRadius: 25 }),
    );
    expect(radii.map(({ radius }) => radius)).toEqual([0, 0, 25, 25]);
    const own = verticesOf(withPlan({ vertices: lShape(undefined, 40), cornerRadius: 25 }));
    expect(own.map(({ radius }) => radius)).toEqual([25, 25, 25, 40, 25, 25]);
  });

  test('a bulge rounded to four places still makes smooth joints, within a hundredth of a millimetre', () => {
    const quarter = [
      { x: 100, y: 0, bulge: 0.4142 },
      { x: 0, y: 100, bulge: 0.4142 },
      { x: -100, y: 0 },
      { x: -100, y: -50, radius: 30 },
      { x: 100, y: -50, radius: 30 },
    ];
    verticesOf(withPlan({ vertices: quarter })).forEach(({ x, y, bulge = 0 }, i) => {
      expect(Math.hypot(x - quarter[i]!.x, y - quarter[i]!.y)).toBeLessThan(0.01);
      // tan(90°/4): a quarter circle.
      expect(Math.abs(bulge - (i < 2 ? Math.tan(Math.PI / 8) : 0))).toBeLessThan(1e-5);
    });
  });

  test('a bulge too small to see is a straight side', () => {
    const [first] = verticesOf(withPlan({ vertices: lShape(20, 40).map((v) => ({ ...v, bulge: 1e-6 })) }));
    expect(first).toEqual({ x: 0, y: 0, radius: 20 });
  });

  const refused: readonly [what: string, file: unknown, message: string][] = [
    [
      'two vertices with a straight edge',
      withPlan({
        vertices: [
          { x: 50, y: 0, bulge: 1 },
          { x: -50, y: 0 },
        ],
      }),
      'plan.vertices is a list of 2; give at least 3 vertices, or two with a bulge each, such as 1 and 1 for a circle.',
    ],
    [
      'a clockwise circle',
      withPlan({ vertices: circle(60).map((v) => ({ ...v, bulge: -1 })) }),
      'plan.vertices runs clockwise; give the vertices counter-clockwise (the same list in reverse order).',
    ],
    [
      'an arc that crosses the side opposite',
      withPlan({
        vertices: dShape(-0.9, { radius: 15 }).map((v, i) => (i === 1 ? { ...v, radius: 15 } : v)),
      }),
      'plan.vertices crosses itself: side A–B meets side C–D; give the corners in the order one walks around the plan.',
    ],
    [
      'an inward corner without a radius',
      withPlan({ vertices: lShape(20, undefined) }),
      'plan.vertices.3.radius (corner D) is missing, but this corner turns inwards by 90 degrees; give a corner radius of at least 0.5 mm, or plan.cornerRadius for all corners.',
    ],
    [
      'an inward corner that the draft uses up',
      withPlan({ vertices: lShape(20, 5) }, { 'section.draft': 20 }),
      'plan.vertices.3.radius (corner D) is 5 mm, too small where the plan turns inwards with a draft of 20 degrees; give a radius of at least 11.42 mm.',
    ],
    [
      'an inward corner tighter than the sheet on the outside skin',
      withPlan({ vertices: lShape(20, 3) }, { measured: 'inside', 'sheet.thickness': 3 }),
      'plan.vertices.3.radius (corner D) is 3 mm, too small where the plan turns inwards with the thickness; give a radius of at least 3.5 mm.',
    ],
    [
      'arcs longer than the side they share',
      withPlan({ vertices: lShape(20, 140).map((v, i) => (i === 2 ? { ...v, radius: 10 } : v)) }),
      'plan.vertices.3.radius (corner D) is 140 mm and plan.vertices.4.radius (corner E) is 20 mm, which take 160 mm of the side between them, but it is 150 mm long; give smaller radii there or a longer side.',
    ],
    [
      'a corner arc too large for the bulged edge',
      withPlan({
        vertices: [
          { x: 150, y: 0, bulge: 0.6, radius: 200 },
          { x: -150, y: 0, radius: 20 },
          { x: -150, y: -150, radius: 20 },
          { x: 150, y: -150, radius: 20 },
        ],
      }),
      'plan.vertices.0.radius (corner A) is 200 mm, and such an arc does not touch both edges that meet there; give at most 159.375 mm.',
    ],
    [
      'a radius where edges meet smoothly',
      withPlan({ vertices: dShape(1, { radius: 10 }) }),
      'plan.vertices.0.radius (corner A) is 10 mm, but the edges meet smoothly there; leave the radius out.',
    ],
    [
      'bends that meet in a narrow waist',
      withPlan(
        {
          vertices: WAIST.map(([x, y]) => ({ x, y })),
          cornerRadius: 15,
        },
        { 'section.bottomRadius': 14 },
      ),
      'section.bottomRadius is 14 mm, and the bends of corner D and side J–K run into each other on the base; give at most 12 mm.',
    ],
  ];
  test.each(refused)('refused: %s', (_, file, message) => {
    expect(onlyFault(file).message).toBe(message);
  });

  test('refused: a joint that is neither smooth nor a corner', () => {
    const vertices = dShape(0.995);
    const error = refusal(() => readTray(withPlan({ vertices })));
    expect(error.path).toBe('plan.vertices.0');
    expect(error.message).toMatch(
      /plan\.vertices\.0 \(corner A\) turns by 0\.29 degrees, too little for a corner and too much/,
    );
  });

  test('refused: an arc that one edge radius cannot roll, and the limit itself is accepted', () => {
    const error = refusal(() => readTray(withPlan({ vertices: circle(8) })));
    expect(error.faults[0]!.message).toBe(
      'plan.vertices.0.bulge (corner A) is 1, an arc of radius 8 mm, smaller than section.bottomRadius of 10 mm, and a curved edge cannot be tighter than its bend; give an arc of at least 10 mm radius or a bottom radius of at most 8 mm.',
    );
  });
});

describe('open sides', () => {
  const rectangle = { length: 300, width: 200, cornerRadius: 40 };

  test('of a rectangle are named, and leave the corners beside them square', () => {
    const plan = readTray(withPlan({ ...rectangle, openEdges: ['right', 'top'] })).plan as RectanglePlan;
    expect(plan.openEdges).toEqual([0, 3]);
    expect(plan.cornerRadius).toEqual([0, 0, 40, 0]);
  });

  test('are where their names say', () => {
    // The normal of each side in the loop points to where the side is.
    const expected = { top: [0, 1], left: [-1, 0], bottom: [0, -1], right: [1, 0] };
    for (const [name, [x, y]] of Object.entries(expected)) {
      const { segments } = planLoop(readTray(withPlan({ ...rectangle, openEdges: [name] })));
      const open = segments.find((segment) => !segment.wall)!;
      expect(open.kind).toBe('side');
      if (open.kind !== 'side') continue;
      expect(Math.abs((open.y1 - open.y0) / open.length - x!)).toBeLessThan(1e-12);
      expect(Math.abs(-(open.x1 - open.x0) / open.length - y!)).toBeLessThan(1e-12);
    }
  });

  test('need no radius at all where no corner is rounded', () => {
    const plan = { length: 300, width: 200, openEdges: ['left', 'right'] };
    expect((readTray(withPlan(plan)).plan as RectanglePlan).cornerRadius).toEqual([0, 0, 0, 0]);
  });

  test('none listed is the same as none given', () => {
    expect(readTray(withPlan({ ...rectangle, openEdges: [] }))).toEqual(readTray(withPlan(rectangle)));
  });

  test.each([
    [
      'an unknown name',
      { ...rectangle, openEdges: ['front'] },
      'plan.openEdges.0 is "front"; give "top", "left", "bottom" or "right", or the letters of a side such as "A–B".',
    ],
    [
      'all sides',
      { ...rectangle, openEdges: ['top', 'left', 'bottom', 'right'] },
      'plan.openEdges leaves no side with a wall; leave at least one side out of it.',
    ],
    [
      'one side twice',
      { ...rectangle, openEdges: ['top', 0] },
      'plan.openEdges.1 and plan.openEdges.0 are the same; leave one of them out.',
    ],
    [
      'an edge that is not there',
      { vertices: lShape(20, 40), openEdges: [6] },
      'plan.openEdges.0 is 6, which is no side of this plan; its sides are A–B to F–A.',
    ],
    [
      'a radius beside one',
      { ...rectangle, cornerRadius: [0, 40, 40, 40], openEdges: ['right'] },
      'plan.cornerRadius.3 (corner D) is 40 mm, but a side next to this corner is open; give 0.',
    ],
  ] as const)('refused: %s', (_, plan, message) => {
    expect(onlyFault(withPlan(plan)).message).toBe(message);
  });

  test('a bend needs the room of one or of two walls', () => {
    const plan = (openEdges: string[]) => ({ length: 300, width: 24, cornerRadius: [0, 0, 0, 0], openEdges });
    const wide = { 'section.bottomRadius': 13 };
    expect(() => readTray(withPlan(plan(['left', 'right', 'top']), wide))).not.toThrow();
    expect(onlyFault(withPlan(plan(['left', 'right']), wide)).message).toBe(
      'section.bottomRadius is 13 mm, more than half the plan width of 24 mm; give at most 12 mm.',
    );
  });
});

describe('notched corners', () => {
  const rectangle = { length: 300, width: 200, cornerRadius: 40 };

  test('are taken for all corners or one by one, and are not rounded', () => {
    const all = readTray(
      withPlan({ length: 300, width: 200 }, { forming: { corners: 'notch', weldGap: 1 } }),
    );
    expect((all.plan as RectanglePlan).cornerRadius).toEqual([0, 0, 0, 0]);
    expect(all.forming).toEqual({ trim: 4, corners: 'notch', weldGap: 1 });
    const one = readTray(withPlan(rectangle, { 'forming.corners': ['notch', 'gather', 'gather', 'gather'] }));
    expect((one.plan as RectanglePlan).cornerRadius).toEqual([0, 40, 40, 40]);
    expect(readTray(one)).toEqual(one);
  });

  test.each([
    [
      'a list of the wrong length',
      rectangle,
      ['notch'],
      'forming.corners is a list of 1; give one word, or a list of 4, one for every corner of the plan.',
    ],
    ['an unknown word', rectangle, 'weld', 'forming.corners is "weld"; give "gather" or "notch".'],
    [
      'an inward corner',
      { vertices: lShape(0, 0) },
      'notch',
      'forming.corners is "notch", but corner D turns inwards, where the flat sides would lie on one another; give "gather" for this corner (a list gives every corner its own).',
    ],
    [
      'a bulged edge',
      { vertices: dShape(0.4, { radius: 0 }).map((v, i) => (i === 1 ? { ...v, radius: 15 } : v)) },
      ['notch', 'gather', 'gather', 'gather'],
      'forming.corners.0 (corner A) is "notch", but corner A is next to a bulged edge, and only straight sides meet at a mitre; give "gather" for this corner.',
    ],
    [
      'a radius',
      { ...rectangle, cornerRadius: [40, 0, 40, 40] },
      ['notch', 'notch', 'gather', 'gather'],
      'plan.cornerRadius.0 (corner A) is 40 mm, but this corner is notched; give 0.',
    ],
  ] as const)('refused: %s', (_, plan, corners, message) => {
    expect(onlyFault(withPlan(plan, { 'forming.corners': corners })).message).toBe(message);
  });
});
