/**
 * Volume and area of a finished tray by adding up thin fibres: independent of the formulas in src/step.
 *
 * Gauss–Legendre quadrature through the thickness, up the section and along the plan. A fibre at a depth is that of
 * the neutral surface's definition (plan loop × section) with its own radii; its length along the loop is that of a
 * parallel curve (Steiner), plus what a mitre adds.
 */
import { neutralSurface } from '../../src/tray/neutralSurface.ts';
import { type LoopSegment, turnedAngle } from '../../src/tray/planLoop.ts';
import {
  insideBottomRadius,
  insideLipRadius,
  lipAngle,
  sectionPoint,
  straightLipLength,
  straightWallLength,
} from '../../src/tray/section.ts';
import type { HoleSpec, TraySpec } from '../../src/tray/spec.ts';

const NODES = [
  -0.9324695142031521, -0.6612093864662645, -0.2386191860831969, 0.2386191860831969, 0.6612093864662645,
  0.9324695142031521,
];
const WEIGHTS = [
  0.1713244923791704, 0.3607615730481386, 0.467913934572691, 0.467913934572691, 0.3607615730481386,
  0.1713244923791704,
];

function integral(f: (x: number) => number, from: number, to: number, panels: number): number {
  let sum = 0;
  for (let p = 0; p < panels; p++) {
    const [a, b] = [from + ((to - from) * p) / panels, from + ((to - from) * (p + 1)) / panels];
    for (const [i, x] of NODES.entries())
      sum += (WEIGHTS[i]! * (b - a) * f((a + b) / 2 + (x * (b - a)) / 2)) / 2;
  }
  return sum;
}

/** ∫ f(run) ds up a fibre: depth 0 on the upper skin to the thickness on the lower; and the run at its end. */
function up(
  spec: TraySpec,
  depth: number,
  extra: number,
  panels: number,
  f: (run: number) => number,
): { sum: number; end: number } {
  const { rim } = spec.section;
  const t = spec.sheet.thickness;
  let [run, angle, sum] = [0, 0, 0];
  const straight = (length: number): void => {
    sum += integral((s) => f(run + s * Math.cos(angle)), 0, length, panels);
    run += length * Math.cos(angle);
  };
  const bend = (turn: number, radius: number): void => {
    const sign = Math.sign(turn);
    const at = (v: number): number => run + sign * radius * (Math.sin(angle + sign * v) - Math.sin(angle));
    sum += integral((v) => radius * f(at(v)), 0, Math.abs(turn), panels);
    run = at(Math.abs(turn));
    angle += turn;
  };
  bend(turnedAngle(spec.section.draft), insideBottomRadius(spec) + depth);
  straight(straightWallLength(spec) + extra);
  if (rim.kind === 'lip') {
    const out = rim.direction === 'out';
    bend((out ? -1 : 1) * lipAngle(spec, rim), insideLipRadius(spec, rim) + (out ? t - depth : depth));
    straight(straightLipLength(spec, rim));
  }
  return { sum, end: run };
}

/** Twice the area between a segment of the loop and the origin. */
function twiceArea(s: LoopSegment): number {
  if (s.kind === 'side') return s.x0 * s.y1 - s.x1 * s.y0;
  const r = Math.sign(s.sweep) * s.radius;
  return integral(
    (a) => (s.centreX + r * Math.cos(a)) * r * Math.cos(a) + (s.centreY + r * Math.sin(a)) * r * Math.sin(a),
    s.startAngle,
    s.startAngle + s.sweep,
    8,
  );
}

export function byQuadrature(spec: TraySpec): { volume: number; area: number } {
  const t = spec.sheet.thickness;
  const { loop, section, weldGap } = neutralSurface(spec);
  const opens = section.pieces[0]!.radius;
  const { segments } = loop;
  const sin = Math.sin(turnedAngle(spec.section.draft));
  const furthest = Math.max(
    ...section.pieces.map(
      (piece) => sectionPoint(piece, 1, { run: 0, height: 0, angle: 0, developed: 0 }).run,
    ),
  );
  // The gap has a kink where it is fully open, which wants more panels.
  const panels = weldGap > 0 ? 200 : 6;
  let [volume, area, base] = [0, 0, 0];
  for (const [i, segment] of segments.entries()) {
    base += twiceArea(segment) / 2;
    if (!segment.wall) {
      area += segment.length * t;
      continue;
    }
    const heightAt = (f: number): number =>
      segment.heightAtStart + f * (segment.heightAtEnd - segment.heightAtStart);
    const extraAt = (f: number): number => (heightAt(f) - spec.section.height) / sin;
    const growth = extraAt(1) - extraAt(0);
    const turning = segment.kind === 'corner' ? segment.sweep : 0;
    const mitres = segment.kind === 'side' ? [segment.mitreAtStart, segment.mitreAtEnd] : [0, 0];
    // Where the neutral fibre never runs beyond a fully open gap, one plane cuts the whole end.
    const open = (run: number): number => (furthest > opens + 1e-9 ? Math.min(1, run / opens) : run / opens);
    const reach = (m: number, run: number): number =>
      m === 0 ? 0 : m * run - (weldGap / 2) * Math.hypot(1, m) * open(run);
    const lengthAt = (run: number): number =>
      segment.length + turning * run + mitres.reduce((sum, m) => sum + reach(m, run), 0);
    const along = (g: (f: number) => number): number => (growth === 0 ? g(0) : integral(g, 0, 1, 2));
    const fibres = (depth: number): number => along((f) => up(spec, depth, extraAt(f), panels, lengthAt).sum);
    volume += integral(fibres, 0, t, 1);
    area += fibres(0) + fibres(t);
    // The rim, square to the wall: between neighbouring fibres' ends.
    const rim = (depth: number): number =>
      along((f) => Math.hypot(lengthAt(up(spec, depth, extraAt(f), 1, () => 0).end), growth));
    area += integral(rim, 0, t, 1);
    // Faces at ends that meet no other wall: the section, seen obliquely where it is cut at a mitre.
    for (const [end, m] of mitres.entries()) {
      const other = segments[(i + (end === 0 ? segments.length - 1 : 1)) % segments.length]!;
      if (other.wall && (m === 0 || weldGap === 0)) continue;
      const oblique = (run: number): number =>
        m === 0 ? 1 : Math.hypot(1, (reach(m, run + 1e-6) - reach(m, run - 1e-6)) / 2e-6);
      area += integral((depth) => up(spec, depth, extraAt(end), panels, oblique).sum, 0, t, 1);
    }
  }
  volume += base * t;
  area += 2 * base;
  for (const { shape } of spec.holes ?? []) {
    const [inside, around] = holeMeasure(shape);
    volume -= inside * t;
    area += around * t - 2 * inside;
  }
  return { volume, area };
}

/** Area and length round. */
function holeMeasure(shape: HoleSpec['shape']): [number, number] {
  if (shape.kind === 'round') return [(Math.PI * shape.diameter ** 2) / 4, Math.PI * shape.diameter];
  if (shape.kind === 'slot') {
    const straight = shape.length - shape.width;
    return [straight * shape.width + (Math.PI * shape.width ** 2) / 4, 2 * straight + Math.PI * shape.width];
  }
  let [twice, round] = [0, 0];
  for (const [i, a] of shape.points.entries()) {
    const b = shape.points[(i + 1) % shape.points.length]!;
    twice += a.x * b.y - a.y * b.x;
    round += Math.hypot(b.x - a.x, b.y - a.y);
  }
  return [Math.abs(twice) / 2, round];
}
