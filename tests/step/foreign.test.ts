/**
 * Parts of other programs: built from the kernel's primitives and booleans, with nothing of our own writer in them.
 * What is expected are the numbers they were built with.
 */
import { describe, expect, it } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { pathBounds } from '../../src/geometry/measure.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { writeFormedSolid } from '../../src/step/formedSolid.ts';
import { developPart, type PartPattern } from '../../src/step/freeForm/developPart.ts';
import type { PartGiven } from '../../src/step/freeForm/partGiven.ts';
import { findSkin } from '../../src/step/freeForm/skins.ts';
import type { Bound } from '../../src/step/occt/instance.ts';
import { work } from '../../src/step/occt/work.ts';
import { recogniseTray } from '../../src/step/recognise/recogniseTray.ts';
import { readTray } from '../../src/tray/readTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { some } from '../support/long.ts';
import { expectSame } from './expectSame.ts';
import { facesTurned, inAssembly, inDegrees, inInches, inMetres, insideOut } from './foreignFiles.ts';
import {
  asPolynomials,
  asRevolutions,
  asSplines,
  box,
  chamfered,
  channel,
  common,
  compound,
  cut,
  cutAndGlued,
  cylinder,
  foldedTray,
  fused,
  isLevel,
  mirrored,
  resized,
  rounded,
  roundTub,
  shelled,
  shelledBox,
  transformed,
  turnedAway,
} from './foreignParts.ts';
import { COARSE } from './given.ts';
import { judged, occt, readPart, withLivePart } from './occt.ts';
import {
  degrees,
  type Piece,
  SMALL_PLAN,
  SMALL_SECTION,
  solidPart,
  surfacePart,
  writtenPart,
} from './parts.ts';
import { tray } from './trays.ts';

const TIME = 600_000;
const GIVEN = { name: 'drip-tray', material: 'DC04', grain: 0 };

async function recognised(bytes: Uint8Array): Promise<TraySpec | null> {
  const found = recogniseTray(await readPart(bytes), GIVEN);
  return found === null ? null : readTray(found.file);
}

const [A, B, H] = [260, 180, 50];
const tub = (k: Bound): Bound => shelledBox(k, [A, B, H], 50, 15, 1.5);
const dish = (k: Bound): Bound => roundTub(k, 100, 40, 12, 1.2);
const beyond = (k: Bound, x: number): Bound => box(k, [x, -10, -10], [500, 500, 500]);
/** Cut open at x = 200. */
const open = (k: Bound): Bound => cut(k, tub(k), beyond(k, 200));

const TUB = {
  plan: { length: A, width: B, cornerRadius: 50 },
  section: { bottomRadius: 15, height: H, draft: 0, rim: { kind: 'plain' } },
  thickness: 1.5,
};
const DISH = {
  plan: { length: 200, width: 200, cornerRadius: 100 },
  section: { bottomRadius: 12, height: 40, draft: 0, rim: { kind: 'plain' } },
  thickness: 1.2,
};
const OPEN = { ...TUB, plan: { length: 200, width: B, cornerRadius: [0, 50, 50, 0], openEdges: [3] } };

interface Expected {
  readonly plan: unknown;
  readonly section: unknown;
  readonly thickness: number;
}

async function expectTray(bytes: Uint8Array, { plan, section, thickness }: Expected): Promise<TraySpec> {
  expect(await judged(bytes)).toMatchObject({ solids: 1, valid: true });
  const found = await recognised(bytes);
  expect(found).not.toBeNull();
  expectSame(found!.plan, plan);
  expectSame(found!.section, section);
  expectSame(found!.sheet.thickness, thickness);
  return found!;
}

describe('a tray built with solids, roundings and a shell is recognised', () => {
  it.each<[string, (k: Bound) => Bound, Expected]>(
    some(
      [
        ['as it is', tub, TUB],
        ['round', dish, DISH],
        ['turned out of every axis and far away', (k) => turnedAway(k, tub(k)), TUB],
        ['mirrored', (k) => mirrored(k, tub(k)), TUB],
        ['in a compound in a compound', (k) => compound(k, [compound(k, [tub(k)])]), TUB],
        ['inside out', (k) => tub(k).Reversed(), TUB],
      ],
      2,
    ),
  )(
    '%s',
    async (_, make, expected) => {
      await expectTray(await writtenPart(make), expected);
    },
    TIME,
  );
});

describe('a lip, its section swept about the base, is recognised', () => {
  // The middle of a sheet of 1.2 mm: up over 8 mm and out over 3 mm, both on the outside.
  const section: Piece[] = [
    { kind: 'arc', radius: 7.4, angle: degrees(84) },
    { kind: 'line', length: 20 },
    { kind: 'arc', radius: 3.6, angle: degrees(-84) },
    { kind: 'line', length: 9 },
  ];
  const [lean, quarter] = [degrees(6), degrees(84)];
  const expected = {
    section: {
      bottomRadius: 8,
      // Of the lower skin: both bends are as high as their middles are, less half a thickness above and below.
      height: (7.4 + 3.6) * (1 - Math.sin(lean)) + 20 * Math.cos(lean),
      draft: 6,
      rim: { kind: 'lip', direction: 'out', bendRadius: 3, width: 9 + 3 * Math.tan(quarter / 2) },
    },
    thickness: 1.2,
  };
  const setback = 8 * Math.tan(quarter / 2);

  it(
    'round',
    async () => {
      const bytes = await solidPart([{ kind: 'line', length: 52 }, ...section], { kind: 'round' }, 1.2);
      const radius = 52 + setback;
      await expectTray(bytes, {
        ...expected,
        plan: { length: 2 * radius, width: 2 * radius, cornerRadius: radius },
      });
    },
    TIME,
  );

  it(
    'about a rectangle whose corners are points',
    async () => {
      const bytes = await solidPart(section, { kind: 'rectangle', a: 60, b: 45 }, 1.2);
      await expectTray(bytes, {
        ...expected,
        plan: { length: 120 + 2 * setback, width: 90 + 2 * setback, cornerRadius: setback },
      });
    },
    TIME,
  );
});

describe('open sides whose end face is one with those of the walls', () => {
  it(
    'one, the faces counted',
    async () => {
      const bytes = await writtenPart(open);
      // Two of the base, six of three walls, the rim, and one U for base, bends and walls at the open end.
      expect((await judged(bytes)).surfaces.plane).toBe(10);
      await expectTray(bytes, OPEN);
    },
    TIME,
  );

  it.each<[string, (k: Bound) => Bound, Expected]>(
    some(
      [
        [
          'two opposite ones',
          (k) => cut(k, open(k), box(k, [-300, -10, -10], [360, 300, 300])),
          { ...TUB, plan: { length: 140, width: B, cornerRadius: [0, 0, 0, 0], openEdges: [1, 3] } },
        ],
        [
          'two neighbouring ones',
          (k) => cut(k, open(k), box(k, [-300, 100, -10], [900, 300, 300])),
          { ...TUB, plan: { length: 200, width: 100, cornerRadius: [0, 0, 50, 0], openEdges: [0, 3] } },
        ],
        [
          'a bent channel',
          (k) => channel(k, false),
          {
            plan: { length: 60, width: 120, cornerRadius: [0, 0, 0, 0], openEdges: [0, 2] },
            section: { bottomRadius: 5, height: 30, draft: 0, rim: { kind: 'plain' } },
            thickness: 2,
          },
        ],
        [
          'the straight side of half a round tray',
          (k) => cut(k, dish(k), box(k, [0, -500, -10], [900, 1000, 300])),
          {
            ...DISH,
            plan: {
              // The arc in two: a plan has three edges at least.
              vertices: [
                { x: 0, y: -100, radius: 0 },
                { x: 0, y: 100, radius: 0, bulge: Math.tan(Math.PI / 8) },
                { x: -100, y: 0, radius: 0, bulge: Math.tan(Math.PI / 8) },
              ],
              openEdges: [0],
            },
          },
        ],
      ],
      2,
    ),
  )(
    '%s',
    async (_, make, expected) => {
      await expectTray(await writtenPart(make), expected);
    },
    TIME,
  );

  it.each([
    ['bowed out', 1],
    ['bowed in', -1],
  ])(
    'one that is an arc, %s',
    async (_, side) => {
      const [radius, half] = [150, 75];
      // The arc ends where the bends begin, 15 mm from either side, at x = 200.
      const centre = 200 - side * Math.sqrt(radius ** 2 - half ** 2);
      const bytes = await writtenPart((k) => {
        const disc = cylinder(k, [centre, B / 2, 0], [0, 0, 1], radius, 1.5);
        const strip = box(k, [200, 15, 0], [100, 2 * half, 1.5]);
        if (side > 0) return fused(k, open(k), common(k, disc, strip));
        // Only the base is cut: the bends begin beside it.
        return cut(k, open(k), common(k, disc, box(k, [0, 15, -1], [A, 2 * half, 4])));
      });
      // At the wall, 90 mm from the middle, the plan's own corner.
      const x = centre + side * Math.sqrt(radius ** 2 - (B / 2) ** 2);
      const bulge = side * Math.tan(Math.asin(B / 2 / radius) / 2);
      const found = await recognised(bytes);
      expect(found).not.toBeNull();
      const { vertices, openEdges } = found!.plan as unknown as {
        vertices: { x: number; y: number }[];
        openEdges: number[];
      };
      const first = vertices.findIndex((vertex) => vertex.x > 150 && vertex.y < 10);
      expect(openEdges).toEqual([first]);
      expectSame(
        [...vertices.slice(first), ...vertices.slice(0, first)],
        [
          { x, y: 0, radius: 0, bulge },
          { x, y: B, radius: 0 },
          { x: 0, y: B, radius: 50 },
          { x: 0, y: 0, radius: 50 },
        ],
      );
      expectSame(found!.section, TUB.section);
    },
    TIME,
  );
});

describe('faces that are cut in two are recognised', () => {
  it.each<[string, (k: Bound) => Bound, Expected]>(
    some(
      [
        ['base, walls and rim', (k) => cutAndGlued(k, tub(k), 0, 120), TUB],
        ['the rings of two corners', (k) => cutAndGlued(k, tub(k), 1, 20), TUB],
        ['every wall half way up', (k) => cutAndGlued(k, tub(k), 2, 30), TUB],
        ['every bend half way round', (k) => cutAndGlued(k, tub(k), 2, 8), TUB],
        [
          'a round tray twice, beside its middle',
          (k) => cutAndGlued(k, cutAndGlued(k, dish(k), 1, 0), 0, 30),
          DISH,
        ],
        ['an open end', (k) => cutAndGlued(k, open(k), 1, 60), OPEN],
      ],
      4,
    ),
  )(
    '%s',
    async (_, make, expected) => {
      const bytes = await writtenPart(make);
      const count = ({ surfaces }: Awaited<ReturnType<typeof judged>>): number =>
        Object.values(surfaces).reduce((sum, one) => sum + one, 0);
      const whole = await writtenPart(expected === DISH ? dish : expected === OPEN ? open : tub);
      expect(count(await judged(bytes))).toBeGreaterThan(count(await judged(whole)));
      await expectTray(bytes, expected);
    },
    TIME,
  );

  it(
    'through two holes',
    async () => {
      const bytes = await writtenPart((k) => {
        const drilled = cut(k, tub(k), cylinder(k, [A / 2, B / 2, -5], [0, 0, 1], 11, 20));
        const twice = cut(k, drilled, cylinder(k, [A / 2, -5, 30], [0, 1, 0], 6, 20));
        return cutAndGlued(k, twice, 0, A / 2);
      });
      const found = await expectTray(bytes, TUB);
      expectSame(found.holes, [
        { name: 'hole-1', shape: { kind: 'round', diameter: 22 }, place: { on: 'base', x: 0, y: 0 } },
        {
          name: 'hole-2',
          shape: { kind: 'round', diameter: 12 },
          place: { on: 'wall', edge: 2, along: 0, height: 30 },
        },
      ]);
    },
    TIME,
  );
});

describe('surfaces written in other forms are recognised', () => {
  it.each<[string, (k: Bound) => Bound, Expected]>(
    some(
      [
        ['B-splines', (k) => asSplines(k, tub(k)), TUB],
        ['B-splines that go all round', (k) => asSplines(k, dish(k)), DISH],
        ['B-splines with an open end', (k) => asSplines(k, open(k)), OPEN],
        ['surfaces of revolution', (k) => asRevolutions(k, tub(k)), TUB],
        [
          'surfaces of extrusion over B-splines',
          (k) => channel(k, true),
          {
            plan: { length: 60, width: 120, cornerRadius: [0, 0, 0, 0], openEdges: [0, 2] },
            section: { bottomRadius: 5, height: 30, draft: 0, rim: { kind: 'plain' } },
            thickness: 2,
          },
        ],
      ],
      2,
    ),
  )(
    '%s',
    async (_, make, expected) => {
      const bytes = await writtenPart(make);
      const { surfaces } = await judged(bytes);
      expect(surfaces.cylinder ?? 0).toBe(0);
      expect(surfaces.other).toBeGreaterThan(0);
      await expectTray(bytes, expected);
    },
    TIME,
  );
});

describe('a rim that is not square to the sheet', () => {
  it(
    'cut level over a leaning wall: has the height of the outer skin, which is the longer one',
    async () => {
      const bytes = await writtenPart((k) => {
        const cone = new k.BRepPrimAPI_MakeCone_1(80, 90, 40).Shape();
        return shelled(k, rounded(k, cone, 10, isLevel(0)), 40, 1.2);
      });
      await expectTray(bytes, {
        // Where the planes of base and wall meet is the cone's foot.
        plan: { length: 160, width: 160, cornerRadius: 80 },
        section: {
          bottomRadius: 10,
          height: 40,
          draft: (Math.atan(10 / 40) * 180) / Math.PI,
          rim: { kind: 'plain' },
        },
        thickness: 1.2,
      });
    },
    TIME,
  );

  it(
    'cut off so steeply that one skin is 10 mm longer: is no rim of a tray',
    async () => {
      const bytes = await writtenPart((k) => {
        // Through the outer skin at 18.3 mm and through the inner one at 28.3.
        const cone = new k.BRepPrimAPI_MakeCone_1(101, 97.4, 30).Shape();
        const kept = transformed(k, cone, (t) => t.SetTranslation_1(new k.gp_Vec_4(0, 0, 10)));
        return cut(k, dish(k), cut(k, box(k, [-200, -200, 10], [400, 400, 60]), kept));
      });
      expect((await judged(bytes)).solids).toBe(1);
      expect(await recognised(bytes)).toBeNull();
    },
    TIME,
  );
});

describe('broken edges of the rim are left out', () => {
  const atRim = isLevel(H);
  it.each<[string, (k: Bound) => Bound]>(
    some(
      [
        ['chamfers', (k) => chamfered(k, tub(k), 0.3, atRim)],
        ['roundings', (k) => rounded(k, tub(k), 0.3, atRim)],
        ['one rounding, on one edge', (k) => rounded(k, tub(k), 0.4, atRim, 1)],
      ],
      1,
    ),
  )(
    '%s',
    async (_, make) => {
      const bytes = await writtenPart(make);
      await expectTray(bytes, TUB);
      expect(recogniseTray(await readPart(bytes), GIVEN)!.rimSquared).toBe(true);
    },
    TIME,
  );

  it(
    'and nothing is said of a rim that is square',
    async () => {
      expect(recogniseTray(await readPart(await writtenPart(tub)), GIVEN)!.rimSquared).toBe(false);
    },
    TIME,
  );

  it.each<[string, (k: Bound) => Bound, boolean]>([
    ['square', tub, false],
    ['chamfered', (k) => chamfered(k, tub(k), 0.3, atRim), true],
    ['square, and open at one end', open, false],
  ])(
    'of a part taken as it is, which then ends where its skin does, it is known: %s',
    async (_, make, broken) => {
      const skin = await withLivePart(await writtenPart(make), (live) => findSkin(live, null));
      expect(skin.rimBroken).toBe(broken);
    },
    TIME,
  );
});

describe('other files of the same tray are recognised', () => {
  it.each<[string, (k: Bound) => Bound, (file: Uint8Array) => Uint8Array, Expected]>(
    some(
      [
        ['in inches', (k) => resized(k, tub(k), 1 / 25.4), inInches, TUB],
        ['in metres', (k) => resized(k, tub(k), 1 / 1000), inMetres, TUB],
        ['once in an assembly, turned', tub, (file) => inAssembly(file, [300]), TUB],
        ['the shell used inside out', tub, insideOut, TUB],
        ['every face on the wrong side', tub, facesTurned, TUB],
      ],
      2,
    ),
  )(
    '%s',
    async (_, make, change, expected) => {
      const plain = await writtenPart(make);
      const bytes = change(plain);
      expect(bytes).not.toEqual(plain);
      await expectTray(bytes, expected);
    },
    TIME,
  );

  it(
    'cones in degrees',
    async () => {
      const spec = tray('draft: cones');
      const plain = writeFormedSolid(spec, 'tray', 'AP214');
      const bytes = inDegrees(plain);
      expect(bytes).not.toEqual(plain);
      expectSame(await recognised(bytes), spec);
    },
    TIME,
  );
});

const PART: PartGiven = {
  ...GIVEN,
  thickness: null,
  trim: 0,
  cut: { process: 'laser', kerf: 0, compensate: false },
};

const unfolded = (bytes: Uint8Array): Promise<PartPattern> =>
  withLivePart(bytes, (live) => flatPatternOf(developPart(live, PART, COARSE)));

async function refusal(path: 'recognise' | 'either', bytes: Uint8Array): Promise<string> {
  const k = await occt();
  try {
    work(k, { kind: 'tray', bytes, path, given: PART, surfaceOnly: false });
  } catch (error) {
    expect(error).toBeInstanceOf(GatherpanError);
    const { message } = error as GatherpanError;
    expect(message).toMatch(/^[A-Z][^\n]*\.$/);
    return message;
  }
  return 'accepted';
}

describe('what is no one sheet is refused in a sentence, recognised or not', () => {
  it.each<[string, (k: Bound) => Bound, RegExp]>(
    some(
      [
        ['two solids', (k) => compound(k, [tub(k), box(k, [500, 0, 0], [10, 10, 10])]), /holds 2 solids/],
        [
          'a closed box',
          (k) => cut(k, box(k, [0, 0, 0], [100, 80, 40]), box(k, [1, 1, 1], [98, 78, 38])),
          /hollow inside/,
        ],
        [
          'three plates that meet in a T',
          (k) => fused(k, box(k, [0, 0, 0], [100, 80, 1]), box(k, [50, 0, 0], [1, 80, 40])),
          /a rib or divider of about/,
        ],
        [
          'a base that is 1.3 mm instead of 1.5',
          (k) => cut(k, tub(k), box(k, [-10, -10, -1], [600, 600, 1.2])),
          /1\.50 mm thick in the main and 1\.30 mm at \(-?\d+, -?\d+, -?[02]\)/,
        ],
        [
          'a pocket in the base from below, 60 mm square and 0.2 mm deep',
          (k) => cut(k, tub(k), box(k, [100, 60, -1], [60, 60, 1.2])),
          /1\.50 mm thick in the main and 1\.30 mm at \(1[0-6]\d, (?:[6-9]\d|1[0-2]\d), -?0\)/,
        ],
        [
          'a pad on the outside of a wall, 0.3 mm high',
          (k) => fused(k, tub(k), box(k, [60, -0.3, 15], [140, 1, 20])),
          /1\.50 mm thick in the main and 1\.80 mm at \((?:[6-9]\d|1\d\d), -?\d, [1-3]\d\)/,
        ],
      ],
      3,
    ),
  )(
    '%s',
    async (_, make, sentence) => {
      const bytes = await writtenPart(make);
      expect(await refusal('recognise', bytes)).toMatch(sentence);
      expect(await refusal('either', bytes)).toMatch(sentence);
    },
    TIME,
  );

  it(
    'a part twice in an assembly',
    async () => {
      const bytes = inAssembly(await writtenPart(tub), [300, 400]);
      expect(await refusal('either', bytes)).toMatch(/holds 2 solids/);
    },
    TIME,
  );

  it(
    'a tray in metres that was drawn in millimetres',
    async () => {
      expect(await refusal('either', inMetres(await writtenPart(tub)))).toMatch(/units it was saved in/);
    },
    TIME,
  );

  it(
    'a surface: no tray file, and as it is not without a thickness',
    async () => {
      const bytes = await surfacePart(SMALL_SECTION, SMALL_PLAN);
      expect(await refusal('recognise', bytes)).toMatch(/holds a surface.*solid/);
      expect(await refusal('either', bytes)).toMatch(/--thickness/);
    },
    TIME,
  );
});

describe('sheets that no tray file says', () => {
  it(
    'four walls with their corners cut out: as it is, as long as DIN 6935 says',
    async () => {
      const [thickness, inside, height] = [2, 3, 25];
      const bytes = await writtenPart((k) => foldedTray(k, [100, 70, height], thickness, inside));
      expect(await recognised(bytes)).toBeNull();
      // DIN 6935, from memory: k = 0.65 + lg(r/s) / 2 of half the thickness, below r/s = 5.
      const factor = 0.65 + Math.log10(inside / thickness) / 2;
      const bend = (Math.PI / 2) * (inside + (factor * thickness) / 2);
      const flange = bend + height - inside - thickness;
      const { minX, maxX, minY, maxY } = pathBounds((await unfolded(bytes)).rim);
      expect(Math.abs(maxX - minX - (100 + 2 * flange))).toBeLessThan(0.1);
      expect(Math.abs(maxY - minY - (70 + 2 * flange))).toBeLessThan(0.1);
    },
    TIME,
  );

  it(
    'a tray whose faces are B-splines near it, within 0.001 mm: as it is, with the outline of the tray',
    async () => {
      const bytes = await writtenPart((k) => asPolynomials(k, tub(k), 1e-3));
      expect(await recognised(bytes)).toBeNull();
      const [near, exact] = [await unfolded(bytes), await unfolded(await writtenPart(tub))];
      expect(near.sheet.thickness).toBeCloseTo(1.5, 2);
      // Twice the bound of a single unfolding, 0.1 mm.
      const [a, b] = [pathBounds(near.rim), pathBounds(exact.rim)];
      for (const end of ['minX', 'maxX', 'minY', 'maxY'] as const) {
        expect(Math.abs(a[end] - b[end]), end).toBeLessThan(0.2);
      }
    },
    TIME,
  );

  it(
    'an open end that is cut at a slant: as it is, in one piece',
    async () => {
      const bytes = await writtenPart((k) => {
        const knife = box(k, [0, 0, -10], [500, 500, 500]);
        const turn = new k.gp_Trsf_1();
        turn.SetRotation_1(new k.gp_Ax1_2(new k.gp_Pnt_3(0, 0, 0), new k.gp_Dir_4(0, 0, 1)), -0.3);
        const slanted = new k.BRepBuilderAPI_Transform_2(knife, turn, true).Shape();
        const move = new k.gp_Trsf_1();
        move.SetTranslation_1(new k.gp_Vec_4(130, 0, 0));
        return cut(k, tub(k), new k.BRepBuilderAPI_Transform_2(slanted, move, true).Shape());
      });
      expect(await recognised(bytes)).toBeNull();
      expect(await refusal('recognise', bytes)).toBe('accepted');
      expect((await unfolded(bytes)).rim.vertices.length).toBeGreaterThan(4);
    },
    TIME,
  );
});
