/** Figures of each plan corner, and the two classical answers for its flat radius. */

import type { GatherZone } from '../gather/report.ts';
import { partLength } from '../gather/rimLengths.ts';
import type { FlatField } from '../geometry/flatField.ts';
import { hypotenuse } from '../geometry/hypotenuse.ts';
import type { Sheet } from '../material/sheet.ts';
import { turnName } from '../tray/cornerLetter.ts';
import type { NeutralSurface } from '../tray/neutralSurface.ts';
import type { CornerSegment, PlanLoop } from '../tray/planLoop.ts';
import type { Section } from '../tray/section.ts';
import { sectionPoint } from '../tray/section.ts';
import { percentFromLogStrain } from '../units.ts';
import { cornerPeaks } from './cornerPeaks.ts';
import type { CornerReport } from './flatPattern.ts';
import type { RimEdge } from './rimEdges.ts';

/** Outward run of the rim from the bend's beginning, mm. */
export function rimRun(section: Section): number {
  const last = section.pieces[section.pieces.length - 1]!;
  return sectionPoint(last, 1, { run: 0, height: 0, angle: 0, developed: 0 }).run;
}

const corners = (loop: PlanLoop): CornerSegment[] =>
  loop.segments.filter((segment): segment is CornerSegment => segment.kind === 'corner' && segment.wall);

/** Angle of (x, y) past the start of the corner's arc, turned the corner's way, from 0 to 2π. */
function anglePast(corner: CornerSegment, x: number, y: number): number {
  const sign = Math.sign(corner.sweep);
  // The wall of a concave corner lies on the other side of its centre.
  const angle = Math.atan2(sign * (y - corner.centreY), sign * (x - corner.centreX));
  const past = sign * (angle - corner.startAngle);
  return past - 2 * Math.PI * Math.floor(past / (2 * Math.PI) + 1e-9);
}

/**
 * For each rim node, the number of the plan corner above whose arc it stands, or -1 above a side.
 */
export function rimCorners(
  field: Pick<FlatField, 'formed' | 'rimNodes'>,
  surface: NeutralSurface,
): Int32Array {
  const run = rimRun(surface.section);
  const list = corners(surface.loop);
  const above = cornerAbove(list, run);
  return Int32Array.from(field.rimNodes, (node) =>
    above(field.formed[3 * node]!, field.formed[3 * node + 1]!),
  );
}

/** The number of the corner above whose arc a point of the rim stands in plan, or -1. */
const cornerAbove =
  (list: readonly CornerSegment[], run: number) =>
  (x: number, y: number): number => {
    for (const corner of list) {
      const expected = Math.abs(corner.radius + Math.sign(corner.sweep) * run);
      const distance = hypotenuse(x - corner.centreX, y - corner.centreY);
      if (Math.abs(distance - expected) > 0.02 * expected + 1e-6) continue;
      if (anglePast(corner, x, y) <= Math.abs(corner.sweep) * (1 + 1e-9) + 1e-9) return corner.index;
    }
    return -1;
  };

/** The net rim within the worked one. */
export interface NetRim {
  /** Its edges over the whole blank. */
  readonly edges: readonly RimEdge[];
  /** Outward run of it from the bend's beginning, mm. */
  readonly run: number;
}

/** The report of every plan corner, in order. */
export function cornerReports(
  field: FlatField,
  surface: NeutralSurface,
  sheet: Sheet,
  zones: readonly GatherZone[],
  net: NetRim,
): CornerReport[] {
  const { rimNodes, rimCorner, flat } = field;
  const list = corners(surface.loop);
  const run = rimRun(surface.section);
  const peaks = cornerPeaks(field, rimMiddles(list, run));
  const above = cornerAbove(list, run);
  const netFlat = new Map<number, number>();
  const netThickness = new Map<number, { reach: number; sum: number }>();
  const whole = { edge: { from: 0, middle: 1, to: 2 }, start: 0, end: 1 };
  for (const { points, above: at, reach, thickening, worked } of net.edges) {
    const index = worked ? above(...at) : -1;
    const before = netThickness.get(index) ?? { reach: 0, sum: 0 };
    netThickness.set(index, { reach: before.reach + reach, sum: before.sum + reach * thickening });
    netFlat.set(index, (netFlat.get(index) ?? 0) + partLength(points, 2, whole));
  }
  return list.map((corner, number) => {
    let flatRimLength = 0;
    for (let i = 1; i < rimNodes.length; i += 2) {
      if (rimCorner[i] !== corner.index) continue;
      const edge = {
        from: rimNodes[i - 1]!,
        middle: rimNodes[i]!,
        to: rimNodes[(i + 1) % rimNodes.length]!,
      };
      flatRimLength += partLength(flat, 2, { edge, start: 0, end: 1 });
    }
    const rimRadius = Math.abs(corner.radius + Math.sign(corner.sweep) * run);
    const formedRimLength = rimRadius * Math.abs(corner.sweep);
    const { shrink, stretch, thickest, thinnest } = peaks[number]!;
    const middle = corner.startAngle + corner.sweep / 2;
    const sign = Math.sign(corner.sweep);
    return {
      index: corner.index,
      letter: turnName(corner.index, surface.loop.vertexCount),
      at: {
        x: corner.centreX + sign * rimRadius * Math.cos(middle),
        y: corner.centreY + sign * rimRadius * Math.sin(middle),
      },
      cornerRadius: corner.cornerRadius,
      flatRimLength,
      formedRimLength,
      arcRimToLose: flatRimLength - formedRimLength,
      ...zoneLoss(corner.index, zones),
      netFlatRimLength: netFlat.get(corner.index) ?? 0,
      netRimThickness: sheet.thickness * meanOf(netThickness.get(corner.index)),
      netFormedRimLength: Math.abs(corner.radius + sign * net.run) * Math.abs(corner.sweep),
      flatCornerRadius: flatRadiusAtMiddle(field, corner, middle),
      arcLengthCornerRadius: corner.radius + sign * surface.section.developed,
      equalAreaCornerRadius: equalAreaRadius(corner, surface.section),
      peakGather: -percentFromLogStrain(shrink),
      peakStretch: percentFromLogStrain(stretch),
      thickest: sheet.thickness * Math.exp(thickest),
      thinnest: sheet.thickness * Math.exp(thinnest),
    };
  });
}

const meanOf = (whole: { readonly reach: number; readonly sum: number } | undefined): number =>
  whole === undefined ? 1 : whole.sum / whole.reach;

/** The rim that a corner's gather zone has to lose, and all corners of that zone. */
export function zoneLoss(
  corner: number,
  zones: readonly GatherZone[],
): Pick<CornerReport, 'rimToLose' | 'rimToLoseCorners'> {
  let most: { rimToLose: number; rimToLoseCorners: readonly number[] } | null = null;
  for (const { corners, rim } of zones) {
    if (rim === null || !corners.includes(corner)) continue;
    if (most === null || Math.abs(rim.toLose) > Math.abs(most.rimToLose))
      most = { rimToLose: rim.toLose, rimToLoseCorners: corners };
  }
  return most ?? { rimToLose: null, rimToLoseCorners: [] };
}

/** The longest rim that a zone of the blank has to lose, mm; 0 without one. */
export const mostRimToLose = (zones: readonly GatherZone[]): number =>
  zones.reduce((most, { rim }) => Math.max(most, rim?.toLose ?? 0), 0);

/** Middles of the corners' rims, in plan. */
function rimMiddles(list: readonly CornerSegment[], run: number): { x: number; y: number }[] {
  return list.map((corner) => {
    const middle = corner.startAngle + corner.sweep / 2;
    const radius = corner.sweep > 0 ? corner.radius + run : -(corner.radius - run);
    return { x: corner.centreX + radius * Math.cos(middle), y: corner.centreY + radius * Math.sin(middle) };
  });
}

/** Distance of the flat rim from the centre of the base's corner, at the rim node formed nearest its middle. */
function flatRadiusAtMiddle(field: FlatField, corner: CornerSegment, middle: number): number {
  const { rimNodes, rimCorner, flat } = field;
  const sign = Math.sign(corner.sweep);
  const cx = sign * Math.cos(middle);
  const cy = sign * Math.sin(middle);
  // Quadratic interpolation of the distance over the rim edge that crosses the middle line.
  const off = (node: number): number =>
    (flat[2 * node]! - corner.centreX) * -cy + (flat[2 * node + 1]! - corner.centreY) * cx;
  const out = (node: number): number =>
    (flat[2 * node]! - corner.centreX) * cx + (flat[2 * node + 1]! - corner.centreY) * cy;
  for (let i = 1; i < rimNodes.length; i += 2) {
    if (rimCorner[i] !== corner.index) continue;
    const nodes = [rimNodes[i - 1]!, rimNodes[i]!, rimNodes[(i + 1) % rimNodes.length]!] as const;
    if (off(nodes[0]) * off(nodes[2]) > 0) continue;
    const quadratic = (f: (node: number) => number, at: number): number =>
      0.5 * at * (at - 1) * f(nodes[0]) + (1 - at * at) * f(nodes[1]) + 0.5 * at * (at + 1) * f(nodes[2]);
    let low = -1;
    let high = 1;
    const rising = off(nodes[2]) >= off(nodes[0]);
    for (let k = 0; k < 50; k++) {
      const at = (low + high) / 2;
      if (quadratic(off, at) > 0 === rising) high = at;
      else low = at;
    }
    return Math.abs(quadratic(out, (low + high) / 2));
  }
  return Number.NaN;
}

/**
 * Flat radius of the corner if thickness were kept and the flat corner were a sector: from equal areas,
 * R² = R_b² ± 2·∫(R_b ± run) dv (Pappus–Guldin).
 */
export function equalAreaRadius(corner: CornerSegment, section: Section): number {
  const sign = Math.sign(corner.sweep);
  let integral = 0;
  for (const piece of section.pieces) {
    const { length, radius, angle, run } = piece;
    integral += (corner.radius + sign * run) * length;
    // ∫(run(v) − run) dv over the piece
    integral +=
      sign *
      (piece.kind === 'straight'
        ? (length * length * Math.cos(angle)) / 2
        : radius *
          (radius * (Math.cos(angle) - Math.cos(angle + length / radius)) - length * Math.sin(angle)));
  }
  return Math.sqrt(Math.max(0, corner.radius * corner.radius + 2 * sign * integral));
}
