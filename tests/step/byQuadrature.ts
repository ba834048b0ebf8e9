/**
 * Volume and area of a finished tray by adding up thin rings: independent of the formulas in src/step.
 *
 * The skins are offsets of one another, so the sheet's volume is the integral over its middle surface of
 * thickness × (1 + terms that cancel): here simply Gauss–Legendre quadrature through the thickness and along the
 * section, ring lengths from the plan (Steiner's formula for parallel curves, L(run) = L0 + run·Σsweep).
 */

import { planLoop, turnedAngle } from '../../src/tray/planLoop.ts';
import {
  insideBottomRadius,
  insideLipRadius,
  lipAngle,
  straightLipLength,
  straightWallLength,
} from '../../src/tray/section.ts';
import type { TraySpec } from '../../src/tray/spec.ts';

const NODES = [
  -0.9324695142031521, -0.6612093864662645, -0.2386191860831969, 0.2386191860831969, 0.6612093864662645,
  0.9324695142031521,
];
const WEIGHTS = [
  0.1713244923791704, 0.3607615730481386, 0.467913934572691, 0.467913934572691, 0.3607615730481386,
  0.1713244923791704,
];

function integral(f: (x: number) => number, from: number, to: number): number {
  const panels = 8;
  let sum = 0;
  for (let p = 0; p < panels; p++) {
    const [a, b] = [from + ((to - from) * p) / panels, from + ((to - from) * (p + 1)) / panels];
    for (const [i, x] of NODES.entries())
      sum += (WEIGHTS[i]! * (b - a) * f((a + b) / 2 + (x * (b - a)) / 2)) / 2;
  }
  return sum;
}

/** The section as fibres: `at(depth)` 0 on the upper skin to the thickness on the lower. */
function fibre(spec: TraySpec, depth: number, turning: number, baseLength: number): number {
  // Area swept by one fibre: ∫ (L0 + turning·run) ds
  const { rim } = spec.section;
  const t = spec.sheet.thickness;
  let [run, angle, area] = [0, 0, 0];
  const straight = (length: number): void => {
    area += integral((s) => baseLength + turning * (run + s * Math.cos(angle)), 0, length);
    run += length * Math.cos(angle);
  };
  const bend = (turn: number, radius: number): void => {
    const sign = Math.sign(turn);
    const at = (v: number): number => run + sign * radius * (Math.sin(angle + sign * v) - Math.sin(angle));
    area += integral((v) => radius * (baseLength + turning * at(v)), 0, Math.abs(turn));
    run = at(Math.abs(turn));
    angle += turn;
  };
  bend(turnedAngle(spec.section.draft), insideBottomRadius(spec) + depth);
  straight(straightWallLength(spec));
  if (rim.kind === 'lip') {
    const out = rim.direction === 'out';
    bend((out ? -1 : 1) * lipAngle(spec, rim), insideLipRadius(spec, rim) + (out ? t - depth : depth));
    straight(straightLipLength(spec, rim));
  }
  return area;
}

/** Plan length and area of the base's edge, by fine chords extrapolated to none (Richardson). */
function base(spec: TraySpec): { length: number; area: number; turning: number } {
  let [length, area, turning] = [0, 0, 0];
  for (const s of planLoop(spec).segments) {
    length += s.length;
    if (s.kind === 'side') {
      area += (s.x0 * s.y1 - s.x1 * s.y0) / 2;
      continue;
    }
    turning += s.sweep;
    const r = Math.sign(s.sweep) * s.radius;
    area += integral(
      (a) =>
        ((s.centreX + r * Math.cos(a)) * r * Math.cos(a) + (s.centreY + r * Math.sin(a)) * r * Math.sin(a)) /
        2,
      s.startAngle,
      s.startAngle + s.sweep,
    );
  }
  return { length, area, turning };
}

export function byQuadrature(spec: TraySpec): { volume: number; area: number } {
  const t = spec.sheet.thickness;
  const { length, area, turning } = base(spec);
  const walls = (depth: number): number => fibre(spec, depth, turning, length);
  // The rim strip: from skin to skin along the sheet's normal, at the fibre's end.
  const ends = [0, t].map((depth) => endRun(spec, depth));
  const rim = t * (length + (turning * (ends[0]! + ends[1]!)) / 2);
  return {
    volume: area * t + integral(walls, 0, t),
    area: 2 * area + walls(0) + walls(t) + rim,
  };
}

function endRun(spec: TraySpec, depth: number): number {
  const { rim } = spec.section;
  const angle = turnedAngle(spec.section.draft);
  let run = (insideBottomRadius(spec) + depth) * Math.sin(angle) + straightWallLength(spec) * Math.cos(angle);
  if (rim.kind === 'lip') {
    const out = rim.direction === 'out';
    const radius = insideLipRadius(spec, rim) + (out ? spec.sheet.thickness - depth : depth);
    const end = out ? 0 : Math.PI;
    run += (out ? -1 : 1) * radius * (Math.sin(end) - Math.sin(angle));
    run += straightLipLength(spec, rim) * Math.cos(end);
  }
  return run;
}
