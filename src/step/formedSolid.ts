/**
 * The finished tray as a thin solid at nominal thickness, every face an exact plane, cylinder, cone, sphere or
 * torus: plan loop × section, one face a strip of the wall and piece of the section.
 *
 * The base's lower skin lies at z = 0, x and y are those of the plan. Where the rim runs from one height to another
 * it does so as the neutral surface's does: the straight wall is longer or shorter, linearly along each segment of
 * the loop, on all fibres alike, and the rim is square to the sheet. Over a corner its edges are then no curves of
 * the exchange format; see `rimCurve.ts`. A side without a wall ends as the flat of the base does. The sides at a
 * notched corner end in the upright plane of the mitre, where they meet skin to skin, or in planes that leave the
 * weld gap open.
 */

import { holeOutline } from '../tray/holeOutline.ts';
import type { TraySpec } from '../tray/spec.ts';
import { BrepWriter, type EdgeUse, reversed, type Surface } from './brep.ts';
import { text } from './part21.ts';
import { clockwise, type PrismLoops, prismSides } from './prism.ts';
import { exchangeFile, type Protocol } from './product.ts';
import { endFaces } from './sectionEdges.ts';
import { NEAR, Sharing } from './sharing.ts';
import { type FormedSheet, formedSheet, stationAt } from './strips.ts';
import { openEdgeFace, rimFaces, type StripEdges, stripEdges, wallFaces } from './wallFaces.ts';
import { wallHoles } from './wallHoles.ts';

/**
 * A STEP file of the finished tray.
 *
 * @param description a sentence for whoever opens the product, may be empty
 */
export function writeFormedSolid(
  spec: TraySpec,
  name: string,
  protocol: Protocol,
  description = '',
): Uint8Array {
  const sheet = formedSheet(spec);
  return exchangeFile(
    name,
    protocol,
    (data) => {
      const brep = new BrepWriter(data);
      writeFaces(new Sharing(brep), sheet, spec);
      return { solids: [brep.solid(text(name))], curves: [] };
    },
    description,
  );
}

function writeFaces(sharing: Sharing, sheet: FormedSheet, spec: TraySpec): void {
  const { brep } = sharing;
  const ring = isRing(sheet);
  const all = sheet.strips.map((strip) => stripEdges(sharing, sheet, strip, ring));
  for (const [i, edges] of all.entries()) {
    if (!edges.strip.wall) {
      openEdgeFace(sharing, edges);
      continue;
    }
    const { side, skins } = wallHoles(brep, spec, sheet, edges.strip);
    wallFaces(brep, sheet, edges, side, skins);
    if (!ring) rimFaces(sharing, sheet, edges);
    if (!edges.strip.start.meets) endFaces(sharing, all[i]!.start);
    if (!edges.strip.end.meets) endFaces(sharing, all[i]!.end);
  }
  const { points, rim } = sheet.profile;
  if (ring) {
    brep.face(level(points[rim]!.height, 1), true, [around(all, rim + 1), back(around(all, rim))]);
  }
  // A bowl has no flat base: its base edge is one point, or a line walked there and back.
  if (flatArea(sheet) < NEAR) return;
  const holes = baseHoles(brep, spec);
  const last = points.length - 1;
  brep.face(level(sheet.thickness, 1), true, [around(all, 0), ...holes.map(({ upper }) => [...upper])]);
  brep.face(level(0, -1), true, [back(around(all, last)), ...holes.map(({ lower }) => back([...lower]))]);
}

/** Whether the rim is one flat ring. */
function isRing({ strips, profile, extraAt }: FormedSheet): boolean {
  const { points, rim } = profile;
  return (
    Math.abs(points[rim]!.height - points[rim + 1]!.height) < NEAR &&
    strips.every(
      ({ parts, start, end }) =>
        start.meets &&
        end.meets &&
        parts.every((part) => extraAt(part.heightAtStart) === 0 && extraAt(part.heightAtEnd) === 0),
    )
  );
}

/** All edges along the loop at a point of the profile. */
const around = (all: readonly StripEdges[], j: number): EdgeUse[] => all.flatMap(({ along }) => along[j]!);

const back = (uses: readonly EdgeUse[]): EdgeUse[] => uses.map(reversed).reverse();

const level = (height: number, up: 1 | -1): Surface => ({
  kind: 'plane',
  origin: [0, 0, height],
  axis: [0, 0, up],
  reference: [1, 0, 0],
});

/** Sides of the holes in the base. */
function baseHoles(brep: BrepWriter, spec: TraySpec): PrismLoops[] {
  return (spec.holes ?? []).flatMap(({ place, shape }) => {
    if (place.on !== 'base') return [];
    const outline = holeOutline(shape).map(({ x, y, bulge }) => ({ x: place.x + x, y: place.y + y, bulge }));
    return [prismSides(brep, clockwise(outline), spec.sheet.thickness)];
  });
}

/** Area inside the loop by chords, enough to tell a flat base from none. */
function flatArea({ strips }: FormedSheet): number {
  let sum = 0;
  for (const segment of strips.flatMap(({ parts }) => parts)) {
    const [a, b, c] = [stationAt(segment, 0), stationAt(segment, 0.5), stationAt(segment, 1)];
    sum += a.x * b.y - a.y * b.x + b.x * c.y - b.y * c.x;
  }
  return Math.abs(sum) / 2;
}
