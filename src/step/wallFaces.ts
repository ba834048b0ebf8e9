/** The faces of one strip of the wall: skins, rim, or the flat edge where a side is open. */
import { cross, minus, unit, type Vector3 } from '../geometry/vector3.ts';
import type { CornerSegment, LoopSegment } from '../tray/planLoop.ts';
import { type BrepWriter, type EdgeUse, reversed, type Surface } from './brep.ts';
import type { ProfilePoint } from './profile.ts';
import { pieceCount, rimCurve } from './rimCurve.ts';
import { acrossEdges, cutPoint, type SectionCut } from './sectionEdges.ts';
import { NEAR, type Sharing } from './sharing.ts';
import { type FormedSheet, placed, pointsAt, ringRadius, type Strip, stationAt } from './strips.ts';
import { cornerReference, sweptSurface } from './sweptSurface.ts';

/** The edges of a strip. Along the loop, one list a profile point; across, one list a piece of the profile. */
export interface StripEdges {
  readonly strip: Strip;
  readonly start: SectionCut;
  readonly end: SectionCut;
  readonly along: readonly (readonly EdgeUse[])[];
  readonly across: { readonly start: readonly EdgeUse[][]; readonly end: readonly EdgeUse[][] };
}

const back = (uses: readonly EdgeUse[]): EdgeUse[] => uses.map(reversed).reverse();

/** @param ring whether the rim is one face all round, without edges across */
export function stripEdges(sharing: Sharing, sheet: FormedSheet, strip: Strip, ring: boolean): StripEdges {
  const { parts } = strip;
  const { pieces, points, rim } = sheet.profile;
  const [first, last] = [parts[0], parts[parts.length - 1]!];
  const cut = (segment: LoopSegment, atEnd: boolean): SectionCut => ({
    station: stationAt(segment, atEnd ? 1 : 0),
    points: pointsAt(sheet, atEnd ? segment.heightAtEnd : segment.heightAtStart),
    pieces,
    mitre: (atEnd ? strip.end : strip.start).mitre,
    atEnd,
  });
  const [start, end] = [cut(first, false), cut(last, true)];
  const along = points.map((_, j) => {
    const isEdge = j === 0 || j === points.length - 1;
    if (!strip.wall && !isEdge) return [];
    if (first.kind === 'corner') return cornerEdge(sharing, first, start, end, j);
    const stops =
      j === rim || j === rim + 1
        ? parts.slice(1).map((part) => placed(stationAt(part, 0), pointsAt(sheet, part.heightAtStart)[j]!))
        : [];
    const places = [cutPoint(start, start.points[j]!), ...stops, cutPoint(end, end.points[j]!)];
    return places.slice(1).map((place, k) => sharing.line(places[k]!, place));
  });
  const across = (at: SectionCut): EdgeUse[][] =>
    strip.wall ? pieces.map((_, j) => (ring && j === rim ? [] : acrossEdges(sharing, at, j))) : [];
  return { strip, start, end, along, across: { start: across(start), end: across(end) } };
}

/** The edge about a corner at a profile point; none where the corner's arc shrinks to a point. */
function cornerEdge(
  sharing: Sharing,
  segment: CornerSegment,
  start: SectionCut,
  end: SectionCut,
  j: number,
): EdgeUse[] {
  const [from, to] = [start.points[j]!, end.points[j]!];
  const middle: ProfilePoint = { run: (from.run + to.run) / 2, height: (from.height + to.height) / 2 };
  const radius = ringRadius(segment, middle.run);
  if (radius < NEAR) return [];
  const curve = (): string =>
    from.height === to.height
      ? sharing.brep.circle(
          [segment.centreX, segment.centreY, from.height],
          [0, 0, Math.sign(segment.sweep)],
          cornerReference(segment),
          radius,
        )
      : sharing.brep.spline(rimCurve(segment, from, to, rimPieces(segment, start, end)));
  return [
    sharing.edge(cutPoint(start, from), cutPoint(end, to), placed(stationAt(segment, 0.5), middle), curve),
  ];
}

/** The same for both skins, so that the rim between them is ruled point for point. */
const rimPieces = (segment: CornerSegment, start: SectionCut, end: SectionCut): number =>
  pieceCount(
    segment,
    Math.max(...[...start.points, ...end.points].map(({ run }) => ringRadius(segment, run))),
  );

/**
 * Writes the faces of both skins.
 *
 * @param holed numbers of the pieces, upper and lower skin, that have the holes
 * @param holes their loops, on the upper and the lower skin
 */
export function wallFaces(
  brep: BrepWriter,
  { profile }: FormedSheet,
  { strip, start, along, across }: StripEdges,
  holed: readonly number[],
  holes: readonly (readonly (readonly EdgeUse[])[])[],
): void {
  for (const [j, piece] of profile.pieces.entries()) {
    if (j === profile.rim) continue;
    const { surface, outward } = sweptSurface(strip.parts[0], start.points[j]!, start.points[j + 1]!, piece);
    const bound = [...across.start[j]!, ...along[j + 1]!, ...back(across.end[j]!), ...back(along[j]!)];
    brep.face(surface, outward, [bound, ...(holes[holed.indexOf(j)] ?? [])]);
  }
}

/** Writes the rim, a face for each part of the strip. */
export function rimFaces(
  sharing: Sharing,
  sheet: FormedSheet,
  { strip, start, end, along, across }: StripEdges,
): void {
  const { brep } = sharing;
  const { profile } = sheet;
  const j = profile.rim;
  const { parts } = strip;
  const segment = parts[0];
  if (segment.kind === 'corner') {
    const [from, to] = [start.points, end.points];
    const bound = [...across.start[j]!, ...along[j + 1]!, ...back(across.end[j]!), ...back(along[j]!)];
    if (from[j]!.height === to[j]!.height) {
      const { surface, outward } = sweptSurface(segment, from[j]!, from[j + 1]!, profile.pieces[j]!);
      brep.face(surface, outward, [bound]);
      return;
    }
    const count = rimPieces(segment, start, end);
    // From the lower skin to the upper, so that along × across points up.
    const surface: Surface = {
      kind: 'ruled',
      from: rimCurve(segment, from[j + 1]!, to[j + 1]!, count),
      to: rimCurve(segment, from[j]!, to[j]!, count),
    };
    brep.face(surface, true, [bound]);
    return;
  }
  // Upper and lower place at every stop along the side.
  const stops: (readonly [Vector3, Vector3])[] = [
    [cutPoint(start, start.points[j]!), cutPoint(start, start.points[j + 1]!)],
    ...parts.slice(1).map((part): readonly [Vector3, Vector3] => {
      const points = pointsAt(sheet, part.heightAtStart);
      const station = stationAt(part, 0);
      return [placed(station, points[j]!), placed(station, points[j + 1]!)];
    }),
    [cutPoint(end, end.points[j]!), cutPoint(end, end.points[j + 1]!)],
  ];
  for (let k = 0; k + 1 < stops.length; k++) {
    const [[upper, lower], [nextUpper, nextLower]] = [stops[k]!, stops[k + 1]!];
    const before = k === 0 ? across.start[j]! : [sharing.line(upper, lower)];
    const after = k + 2 === stops.length ? across.end[j]! : [sharing.line(nextUpper, nextLower)];
    const bound = [...before, along[j + 1]![k]!, ...back(after), reversed(along[j]![k]!)];
    brep.face(planeThrough(upper, lower, nextLower), true, [bound]);
  }
}

/** The plane of three points, counter-clockwise seen from outside. */
function planeThrough(a: Vector3, b: Vector3, c: Vector3): Surface {
  const along = minus(c, b);
  return { kind: 'plane', origin: b, axis: unit(cross(along, minus(a, b))), reference: unit(along) };
}

/** Writes the edge of the flat sheet along a side without a wall. */
export function openEdgeFace(sharing: Sharing, { strip, start, end, along }: StripEdges): void {
  const last = start.points.length - 1;
  const upright = (at: SectionCut): EdgeUse =>
    sharing.line(cutPoint(at, at.points[last]!), cutPoint(at, at.points[0]!));
  // A line between the skins at run 0, swept: upwards, the material lies to its right.
  const { surface, outward } = sweptSurface(strip.parts[0], start.points[last]!, start.points[0]!, {
    kind: 'line',
  });
  const bound = [...along[last]!, upright(end), ...back(along[0]!), reversed(upright(start))];
  sharing.brep.face(surface, !outward, [bound]);
}
