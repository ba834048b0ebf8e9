/**
 * Edges across the wall: one section of the sheet, square to its side or cut at a mitre, and the face that closes
 * it where no other strip meets it.
 */
import type { Vector3 } from '../geometry/vector3.ts';
import type { LoopPoint } from '../tray/planLoop.ts';
import { type EdgeUse, reversed, type Surface } from './brep.ts';
import type { ProfilePiece, ProfilePoint } from './profile.ts';
import { NEAR, type Sharing } from './sharing.ts';
import { type Mitre, placed, reach } from './strips.ts';

/** The sheet's section at a strip's end. */
export interface SectionCut {
  readonly station: LoopPoint;
  readonly points: readonly ProfilePoint[];
  readonly pieces: readonly ProfilePiece[];
  readonly mitre: Mitre | null;
  /** Whether this is the end of its strip, in the loop's direction, or the start. */
  readonly atEnd: boolean;
}

/** A piece of the section, or half of one that the kink of a weld gap cuts. */
export interface CutPiece {
  readonly from: ProfilePoint;
  readonly to: ProfilePoint;
  readonly piece: ProfilePiece;
  /** Beyond the kink. */
  readonly beyond: boolean;
}

/** Where a profile point of the section lies. */
export const cutPoint = ({ station, mitre, atEnd }: SectionCut, point: ProfilePoint): Vector3 =>
  placed(station, point, (atEnd ? 1 : -1) * reach(mitre, point.run));

/** The edges along piece number `j` of the section. */
export function acrossEdges(sharing: Sharing, cut: SectionCut, j: number): EdgeUse[] {
  return cutPieces(cut, j).map((piece) => pieceEdge(sharing, cut, piece));
}

function pieceEdge(sharing: Sharing, cut: SectionCut, { from, to, piece }: CutPiece): EdgeUse {
  const [start, end] = [cutPoint(cut, from), cutPoint(cut, to)];
  if (piece.kind === 'line') return sharing.line(start, end);
  const { station } = cut;
  const out = arcMiddle(from, to, piece.centre);
  const middle: ProfilePoint = {
    run: piece.centre.run + piece.radius * out.run,
    height: piece.centre.height + piece.radius * out.height,
  };
  return sharing.edge(start, end, cutPoint(cut, middle), () => {
    // Left of travel the centre: turning from N towards z, about −T.
    const about = turn(from, to, piece.centre);
    if (cut.mitre === null) {
      return sharing.brep.circle(
        placed(station, piece.centre),
        [about * station.normalY, -about * station.normalX, 0],
        [-out.run * station.normalX, -out.run * station.normalY, -out.height],
        piece.radius,
      );
    }
    // A cylinder cut by an upright plane: an ellipse, longer along the plane's own horizontal.
    const [x, y, stretch] = horizontal(cut, middle.run);
    const side = out.run > 0 ? -1 : 1;
    const shift = (cut.atEnd ? 1 : -1) * straightReach(cut.mitre, middle.run, piece.centre.run);
    return sharing.brep.ellipse(
      placed(station, piece.centre, shift),
      [about * y, -about * x, 0],
      [side * x, side * y, 0],
      piece.radius * stretch,
      piece.radius,
    );
  });
}

/** Slope of the cutting plane at a run: growth of the reach per run. */
const slopeAt = ({ slope, short, opens, kinked }: Mitre, run: number): number =>
  kinked && run > opens ? slope : slope - short / opens;

/** Reach at `run` of the plane that cuts at `where`. */
const straightReach = (mitre: Mitre, where: number, run: number): number =>
  reach(mitre, where) + slopeAt(mitre, where) * (run - where);

/** Unit horizontal of the cutting plane, outwards, and its length per run. */
function horizontal({ station, mitre, atEnd }: SectionCut, run: number): [number, number, number] {
  const slope = mitre === null ? 0 : (atEnd ? 1 : -1) * slopeAt(mitre, run);
  const stretch = Math.hypot(1, slope);
  return [
    (station.normalX - slope * station.normalY) / stretch,
    (station.normalY + slope * station.normalX) / stretch,
    stretch,
  ];
}

/** A piece in one, or cut where the gap's kink crosses it. */
export function cutPieces(cut: SectionCut, j: number): CutPiece[] {
  const { mitre, points, pieces } = cut;
  const [from, to, piece] = [points[j]!, points[j + 1]!, pieces[j]!];
  const kink = mitre?.kinked ? mitre.opens : Infinity;
  const beyond = (run: number): boolean => run > kink;
  const crossings = kink < Infinity ? crossingsOf(from, to, piece, kink) : [];
  const ends = [from, ...crossings, to];
  return ends.slice(1).map((end, k) => {
    const start = ends[k]!;
    const middle =
      piece.kind === 'line'
        ? (start.run + end.run) / 2
        : piece.centre.run + piece.radius * arcMiddle(start, end, piece.centre).run;
    return { from: start, to: end, piece, beyond: beyond(middle) };
  });
}

/** Points inside a piece at a run, in the piece's direction. */
function crossingsOf(from: ProfilePoint, to: ProfilePoint, piece: ProfilePiece, run: number): ProfilePoint[] {
  const inside = (t: number): boolean => t > 1e-9 && t < 1 - 1e-9;
  if (piece.kind === 'line') {
    const t = (run - from.run) / (to.run - from.run);
    return inside(t) ? [{ run, height: from.height + t * (to.height - from.height) }] : [];
  }
  const { centre, radius } = piece;
  const half = Math.sqrt(Math.max(0, radius ** 2 - (run - centre.run) ** 2));
  const about = turn(from, to, centre);
  const angleFrom = (point: ProfilePoint): number => {
    const angle =
      about *
      (Math.atan2(point.height - centre.height, point.run - centre.run) -
        Math.atan2(from.height - centre.height, from.run - centre.run));
    return angle - 2 * Math.PI * Math.floor(angle / (2 * Math.PI) + 1e-12);
  };
  const whole = angleFrom(to);
  return [-half, half]
    .map((up) => ({ run, height: centre.height + up }))
    .filter((point, i) => (i === 0 || half > 1e-6) && inside(angleFrom(point) / whole))
    .sort((a, b) => angleFrom(a) - angleFrom(b));
}

/** Unit vector from the centre to the arc's middle. */
export function arcMiddle(from: ProfilePoint, to: ProfilePoint, centre: ProfilePoint): ProfilePoint {
  const run = (from.run + to.run) / 2 - centre.run;
  const height = (from.height + to.height) / 2 - centre.height;
  const length = Math.hypot(run, height);
  return { run: run / length, height: height / length };
}

/** +1 when the arc turns from run towards height, −1 the other way. Arcs are shorter than half a circle. */
function turn(from: ProfilePoint, to: ProfilePoint, centre: ProfilePoint): 1 | -1 {
  const cross =
    (from.run - centre.run) * (to.height - centre.height) -
    (from.height - centre.height) * (to.run - centre.run);
  return cross > 0 ? 1 : -1;
}

/** Writes the plane face, or the two of a kinked gap, that end the sheet at a section. */
export function endFaces(sharing: Sharing, cut: SectionCut): void {
  const { points, pieces } = cut;
  const first = points[0]!;
  const last = points[points.length - 1]!;
  const sides: Record<'inner' | 'outer', Walk[]> = { inner: [], outer: [] };
  for (const j of pieces.keys()) {
    for (const piece of cutPieces(cut, j)) {
      const use = pieceEdge(sharing, cut, piece);
      sides[piece.beyond ? 'outer' : 'inner'].push({ from: piece.from, to: piece.to, use });
    }
  }
  sides.inner.push({
    from: last,
    to: first,
    use: sharing.line(cutPoint(cut, last), cutPoint(cut, first)),
  });
  if (sides.outer.length > 0) addKinks(sharing, cut, sides);
  for (const [name, walks] of Object.entries(sides)) {
    for (const loop of loopsOf(walks)) {
      const run = name === 'outer' ? Infinity : 0;
      const [x, y] = horizontal(cut, run);
      const axis: Vector3 = cut.atEnd ? [-y, x, 0] : [y, -x, 0];
      const surface: Surface = {
        kind: 'plane',
        origin: cutPoint(cut, loop[0]!.from),
        axis,
        reference: [x, y, 0],
      };
      const uses = loop.map(({ use }) => use);
      sharing.brep.face(surface, true, [cut.atEnd ? uses : uses.map(reversed).reverse()]);
    }
  }
}

interface Walk {
  readonly from: ProfilePoint;
  readonly to: ProfilePoint;
  readonly use: EdgeUse;
}

const same = (a: ProfilePoint, b: ProfilePoint): boolean =>
  Math.hypot(a.run - b.run, a.height - b.height) < NEAR;

/** Upright edges at the kink between the places where the section passes it: each belongs to both sides. */
function addKinks(sharing: Sharing, cut: SectionCut, sides: Record<'inner' | 'outer', Walk[]>): void {
  const entries = sides.outer.map(({ from }) => from);
  const exits = sides.outer.map(({ to }) => to);
  const crossings = [
    ...entries.filter((point) => !exits.some((exit) => same(exit, point))),
    ...exits.filter((point) => !entries.some((entry) => same(entry, point))),
  ].sort((a, b) => a.height - b.height);
  for (let k = 0; k + 1 < crossings.length; k += 2) {
    const pair = [crossings[k]!, crossings[k + 1]!];
    const entry = pair.find((point) => entries.some((other) => same(other, point)))!;
    const exit = pair.find((point) => point !== entry)!;
    const use = sharing.line(cutPoint(cut, exit), cutPoint(cut, entry));
    sides.outer.push({ from: exit, to: entry, use });
    sides.inner.push({ from: entry, to: exit, use: reversed(use) });
  }
}

function loopsOf(walks: readonly Walk[]): Walk[][] {
  const left = [...walks];
  const loops: Walk[][] = [];
  while (left.length > 0) {
    const loop = [left.shift()!];
    for (;;) {
      const next = left.findIndex(({ from }) => same(from, loop[loop.length - 1]!.to));
      if (next < 0) break;
      loop.push(...left.splice(next, 1));
    }
    loops.push(loop);
  }
  return loops;
}
