/** Random trays within the range that is promised: 60 to 2,000 mm, walls up to three bottom radii, n from 0.15. */
import fc from 'fast-check';
import type { LawParameters } from '../../src/material/law.ts';
import type { PlanVertex, TraySpec } from '../../src/tray/spec.ts';
import { radians } from '../../src/units.ts';
import { HARDENING, polygon, rectangle } from './trays.ts';

/** Evenly spread, in thousandths, both ends included. */
const share = fc.integer({ min: 0, max: 1000 }).map((k) => k / 1000);
export const between = (low: number, high: number) => share.map((s) => low + s * (high - low));
/** Evenly spread over the logarithm. */
const magnitude = (low: number, high: number) => share.map((s) => low * (high / low) ** s);

export const anySheet: fc.Arbitrary<LawParameters> = fc.oneof(
  fc.record({ n: between(0.15, 0.4), r: between(0.6, 2.2) }).map(({ n, r }) => ({
    ...HARDENING,
    n,
    r0: r,
    r45: r,
    r90: r,
  })),
  // Ears: r differs over the direction by up to a third either way.
  fc
    .record({ n: between(0.15, 0.4), r: between(0.8, 1.8), a: between(0.75, 1.33), b: between(0.75, 1.33) })
    .map(({ n, r, a, b }) => ({ ...HARDENING, n, r0: r, r45: r * a, r90: r * b })),
);

/** Tangent length of a bend of radius 1 at a draft in degrees: how far it begins inside the plan. */
const setback = (draft: number): number => Math.tan(radians(90 - draft) / 2);

export const anyRectangle: fc.Arbitrary<TraySpec> = fc
  .record({
    width: magnitude(60, 1000),
    ratio: between(1, 3),
    bottom: share,
    corner: fc.array(share, { minLength: 4, maxLength: 4 }),
    alike: fc.constantFrom('all', 'all', 'pairs', 'none'),
    heightRatio: between(1, 3),
    draft: fc.constantFrom(0, 0, 5, 12, 30),
    grain: fc.constantFrom(0, 0, 90, 30),
  })
  .map(({ width, ratio, bottom, corner, alike, heightRatio, draft, grain }) => {
    const length = Math.min(2000, Math.round(width * ratio * 1000) / 1000);
    const largest = Math.min(100, width / 2 / setback(draft) / 1.05);
    const bottomRadius = Math.round(1000 * 3 * (largest / 3) ** bottom) / 1000;
    const smallest = bottomRadius * setback(draft);
    const radius = (i: number): number => {
      const s = corner[alike === 'all' ? 0 : alike === 'pairs' ? (i % 3 === 0 ? 0 : 1) : i]!;
      // Often exactly the bottom radius: corners that are pieces of a sphere.
      return s < 0.25 ? smallest : smallest + (s - 0.25) * (width / 2 - smallest);
    };
    const radii = [radius(0), radius(1), radius(2), radius(3)] as const;
    return rectangle(length, width, alike === 'all' ? radii[0] : radii, {
      bottomRadius,
      height: Math.round(1000 * bottomRadius * heightRatio) / 1000,
      draft,
      grain,
    });
  });

/** Convex polygons: corners on an ellipse, all with one radius. */
export const anyPolygon: fc.Arbitrary<TraySpec> = fc
  .record({
    sides: fc.integer({ min: 3, max: 7 }),
    size: magnitude(60, 600),
    flatness: between(0.6, 1),
    jitter: fc.array(share, { minLength: 7, maxLength: 7 }),
    turn: between(0, 6),
    bottom: between(0.15, 0.6),
    corner: between(0, 1),
    heightRatio: between(1, 2.5),
    grain: fc.constantFrom(0, 40),
  })
  .map(({ sides, size, flatness, jitter, turn, bottom, corner, heightRatio, grain }) => {
    const bare = Array.from({ length: sides }, (_, k) => {
      const angle = ((k + 0.4 * (jitter[k]! - 0.5)) * 2 * Math.PI) / sides + turn;
      return { x: size * Math.cos(angle), y: size * flatness * Math.sin(angle), radius: 0 };
    });
    const most = largestRadius(bare);
    const bottomRadius = Math.max(3, Math.min(100, bottom * most));
    const radius = bottomRadius + corner * Math.max(0, 0.9 * most - bottomRadius);
    return polygon(
      bare.map((vertex) => ({ ...vertex, radius })),
      { bottomRadius, height: bottomRadius * heightRatio, grain },
    );
  });

/** Largest radius that all corners of a polygon can share. */
function largestRadius(vertices: readonly PlanVertex[]): number {
  const half = vertices.map((at, i) => {
    const before = vertices[(i + vertices.length - 1) % vertices.length]!;
    const after = vertices[(i + 1) % vertices.length]!;
    const [ux, uy] = [at.x - before.x, at.y - before.y];
    const [vx, vy] = [after.x - at.x, after.y - at.y];
    return Math.tan(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy) / 2);
  });
  return Math.min(
    ...vertices.map((at, i) => {
      const j = (i + 1) % vertices.length;
      const length = Math.hypot(vertices[j]!.x - at.x, vertices[j]!.y - at.y);
      return length / (half[i]! + half[j]!);
    }),
  );
}
