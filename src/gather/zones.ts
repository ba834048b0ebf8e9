/**
 * Gather zones: the connected parts of the blank where the metal must shrink, or stretch, in the plane of the
 * sheet by more than a threshold.
 *
 * Shrink and stretch are found by the same code: of the two principal strains the smaller one, turned round, and
 * the larger one. Metal that is shrunk along the rim gets longer across it, so every shrink zone has its own
 * secondary stretch and the other way round; a region counts only when its own strain is the larger of the two
 * where it is at its peak.
 */

import { CurveFitter } from '../geometry/curveFitter.ts';
import type { FlatField } from '../geometry/flatField.ts';
import {
  type EdgePart,
  type FreeEdge,
  freeEdges,
  type Loop,
  levelLoops,
  type Run,
  regions,
} from '../geometry/levelSet.ts';
import type { Path, Point } from '../geometry/path.ts';
import { distanceToStraight } from '../geometry/straightLine.ts';
import { logStrainFromPercent, percentFromLogStrain } from '../units.ts';
import type { Contour, GatherZone, ZoneKind, ZoneRim } from './report.ts';
import { lengthsOf } from './rimLengths.ts';
import { slicePath } from './slicePath.ts';

/**
 * In-plane shrink (or stretch) from which a part of the blank counts as gathered, per cent. Rim to lose, tucks, stages and
 * anneals go by it, whatever threshold the lines of the drawing start from.
 */
export const ZONE_THRESHOLD = 2;
/** Levels of the contours, per cent; further on every 5. */
const FIRST_LEVELS = [2, 5, 10];
const LEVEL_STEP = 5;

export interface ZoneOptions {
  /** Per cent, above 0; `ZONE_THRESHOLD` when left out. */
  readonly threshold?: number;
}

/** Levels from the threshold up to a peak, per cent: the threshold itself, then 2, 5, 10, 15, … above it. */
export function contourLevels(threshold: number, peak: number): number[] {
  const levels = [threshold];
  for (const level of FIRST_LEVELS) if (level > threshold && level < peak) levels.push(level);
  for (let level = 15; level < peak; level += LEVEL_STEP) if (level > threshold) levels.push(level);
  return levels;
}

/**
 * The gather zones of a solved blank, shrink zones first, each kind in the order of its first plan corner.
 *
 * @param field     solved field over the whole blank; not changed
 * @param rim       its worked rim as lines and arcs, closed, counter-clockwise
 * @param thickness of the flat sheet, mm
 */
export const gatherZones = (
  field: FlatField,
  rim: Path,
  thickness: number,
  options: ZoneOptions = {},
): GatherZone[] => tracedZones(field, rim, thickness, options).map(({ zone }) => zone);

/**
 * The contours of a pattern from its own threshold up, zone by zone as that threshold parts them; each from the lowest
 * level up. Traced anew at each call: most who solve a family of sizes never ask.
 */
export const zoneContours = ({
  field,
  workedRim,
  sheet,
  gather,
}: {
  readonly field: FlatField;
  readonly workedRim: Path;
  readonly sheet: { readonly thickness: number };
  readonly gather: { readonly threshold: number };
}): (readonly Contour[])[] =>
  tracedZones(field, workedRim, sheet.thickness, { threshold: gather.threshold }).map(({ contours }) =>
    contours(),
  );

/** A zone, and its contours when they are asked for. */
interface TracedZone {
  readonly zone: GatherZone;
  readonly contours: () => readonly Contour[];
}

function tracedZones(field: FlatField, rim: Path, thickness: number, options: ZoneOptions): TracedZone[] {
  const threshold = options.threshold ?? ZONE_THRESHOLD;
  const shared: Shared = {
    field,
    rim,
    thickness,
    threshold,
    edges: freeEdges(field),
    onRim: rimEdges(field),
    fitter: new CurveFitter(),
  };
  return [
    ...zonesOf(
      'shrink',
      field.minorStrain.map((value) => -value),
      shared,
    ),
    ...zonesOf('stretch', field.majorStrain, shared),
  ];
}

interface Shared {
  readonly field: FlatField;
  readonly rim: Path;
  readonly thickness: number;
  readonly threshold: number;
  readonly edges: readonly FreeEdge[];
  /** Corner number (-1 above a side) by the middle node of a rim edge. */
  readonly onRim: ReadonlyMap<number, number>;
  readonly fitter: CurveFitter;
}

function rimEdges(field: FlatField): ReadonlyMap<number, number> {
  const out = new Map<number, number>();
  for (const [i, node] of field.rimNodes.entries()) out.set(node, field.rimCorner[i]!);
  return out;
}

/** Logarithmic strain, positive, that a level means: a shrink of 20 % is ln(1/0.8), a stretch of 20 % is ln 1.2. */
const strainOf = (kind: ZoneKind, percent: number): number =>
  kind === 'shrink' ? -logStrainFromPercent(-percent) : logStrainFromPercent(percent);

/** The other way round. */
const percentOf = (kind: ZoneKind, strain: number): number =>
  kind === 'shrink' ? -percentFromLogStrain(-strain) : percentFromLogStrain(strain);

/** What is known of a region before its lines are drawn. */
interface Region {
  readonly loops: Loop[];
  peak: number;
  peakNode: number;
  extreme: number;
  extremeNode: number;
}

function zonesOf(kind: ZoneKind, own: Float64Array, shared: Shared): TracedZone[] {
  const { field, threshold } = shared;
  const level = strainOf(kind, threshold);
  if (own.every((value) => value < level)) return [];
  const { strain, regionOf, found } = zoneRegions(kind, own, level, field);
  if (found.size === 0) return [];
  for (const loop of levelLoops(field, strain, level, shared.edges)) {
    found.get(regionOf[loop.node]!)?.loops.push(loop);
  }
  const kept = [...found.entries()].filter(
    ([, region]) => region.loops.reduce((sum, loop) => sum + loop.area, 0) > shared.thickness ** 2,
  );
  let drawn: Map<number, Contour[]> | null = null;
  const higher = (number: number): Contour[] => {
    drawn ??= higherContours(kind, strain, regionOf, kept, shared);
    return drawn.get(number) ?? [];
  };
  const zones = kept.map(([number, region]) => zoneOf(kind, region, () => higher(number), shared));
  const order = ({ zone }: TracedZone): number => zone.corners[0] ?? Infinity;
  return zones.sort((a, b) => (order(a) === order(b) ? 0 : order(a) - order(b)));
}

/** The regions of a strain above a level, without those in which it only follows the other one. */
interface ZoneRegions {
  /** What the regions are regions of. */
  readonly strain: Float64Array;
  /** Number of its region for each node, negative outside. */
  readonly regionOf: Int32Array;
  readonly found: Map<number, Region>;
}

/**
 * Metal that is shrunk one way is drawn out the other, and the other way round: where the other strain is the larger one,
 * this one only follows it. A region whose peak follows is none. One that joins a corner that gathers and another that is
 * stretched is parted where the strain begins to follow; what has no rim then is left over between the two.
 */
function zoneRegions(kind: ZoneKind, own: Float64Array, level: number, field: FlatField): ZoneRegions {
  const other = kind === 'shrink' ? field.majorStrain : field.minorStrain;
  const follows = (node: number): boolean => own[node]! < Math.abs(other[node]!);
  const whole = regions(field, own, level);
  const found = peaks(kind, own, whole, field);
  if (!joinsOnRim(field, whole, follows)) {
    for (const [number, { peakNode }] of found) if (follows(peakNode)) found.delete(number);
    return { strain: own, regionOf: whole, found };
  }
  const onRim = (numbers: Int32Array): ReadonlySet<number> =>
    new Set(Array.from(field.rimNodes, (node) => numbers[node]!));
  const strain = leading(own, other);
  const regionOf = regions(field, strain, level);
  const parted = peaks(kind, strain, regionOf, field);
  const [withRim, wholeWithRim] = [onRim(regionOf), onRim(whole)];
  for (const [number, { peakNode }] of parted) {
    const before = whole[peakNode]!;
    const apart = !wholeWithRim.has(before) && !follows(found.get(before)!.peakNode);
    if (!withRim.has(number) && !apart) parted.delete(number);
  }
  return { strain, regionOf, found: parted };
}

/** Whether a region has rim that leads and rim that follows: a corner that gathers, beside one that is stretched. */
function joinsOnRim(
  { rimNodes }: FlatField,
  regionOf: Int32Array,
  follows: (node: number) => boolean,
): boolean {
  const kinds = new Map<number, boolean>();
  for (const node of rimNodes) {
    const number = regionOf[node]!;
    if (number < 0) continue;
    const known = kinds.get(number);
    if (known !== undefined && known !== follows(node)) return true;
    kinds.set(number, follows(node));
  }
  return false;
}

/** How fast a strain falls off where it only follows. */
const FALL = 3;

/** The strain where it leads; where it only follows it falls off, so that it joins no regions. */
const leading = (own: Float64Array, other: Float64Array): Float64Array =>
  own.map((strain, node) => strain - FALL * Math.max(0, Math.abs(other[node]!) - strain));

function peaks(
  kind: ZoneKind,
  strain: Float64Array,
  regionOf: Int32Array,
  field: FlatField,
): Map<number, Region> {
  const sign = kind === 'shrink' ? 1 : -1;
  const found = new Map<number, Region>();
  for (let node = 0; node < strain.length; node++) {
    const number = regionOf[node]!;
    if (number < 0) continue;
    let region = found.get(number);
    if (region === undefined) {
      region = { loops: [], peak: -Infinity, peakNode: node, extreme: -Infinity, extremeNode: node };
      found.set(number, region);
    }
    if (strain[node]! > region.peak) {
      region.peak = strain[node]!;
      region.peakNode = node;
    }
    const extreme = sign * field.thicknessStrain[node]!;
    if (extreme > region.extreme) {
      region.extreme = extreme;
      region.extremeNode = node;
    }
  }
  return found;
}

/** The contours above the threshold, by region. */
function higherContours(
  kind: ZoneKind,
  strain: Float64Array,
  regionOf: Int32Array,
  kept: readonly (readonly [number, Region])[],
  shared: Shared,
): Map<number, Contour[]> {
  const out = new Map<number, Contour[]>(kept.map(([number]) => [number, []]));
  const highest = Math.max(0, ...kept.map(([, region]) => percentOf(kind, region.peak)));
  for (const level of contourLevels(shared.threshold, highest).slice(1)) {
    const paths = new Map<number, Path[]>();
    for (const loop of levelLoops(shared.field, strain, strainOf(kind, level), shared.edges)) {
      const number = regionOf[loop.node]!;
      if (!out.has(number)) continue;
      const list = paths.get(number) ?? [];
      paths.set(number, list);
      for (const run of loop.runs) if (run.kind === 'level') list.push(pathOf(run, shared.fitter));
    }
    for (const [number, list] of paths)
      if (list.length > 0) out.get(number)!.push({ kind, level, paths: list });
  }
  return out;
}

const pathOf = (run: Run, fitter: CurveFitter): Path =>
  run.closed ? fitter.closed(run.points) : fitter.open(run.points);

function zoneOf(kind: ZoneKind, region: Region, higher: () => Contour[], shared: Shared): TracedZone {
  const { field, threshold, thickness } = shared;
  const loops = [...region.loops].sort((a, b) => b.area - a.area);
  const drawn = loops.map((loop) => drawLoop(loop, shared));
  const edgeRuns = loops.flatMap((loop) => loop.runs.filter((run) => run.kind === 'edge'));
  const rimRuns = edgeRuns.filter((run) => run.parts.some((part) => shared.onRim.has(part.edge.middle)));
  const corners = new Set<number>();
  for (const run of rimRuns) {
    for (const { edge } of run.parts) {
      const corner = shared.onRim.get(edge.middle) ?? -1;
      if (corner >= 0) corners.add(corner);
    }
  }
  const sorted = [...corners].sort((a, b) => a - b);
  const point = (node: number): Point => ({ x: field.flat[2 * node]!, y: field.flat[2 * node + 1]! });
  const lowest = drawn.flatMap(({ levels }) => levels);
  const zone: GatherZone = {
    kind,
    corners: sorted,
    boundary: drawn.map(({ boundary }) => boundary),
    area: loops.reduce((sum, loop) => sum + loop.area, 0),
    rim: rimRuns.length === 0 ? null : zoneRim(rimRuns, sorted, shared),
    depth: depthOf(loops, field),
    peak: { percent: percentOf(kind, region.peak), at: point(region.peakNode) },
    thickness: {
      value: thickness * Math.exp((kind === 'shrink' ? 1 : -1) * region.extreme),
      at: point(region.extremeNode),
    },
  };
  const contours = (): readonly Contour[] =>
    lowest.length > 0 ? [{ kind, level: threshold, paths: lowest }, ...higher()] : higher();
  return { zone, contours };
}

/** A loop as one closed path: its level runs fitted, its rim runs cut out of the fitted rim. */
function drawLoop(loop: Loop, shared: Shared): { boundary: Path; levels: Path[] } {
  const levels: Path[] = [];
  const first = loop.runs[0]!;
  if (loop.runs.length === 1) {
    if (first.kind === 'level') {
      const boundary = pathOf(first, shared.fitter);
      return { boundary, levels: [boundary] };
    }
    return { boundary: isOnRim(first, shared) ? shared.rim : polygon(first.points, true), levels };
  }
  const vertices: Path['vertices'][number][] = [];
  for (const run of loop.runs) {
    const { points } = run;
    const last = points.length - 2;
    const begin = { x: points[0]!, y: points[1]! };
    const end = { x: points[last]!, y: points[last + 1]! };
    let piece: Path;
    if (run.kind === 'level') {
      piece = pathOf(run, shared.fitter);
      levels.push(piece);
    } else {
      piece = isOnRim(run, shared) ? slicePath(shared.rim, begin, end) : polygon(points, false);
    }
    // Joined at the traced points: both pieces end there within their tolerance.
    const joined = piece.vertices.slice(0, -1);
    joined[0] = { ...joined[0]!, ...begin };
    vertices.push(...joined);
  }
  return { boundary: { vertices, closed: true }, levels };
}

const isOnRim = (run: Run, shared: Shared): boolean =>
  run.parts.every(({ edge }) => shared.onRim.has(edge.middle));

function polygon(points: Float64Array, closed: boolean): Path {
  const vertices: Path['vertices'][number][] = [];
  for (let i = 0; i < points.length; i += 2) vertices.push({ x: points[i]!, y: points[i + 1]!, bulge: 0 });
  return { vertices, closed };
}

function zoneRim(runs: readonly Run[], corners: readonly number[], shared: Shared): ZoneRim {
  const { field, onRim } = shared;
  const longest = runs.reduce((a, b) => (b.parts.length > a.parts.length ? b : a));
  const parts = runs.flatMap((run) => run.parts);
  const { flat, formed } = lengthsOf(field, parts);
  const atCorner = ({ edge }: EdgePart): boolean => corners.includes(onRim.get(edge.middle) ?? -1);
  const first = longest.parts.findIndex(atCorner);
  const last = longest.parts.length - 1 - [...longest.parts].reverse().findIndex(atCorner);
  const inCorner = first >= 0;
  const before = inCorner ? lengthsOf(field, longest.parts.slice(0, first)).flat : 0;
  const after = inCorner ? lengthsOf(field, longest.parts.slice(last + 1)).flat : 0;
  const { points } = longest;
  const begin = { x: points[0]!, y: points[1]! };
  const end = longest.closed ? begin : { x: points[points.length - 2]!, y: points[points.length - 1]! };
  return {
    begin,
    end,
    reachBefore: before > 0 ? before : -missing(longest, corners, shared, 'before'),
    reachAfter: after > 0 ? after : -missing(longest, corners, shared, 'after'),
    flatLength: flat,
    formedLength: formed,
    toLose: flat - formed,
  };
}

/** Flat length of the corner's arc that lies outside the zone on one side, mm. */
function missing(run: Run, corners: readonly number[], shared: Shared, side: 'before' | 'after'): number {
  if (run.closed || corners.length === 0) return 0;
  const { field, onRim, edges } = shared;
  const startsAt = new Map(edges.map((edge) => [edge.from, edge]));
  const endsAt = new Map(edges.map((edge) => [edge.to, edge]));
  const edgePart = side === 'before' ? run.parts[0]! : run.parts[run.parts.length - 1]!;
  let length =
    side === 'before'
      ? lengthsOf(field, [{ ...edgePart, start: 0, end: edgePart.start }]).flat
      : lengthsOf(field, [{ ...edgePart, start: edgePart.end, end: 1 }]).flat;
  for (let edge: FreeEdge | undefined = edgePart.edge, k = 0; k < edges.length; k++) {
    edge = side === 'before' ? endsAt.get(edge!.from) : startsAt.get(edge!.to);
    if (edge === undefined || !corners.includes(onRim.get(edge.middle) ?? -1)) break;
    length += lengthsOf(field, [{ edge, start: 0, end: 1 }]).flat;
  }
  return length;
}

/** Largest distance of a point of the zone's boundary from the rim, mm. */
function depthOf(loops: readonly Loop[], field: FlatField): number {
  const { rimNodes, flat } = field;
  const points = loops.flatMap((loop) =>
    loop.runs.flatMap((run) => (run.kind === 'level' ? [run.points] : [])),
  );
  let deepest = 0;
  for (const list of points) {
    for (let i = 0; i < list.length; i += 2) {
      let nearest = Infinity;
      for (let k = 0; k < rimNodes.length; k++) {
        const next = rimNodes[(k + 1) % rimNodes.length]!;
        nearest = Math.min(nearest, distanceToStraight(list[i]!, list[i + 1]!, flat, rimNodes[k]!, next));
      }
      deepest = Math.max(deepest, nearest);
    }
  }
  return deepest;
}
