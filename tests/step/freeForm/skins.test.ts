/** Which faces are the skin, how thick the sheet is, and what is no one sheet: each with its code and place. */
import { describe, expect, it } from 'vitest';
import { GatherpanError } from '../../../src/errors.ts';
import { cross, minus, type Vector3, vectorAt } from '../../../src/geometry/vector3.ts';
import { stitch } from '../../../src/step/freeForm/skinMesh.ts';
import { findSkin } from '../../../src/step/freeForm/skins.ts';
import type { LivePart } from '../../../src/step/occt/livePart.ts';
import type { SheetFaces } from '../../../src/step/sheet/accounting.ts';
import {
  along,
  bend,
  extruded,
  livePart,
  openBox,
  type Patch,
  plane,
  revolved,
  turnedOver,
} from './patches.ts';

const refused = (
  live: LivePart,
  given: number | null = 1,
  sheet: SheetFaces | null = null,
): { code: string; message: string } => {
  try {
    findSkin(live, given, sheet);
  } catch (error) {
    expect(error).toBeInstanceOf(GatherpanError);
    const { code, message } = error as GatherpanError;
    return { code, message };
  }
  return { code: 'accepted', message: '' };
};

const square = (x: number, y: number, cells = 2): Patch => ({
  surface: plane([x, y, 0], [1, 0, 0], [0, 1, 0]),
  u: [0, 10],
  v: [0, 10],
  cells: [cells, cells],
});

/** A torus about z, less what is left out of its two angles. */
const torus = (u: number, v: number): Patch => ({
  surface: revolved({ x: 30, z: 0, angle: 0, curvature: 1 / 10 }),
  u: [0, 10 * u],
  v: [0, v],
  cells: [12, 16],
});

describe('the skin of a surface', () => {
  it('is all of it, seen from where its rim stands up, with the thickness that is given', () => {
    for (const behind of [false, true]) {
      const patches = bend([20, 15], 6, 30).map((patch) =>
        behind ? { ...patch, surface: turnedOver(patch.surface), u: patch.v, v: patch.u } : patch,
      );
      const { mesh, turned, thickness, depth, rimBroken } = findSkin(livePart(patches), 1.5);
      expect({ turned, thickness, depth, rimBroken }).toEqual({
        turned: behind,
        thickness: 1.5,
        depth: 0,
        rimBroken: false,
      });
      expect(mesh.face).toHaveLength(96);
      // In the first leg, which is level, all triangles are seen from above.
      for (const [t, face] of mesh.face.entries()) {
        if (face !== 0) continue;
        const [a, b, c] = [0, 1, 2].map((k) => vectorAt(mesh.position, 3 * mesh.triangles[3 * t + k]!)) as [
          Vector3,
          Vector3,
          Vector3,
        ];
        expect(cross(minus(b, a), minus(c, a))[2]).toBeGreaterThan(0);
      }
    }
  });

  it('may be a tube, which has two boundaries', () => {
    const tube: Patch = {
      surface: revolved({ x: 10, z: 0, angle: Math.PI / 2, curvature: 0 }),
      u: [0, 20],
      v: [0, 2 * Math.PI],
      cells: [2, 12],
    };
    expect(refused(livePart([tube])).code).toBe('accepted');
  });

  it.each<[string, Patch[], number | null, string, RegExp]>([
    ['without a thickness', [square(0, 0)], null, 'BAD_INPUT', /thickness/],
    ['with sharp edges', openBox(40, 30, 10), 1, 'NOT_MAKEABLE', /sharp edges/],
    ['in two pieces', [square(0, 0), square(20, 0)], 1, 'NOT_MAKEABLE', /falls apart|separate|sharp/],
    ['closed all round', [torus(2 * Math.PI, 2 * Math.PI)], 1, 'NOT_MAKEABLE', /closed all round/],
    ['of too many details', [square(0, 0, 101)], 1, 'NOT_MAKEABLE', /too many details/],
    [
      'with a handle: a ring with a window',
      [{ ...torus(2 * Math.PI, 2 * Math.PI), hole: { u: [2, 4], v: [2, 5] } }],
      1,
      'NOT_MAKEABLE',
      /handle/,
    ],
  ])('is refused %s', (_, patches, given, code, sentence) => {
    const found = refused(livePart(patches), given);
    expect(found.code).toBe(code);
    expect(found.message).toMatch(sentence);
  });
});

describe('the skin of a solid', () => {
  const T = 2;
  /** A flat plate bent once: two skins, and four strips of edge that are square to them. */
  function bentSheet(): LivePart {
    const inner = bend([20, 15], 6, 30, 6);
    const outside = (patch: Patch, radius: number): Patch => {
      const [s, end] = patch.u;
      const [[x, , z], [nx, , nz]] = patch.surface(s, 0);
      const angle = Math.atan2(-nx, nz);
      const piece = { x: x - T * nx, z: z - T * nz, angle, curvature: radius === 0 ? 0 : 1 / (radius + T) };
      const length = radius === 0 ? end : (end * (radius + T)) / radius;
      return { surface: turnedOver(extruded(piece)), u: patch.v, v: [0, length], cells: patch.cells };
    };
    const outer = inner.map((patch, i) => outside(patch, i === 1 ? 6 : 0));
    // Across the sheet, from the inner skin down, at both ends of its width.
    const sides = inner.flatMap((patch): Patch[] => {
      const across =
        (y: number): Patch['surface'] =>
        (s, d) => {
          const [at, n, pu, , nu] = patch.surface(s, y);
          const down = (a: Vector3, b: Vector3, share: number): Vector3 => [
            a[0] - share * b[0],
            a[1] - share * b[1],
            a[2] - share * b[2],
          ];
          const none: Vector3 = [0, 0, 0];
          return [down(at, n, d), [0, 1, 0], down(pu, nu, d), down(none, n, 1), none, none];
        };
      const far: Patch = { surface: across(30), u: patch.u, v: [0, T], cells: [6, 2] };
      return [far, { surface: turnedOver(across(0)), u: far.v, v: far.u, cells: [2, 6] }];
    });
    const last = along({ x: 20, z: 0, angle: 0, curvature: 1 / 6 }, 3 * Math.PI);
    const ends: Patch[] = [
      { surface: plane([0, 0, -T], [0, 0, 1], [0, 1, 0]), u: [0, T], v: [0, 30], cells: [2, 6] },
      {
        surface: plane([last.x, 0, last.z + 15], [1, 0, 0], [0, 1, 0]),
        u: [0, T],
        v: [0, 30],
        cells: [2, 6],
      },
    ];
    const bent = (Math.PI / 2) * (6 + T / 2);
    return livePart([...inner, ...outer, ...sides, ...ends], 'solid', (20 + bent + 15) * 30 * T);
  }

  it('is the smaller one, half a thickness from the middle, with the strip of the sheet’s edge at each of its edges', () => {
    const live = bentSheet();
    const skin = findSkin(live, null);
    expect(new Set(skin.mesh.face)).toEqual(new Set([0, 1, 2]));
    expect(skin.thickness).toBeCloseTo(T, 6);
    expect(skin.depth).toBeCloseTo(T / 2, 6);
    expect([skin.turned, skin.rimBroken]).toEqual([false, false]);
    // Two ends, and two sides of three faces each.
    expect(skin.edgeFaces.size).toBe(8);
    for (const face of skin.edgeFaces.values()) expect(face).toBeGreaterThan(5);
  });

  it('is refused at a sharp edge with the edge’s middle', () => {
    const live = livePart(openBox(40, 30, 10), 'solid');
    const found = {
      inner: new Set([0, 1]),
      outer: new Set<number>(),
      thickness: 1,
      stitched: stitch(live.part, 1e-6),
      smoothNeighbours: live.part.faces.map(() => new Set<number>()),
      probes: [],
    };
    const { code, message } = refused(live, null, found);
    expect(code).toBe('NOT_MAKEABLE');
    expect(message).toMatch(/x 0, y -15, z 0/);
  });
});
