/**
 * Random plans: what is accepted is a surface without a fault, what is refused has the fault that is named.
 * Judged by closed polylines of many short lines, which know nothing of arcs, fillets and distances.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { neutralSurface, PLACED_SIZE, placeOnWall } from '../../src/tray/neutralSurface.ts';
import { type LoopPoint, loopPoint, planLoop } from '../../src/tray/planLoop.ts';
import { readTray } from '../../src/tray/readTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { orRefusal } from '../support/refusal.ts';
import { changed } from './trayFiles.ts';

type Line = (readonly [number, number])[];

/** Star-shaped plans: corners at growing angles around the middle, some edges bulged. */
const plan = fc
  .array(
    fc.record({
      step: fc.double({ min: 0.6, max: 1.4, noNaN: true }),
      away: fc.double({ min: 60, max: 220, noNaN: true }),
      radius: fc.double({ min: 1, max: 60, noNaN: true }),
      bulge: fc.oneof(
        { weight: 3, arbitrary: fc.constant(0) },
        { weight: 1, arbitrary: fc.double({ min: -0.5, max: 0.8, noNaN: true }) },
      ),
    }),
    { minLength: 3, maxLength: 8 },
  )
  .map((corners) => {
    const whole = corners.reduce((sum, { step }) => sum + step, 0);
    let angle = 0;
    return corners.map(({ step, away, radius, bulge }) => {
      angle += (2 * Math.PI * step) / whole;
      return {
        x: away * Math.cos(angle),
        y: away * Math.sin(angle),
        radius,
        ...(bulge === 0 ? {} : { bulge }),
      };
    });
  });

const section = fc.record({
  bottomRadius: fc.double({ min: 1, max: 25, noNaN: true }),
  draft: fc.constantFrom(0, 0, 10, 25),
  lip: fc.constantFrom(0, 0, 12, -12),
});

const file = (
  vertices: object[],
  { bottomRadius, draft, lip }: { bottomRadius: number; draft: number; lip: number },
) => {
  const rim =
    lip === 0
      ? { kind: 'plain' }
      : { kind: 'lip', direction: lip > 0 ? 'out' : 'in', bendRadius: 2, width: Math.abs(lip) };
  return changed({
    plan: { vertices },
    section: { bottomRadius, height: 30 + bottomRadius, draft, rim },
    'sheet.thickness': 0.4,
  });
};

const read = (value: unknown): TraySpec | GatherpanError => orRefusal(() => readTray(value));

/** The loop at `run` from the base's edge, `count` lines to a segment. */
function polyline(spec: TraySpec, run: number, count = 16): Line {
  const at: LoopPoint = { x: 0, y: 0, normalX: 0, normalY: 0 };
  return planLoop(spec).segments.flatMap((segment) =>
    Array.from({ length: count }, (_, k) => {
      const { x, y, normalX, normalY } = loopPoint(segment, k / count, at);
      return [x + run * normalX, y + run * normalY] as const;
    }),
  );
}

/** Twice the signed area of a triangle. */
const cross = (a: Line[0], b: Line[0], c: Line[0]): number =>
  (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

/** How often a closed polyline properly crosses itself. */
function crossings(line: Line): number {
  let count = 0;
  for (let i = 0; i < line.length; i++) {
    const [a, b] = [line[i]!, line[(i + 1) % line.length]!];
    for (let j = i + 2; j < line.length; j++) {
      if (i === 0 && j === line.length - 1) continue;
      const [c, d] = [line[j]!, line[(j + 1) % line.length]!];
      const [abc, abd, cda, cdb] = [cross(a, b, c), cross(a, b, d), cross(c, d, a), cross(c, d, b)];
      // Lines that touch but for rounding are left out.
      if (Math.min(...[abc, abd, cda, cdb].map(Math.abs)) < 1e-7) continue;
      if (abc * abd < 0 && cda * cdb < 0) count++;
    }
  }
  return count;
}

const area = (line: Line): number =>
  line.reduce((sum, a, i) => sum + cross([0, 0], a, line[(i + 1) % line.length]!), 0) / 2;

describe('random plans', () => {
  test('that are accepted have a base, walls and a rim that are in nobody’s way', () => {
    let [convex, concave] = [0, 0];
    fc.assert(
      fc.property(plan, section, (vertices, form) => {
        const spec = read(file(vertices, form));
        if (spec instanceof GatherpanError) return;
        const { segments } = planLoop(spec);
        // Turning number 1: the corners and arcs of the loop turn once.
        const turned = segments.reduce((sum, s) => sum + (s.kind === 'corner' ? s.sweep : 0), 0);
        expect(Math.abs(turned - 2 * Math.PI)).toBeLessThan(1e-6);
        // Every segment begins where the one before ends, in the same direction.
        const [from, to]: [LoopPoint, LoopPoint] = [
          { x: 0, y: 0, normalX: 0, normalY: 0 },
          { x: 0, y: 0, normalX: 0, normalY: 0 },
        ];
        segments.forEach((segment, i) => {
          loopPoint(segment, 1, from);
          loopPoint(segments[(i + 1) % segments.length]!, 0, to);
          expect(Math.hypot(from.x - to.x, from.y - to.y)).toBeLessThan(1e-6);
          expect(Math.hypot(from.normalX - to.normalX, from.normalY - to.normalY)).toBeLessThan(2e-6);
        });
        const theta = ((90 - form.draft) * Math.PI) / 180;
        const setback = form.bottomRadius * Math.tan(theta / 2);
        const lean = spec.section.height * Math.tan((form.draft * Math.PI) / 180);
        const base = polyline(spec, 0.02);
        expect(crossings(base)).toBe(0);
        expect(area(base)).toBeGreaterThan(-1);
        for (const run of [setback, setback + lean, setback + lean + form.lip]) {
          expect(crossings(polyline(spec, run))).toBe(0);
        }
        if (segments.some((s) => s.kind === 'corner' && s.sweep < 0)) concave++;
        else convex++;
      }),
      { seed: 1, numRuns: 500 },
    );
    expect(Math.min(convex, concave)).toBeGreaterThan(15);
  });

  test('with a waist are accepted exactly as long as the bends of both sides have room in it', () => {
    let [taken, refused] = [0, 0];
    fc.assert(
      fc.property(
        fc.double({ min: 8, max: 40, noNaN: true }),
        fc.double({ min: 1, max: 60, noNaN: true }),
        fc.double({ min: 5, max: 29, noNaN: true }),
        (half, radius, bottomRadius) => {
          const vertices = [
            [-150, -100, 30],
            [0, -half, radius],
            [150, -100, 30],
            [150, 100, 30],
            [0, half, radius],
            [-150, 100, 30],
          ].map(([x, y, r]) => ({ x, y, radius: r }));
          // The arc of an inward corner passes its vertex at radius·(1/cos(turn/2) − 1), away from the middle.
          const turn = 2 * Math.atan2(100 - half, 150);
          const room = half + radius * (1 / Math.cos(turn / 2) - 1);
          fc.pre(Math.abs(room - bottomRadius) > 3e-3);
          const result = read(file(vertices, { bottomRadius, draft: 0, lip: 0 }));
          if (room > bottomRadius) {
            taken++;
            expect(result).not.toBeInstanceOf(GatherpanError);
            return;
          }
          refused++;
          expect(result).toBeInstanceOf(GatherpanError);
          const [, most] = /run into each other on the base; give at most ([\d.]+) mm/.exec(
            (result as Error).message,
          )!;
          expect(Math.abs(Number(most) - room)).toBeLessThan(3e-3);
        },
      ),
      { seed: 2, numRuns: 120 },
    );
    expect(Math.min(taken, refused)).toBeGreaterThan(15);
  });

  test('with a cleft are accepted exactly as long as the lips of both sides have room in it', () => {
    let [taken, refused] = [0, 0];
    fc.assert(
      fc.property(
        fc.double({ min: 10, max: 60, noNaN: true }),
        fc.double({ min: 6, max: 29, noNaN: true }),
        (width, lip) => {
          // The cleft widens inwards, so that its mouth decides and not the radius of its corners.
          const vertices = [
            [0, 0, 25],
            [300, 0, 25],
            [300, 120 - width / 2, 5],
            [120, 60, 32],
            [120, 180, 32],
            [300, 120 + width / 2, 5],
            [300, 240, 25],
            [0, 240, 25],
          ].map(([x, y, r]) => ({ x, y, radius: r }));
          const result = read(file(vertices, { bottomRadius: 4, draft: 0, lip }));
          // The sides of the mouth end in arcs of radius 5 round points half the mouth and more away.
          const centre = arcCentre([300, 0], [300, 120 - width / 2], [120, 60], 5);
          const room = 120 - centre[1] - 5;
          fc.pre(Math.abs(room - lip) > 0.05);
          if (room > lip) {
            taken++;
            expect(result).not.toBeInstanceOf(GatherpanError);
            return;
          }
          refused++;
          expect((result as Error).message).toMatch(/run into each other; give at most/);
        },
      ),
      { seed: 6, numRuns: 80 },
    );
    expect(Math.min(taken, refused)).toBeGreaterThan(10);
  });

  /** Centre of the arc at b between the sides a–b and b–c, on the bisector. */
  function arcCentre(a: Line[0], b: Line[0], c: Line[0], radius: number): Line[0] {
    const unit = (p: Line[0]): Line[0] => {
      const length = Math.hypot(p[0] - b[0], p[1] - b[1]);
      return [(p[0] - b[0]) / length, (p[1] - b[1]) / length];
    };
    const [u, v] = [unit(a), unit(c)];
    const half = Math.acos(u[0] * v[0] + u[1] * v[1]) / 2;
    const [mx, my] = [u[0] + v[0], u[1] + v[1]];
    const away = radius / Math.sin(half) / Math.hypot(mx, my);
    return [b[0] + mx * away, b[1] + my * away];
  }

  test('that are refused are accepted once the value named is given', () => {
    let tried = 0;
    fc.assert(
      fc.property(plan, section, (vertices, form) => {
        const value = file(vertices, form);
        const refusal = read(value);
        if (!(refusal instanceof GatherpanError)) return;
        for (const { path, message } of refusal.faults) {
          const [, named] =
            /give (?:a |an )?(?:plan )?(?:radius of |height of )?at (?:most|least) ([\d.]+)/.exec(message) ??
            [];
          if (named === undefined || path.endsWith('bulge')) continue;
          const after = read(changed({ [path]: Number(named) }, value as object));
          const again = after instanceof GatherpanError ? after.faults.map(kind) : [];
          expect(again).not.toContain(kind({ path, message }));
          tried++;
        }
      }),
      { seed: 3, numRuns: 400 },
    );
    expect(tried).toBeGreaterThan(50);
  });

  /** What is wrong and where, numbers aside. */
  const kind = ({ path, message }: { path: string; message: string }): string =>
    `${path}: ${message.replace(/[\d.]+/g, '#')}`;

  test('may be moved and turned', () => {
    fc.assert(
      fc.property(
        plan,
        section,
        fc.double({ min: -500, max: 500, noNaN: true }),
        fc.double({ min: 0, max: 6, noNaN: true }),
        (vertices, form, by, angle) => {
          const [c, s] = [Math.cos(angle), Math.sin(angle)];
          const moved = vertices.map(({ x, y, ...rest }) => ({
            ...rest,
            x: c * x - s * y + by,
            y: s * x + c * y - by,
          }));
          const kinds = (value: unknown): string => {
            const result = read(value);
            return result instanceof GatherpanError ? result.faults.map(kind).join(' ') : 'sound';
          };
          expect(kinds(file(moved, form))).toBe(kinds(file(vertices, form)));
        },
      ),
      { seed: 4, numRuns: 300 },
    );
  });

  test('have walls that stand on the plan: the measured outside skin of an upright wall is half a sheet away', () => {
    const placed = new Float64Array(PLACED_SIZE);
    fc.assert(
      fc.property(plan, fc.double({ min: 2, max: 15, noNaN: true }), (vertices, bottomRadius) => {
        const spec = read(file(vertices, { bottomRadius, draft: 0, lip: 0 }));
        if (spec instanceof GatherpanError) return;
        const surface = neutralSurface(spec);
        const { thickness } = spec.sheet;
        for (const segment of surface.loop.segments) {
          if (segment.kind !== 'corner') continue;
          placeOnWall(surface, segment, 0.5, 1, 1, placed);
          const away = Math.hypot(placed[0]! - segment.centreX, placed[1]! - segment.centreY);
          const inwards = Math.sign(segment.sweep) * (segment.cornerRadius - away);
          // The neutral fibre lies between the middle and the inner skin of the bend (DIN 6935: k from 0 to 1).
          expect(inwards).toBeGreaterThan(0.49 * thickness);
          expect(inwards).toBeLessThan(thickness);
        }
      }),
      { seed: 5, numRuns: 200 },
    );
  });
});
