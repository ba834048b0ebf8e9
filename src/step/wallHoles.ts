/** Holes in the straight wall of a side, square to the sheet. */
import { moved, type Vector3 } from '../geometry/vector3.ts';
import { holeOutline } from '../tray/holeOutline.ts';
import { type LoopPoint, planVertices, turnedAngle } from '../tray/planLoop.ts';
import type { TraySpec } from '../tray/spec.ts';
import { type BrepWriter, type EdgeUse, reversed } from './brep.ts';
import { clockwise, prismSides } from './prism.ts';
import { type FormedSheet, placed, type Strip, stationAt } from './strips.ts';

export interface WallHoles {
  /** Numbers of the profile's pieces that are the straight wall, on the upper and the lower skin. */
  readonly side: readonly [number, number];
  /** Loops of the holes on the upper and the lower skin. */
  readonly skins: readonly [EdgeUse[][], EdgeUse[][]];
}

/** Writes the sides of the holes in one strip of the wall. */
export function wallHoles(brep: BrepWriter, spec: TraySpec, sheet: FormedSheet, strip: Strip): WallHoles {
  const { points, pieces, rim } = sheet.profile;
  const upper = pieces.findIndex(({ kind }, j) => kind === 'line' && j < rim);
  const lower = pieces.findLastIndex(({ kind }, j) => kind === 'line' && j > rim);
  const skins: [EdgeUse[][], EdgeUse[][]] = [[], []];
  const segment = strip.parts[0];
  if (segment.kind !== 'side') return { side: [upper, lower], skins };
  const station = stationAt(segment, 0);
  const angle = turnedAngle(spec.section.draft);
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const along: Vector3 = [-station.normalY, station.normalX, 0];
  const up: Vector3 = [station.normalX * c, station.normalY * c, s];
  const out: Vector3 = [station.normalX * s, station.normalY * s, -c];
  for (const { place, shape } of spec.holes ?? []) {
    if (place.on !== 'wall' || place.edge !== segment.edge) continue;
    const reach = (place.height - spec.section.bottomRadius * (1 - c)) / s;
    const from = middleOf(spec, place.edge, station) + place.along;
    const foot = placed(station, points[upper]!);
    const origin = moved(moved(foot, from, along), reach, up);
    const frame = { origin, x: along, y: up, z: out };
    const loops = prismSides(brep, clockwise(holeOutline(shape)), sheet.thickness, frame);
    skins[0].push(loops.lower.map(reversed).reverse());
    skins[1].push([...loops.upper]);
  }
  return { side: [upper, lower], skins };
}

/** Where the middle of a plan edge lies along its side, from the side's start, mm. */
function middleOf(spec: TraySpec, edge: number, start: LoopPoint): number {
  const vertices = planVertices(spec.plan);
  const [from, to] = [vertices[edge]!, vertices[(edge + 1) % vertices.length]!];
  return ((from.x + to.x) / 2 - start.x) * -start.normalY + ((from.y + to.y) / 2 - start.y) * start.normalX;
}
