/**
 * The finished tray as a thin solid at nominal thickness, every face an exact plane, cylinder, cone, sphere or
 * torus: plan loop × section, one face a segment of the loop and piece of the section.
 *
 * The base's lower skin lies at z = 0, x and y are those of the plan.
 */
import { GatherpanError } from '../errors.ts';
import { type LoopPoint, type LoopSegment, loopPoint, type PlanLoop, planLoop } from '../tray/planLoop.ts';
import type { TraySpec } from '../tray/spec.ts';
import { BrepWriter, type EdgeUse, reversed, type Surface, type Vector } from './brep.ts';
import { clockwise, type PrismLoops, prismSides } from './flatSolid.ts';
import { holeOutline } from './holeOutline.ts';
import { text } from './part21.ts';
import { exchangeFile, type Protocol } from './product.ts';
import { type Profile, type ProfilePiece, type ProfilePoint, sectionSteps, sheetProfile } from './profile.ts';

/** A STEP file of the finished tray. */
export function writeFormedSolid(spec: TraySpec, name: string, protocol: Protocol): Uint8Array {
  refuseOtherShapes(spec);
  const loop = planLoop(spec);
  const profile = sheetProfile(sectionSteps(spec), spec.sheet.thickness);
  return exchangeFile(name, protocol, (data) => {
    const brep = new BrepWriter(data);
    sweep(new Sharing(brep), brep, loop, profile, baseHoles(brep, spec));
    return { solids: [brep.solid(text(name))], curves: [] };
  });
}

/** What is not plan loop × section with one height all round is refused. */
function refuseOtherShapes(spec: TraySpec): void {
  const refuse = (path: string, what: string): never => {
    throw new GatherpanError('NOT_MAKEABLE', {
      path,
      message: `The finished tray as a solid is not made for ${what}; leave the format formed-step out.`,
    });
  };
  const { heights, height } = spec.section;
  if (heights?.some((own) => own !== height)) refuse('section.heights', 'walls of different heights');
  if ((spec.plan.openEdges?.length ?? 0) > 0) refuse('plan.openEdges', 'trays with an open side');
  const { corners } = spec.forming;
  if (corners !== undefined && [corners].flat().includes('notch'))
    refuse('forming.corners', 'notched corners');
  if (spec.holes?.some((hole) => hole.place.on === 'wall')) refuse('holes', 'holes in the wall');
}

/** Sides of the holes in the base. */
function baseHoles(brep: BrepWriter, spec: TraySpec): PrismLoops[] {
  return (spec.holes ?? []).flatMap((hole) => {
    const { place, shape } = hole;
    if (place.on !== 'base') return [];
    const outline = holeOutline(shape).map(({ x, y, bulge }) => ({ x: place.x + x, y: place.y + y, bulge }));
    return [prismSides(brep, clockwise(outline), spec.sheet.thickness)];
  });
}

const NEAR = 1e-7;

/** Vertices and edges that lie in the same place are one, so that corners without a base arc close. */
class Sharing {
  private readonly vertices: { at: Vector; reference: string }[] = [];
  private readonly edges: { from: string; to: string; middle: Vector; use: EdgeUse }[] = [];
  private readonly brep: BrepWriter;

  constructor(brep: BrepWriter) {
    this.brep = brep;
  }

  vertex(at: Vector): string {
    const known = this.vertices.find((vertex) => distance(vertex.at, at) < NEAR);
    if (known !== undefined) return known.reference;
    const reference = this.brep.vertex(at);
    this.vertices.push({ at, reference });
    return reference;
  }

  edge(from: string, to: string, middle: Vector, curve: () => string): EdgeUse {
    for (const edge of this.edges) {
      if (distance(edge.middle, middle) > NEAR) continue;
      if (edge.from === from && edge.to === to) return edge.use;
      if (edge.from === to && edge.to === from) return reversed(edge.use);
    }
    const use = this.brep.edge(from, to, curve());
    this.edges.push({ from, to, middle, use });
    return use;
  }
}

const distance = (a: Vector, b: Vector): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

/** The loop's frame at a place: outwards N, along T, on the ground. */
interface Station extends LoopPoint {}

const stationAt = (segment: LoopSegment, fraction: number): Station =>
  loopPoint(segment, fraction, { x: 0, y: 0, normalX: 0, normalY: 0 });

const placed = (station: Station, point: ProfilePoint): Vector => [
  station.x + station.normalX * point.run,
  station.y + station.normalY * point.run,
  point.height,
];

/** Writes all faces of the profile swept along the loop. */
function sweep(
  sharing: Sharing,
  brep: BrepWriter,
  loop: PlanLoop,
  profile: Profile,
  holes: readonly PrismLoops[],
): void {
  const { segments } = loop;
  const { points, pieces } = profile;
  const starts = segments.map((segment) => stationAt(segment, 0));
  const vertices = starts.map((station) => points.map((point) => sharing.vertex(placed(station, point))));
  const across = starts.map((station, i) =>
    pieces.map((piece, j) => acrossEdge(sharing, brep, station, vertices[i]!, points, piece, j)),
  );
  const along = segments.map((segment, i) =>
    points.map((point, j) =>
      alongEdge(sharing, brep, segment, point, vertices[i]![j]!, vertices[(i + 1) % segments.length]![j]!),
    ),
  );
  const flatRim = Math.abs(points[profile.rim]!.height - points[profile.rim + 1]!.height) < NEAR;
  for (const [i, segment] of segments.entries()) {
    const next = (i + 1) % segments.length;
    for (const [j, piece] of pieces.entries()) {
      if (flatRim && j === profile.rim) continue;
      const { surface, outward } = sweptSurface(segment, points[j]!, points[j + 1]!, piece);
      const bound = [
        across[i]![j]!,
        along[i]![j + 1]!,
        reversed(across[next]![j]!),
        along[i]![j] === null ? null : reversed(along[i]![j]!),
      ].filter((use) => use !== null);
      brep.face(surface, outward, [bound]);
    }
  }
  const ring = (j: number): EdgeUse[] => along.map((uses) => uses[j]!).filter((use) => use !== null);
  const back = (uses: EdgeUse[]): EdgeUse[] => uses.map(reversed).reverse();
  const level = (height: number, up: 1 | -1): Surface => ({
    kind: 'plane',
    origin: [0, 0, height],
    axis: [0, 0, up],
    reference: [1, 0, 0],
  });
  if (flatRim) {
    brep.face(level(points[profile.rim]!.height, 1), true, [ring(profile.rim + 1), back(ring(profile.rim))]);
  }
  // A bowl has no flat base: its base edge is one point, or a line walked there and back.
  if (flatArea(loop) > NEAR) {
    brep.face(level(points[0]!.height, 1), true, [ring(0), ...holes.map(({ upper }) => [...upper])]);
    brep.face(level(points[points.length - 1]!.height, -1), true, [
      back(ring(points.length - 1)),
      ...holes.map(({ lower }) => back([...lower])),
    ]);
  }
}

/** Area inside the loop by chords, enough to tell a flat base from none. */
function flatArea(loop: PlanLoop): number {
  let sum = 0;
  for (const segment of loop.segments) {
    const [a, b, c] = [stationAt(segment, 0), stationAt(segment, 0.5), stationAt(segment, 1)];
    sum += a.x * b.y - a.y * b.x + b.x * c.y - b.y * c.x;
  }
  return Math.abs(sum) / 2;
}

function acrossEdge(
  sharing: Sharing,
  brep: BrepWriter,
  station: Station,
  vertices: readonly string[],
  points: readonly ProfilePoint[],
  piece: ProfilePiece,
  j: number,
): EdgeUse {
  const [from, to] = [points[j]!, points[j + 1]!];
  const [start, end] = [placed(station, from), placed(station, to)];
  if (piece.kind === 'line') {
    const middle: ProfilePoint = { run: (from.run + to.run) / 2, height: (from.height + to.height) / 2 };
    return sharing.edge(vertices[j]!, vertices[j + 1]!, placed(station, middle), () => brep.line(start, end));
  }
  const out = arcMiddle(from, to, piece.centre);
  // Left of travel the centre: turning from N towards z, about −T.
  const about = turn(from, to, piece.centre);
  const axis: Vector = [about * station.normalY, -about * station.normalX, 0];
  const reference: Vector = [-out.run * station.normalX, -out.run * station.normalY, -out.height];
  const middle: ProfilePoint = {
    run: piece.centre.run + piece.radius * out.run,
    height: piece.centre.height + piece.radius * out.height,
  };
  return sharing.edge(vertices[j]!, vertices[j + 1]!, placed(station, middle), () =>
    brep.circle(placed(station, piece.centre), axis, reference, piece.radius),
  );
}

/** Unit vector from the centre to the arc's middle. */
function arcMiddle(from: ProfilePoint, to: ProfilePoint, centre: ProfilePoint): ProfilePoint {
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

/** Distance of a profile point from a corner's axis. */
const ringRadius = (segment: LoopSegment & { kind: 'corner' }, run: number): number =>
  segment.radius + Math.sign(segment.sweep) * run;

/** The edge along a segment at a profile point; null where a corner's arc shrinks to a point. */
function alongEdge(
  sharing: Sharing,
  brep: BrepWriter,
  segment: LoopSegment,
  point: ProfilePoint,
  from: string,
  to: string,
): EdgeUse | null {
  const middle = placed(stationAt(segment, 0.5), point);
  if (segment.kind === 'side') {
    return sharing.edge(from, to, middle, () =>
      brep.line(placed(stationAt(segment, 0), point), placed(stationAt(segment, 1), point)),
    );
  }
  const radius = ringRadius(segment, point.run);
  if (radius < NEAR) return null;
  return sharing.edge(from, to, middle, () =>
    brep.circle(
      [segment.centreX, segment.centreY, point.height],
      [0, 0, Math.sign(segment.sweep)],
      cornerReference(segment),
      radius,
    ),
  );
}

/** Opposite to the corner's middle, so that the seam of its surfaces lies outside its faces. */
function cornerReference(segment: LoopSegment & { kind: 'corner' }): Vector {
  const middle = segment.startAngle + segment.sweep / 2;
  const sign = Math.sign(segment.sweep);
  return [-sign * Math.cos(middle), -sign * Math.sin(middle), 0];
}

/**
 * The surface a piece of the profile sweeps along a segment, and whether its own normal points out of the
 * material, which lies to the right of the profile's direction.
 */
function sweptSurface(
  segment: LoopSegment,
  from: ProfilePoint,
  to: ProfilePoint,
  piece: ProfilePiece,
): { surface: Surface; outward: boolean } {
  const length = Math.hypot(to.run - from.run, to.height - from.height);
  // Normal out of the material, left of the profile's direction.
  const [normalRun, normalHeight] = [-(to.height - from.height) / length, (to.run - from.run) / length];
  const middle = stationAt(segment, 0.5);
  const inPlan = (run: number, height: number): Vector => [
    middle.normalX * run,
    middle.normalY * run,
    height,
  ];
  const along: Vector = [-middle.normalY, middle.normalX, 0];
  if (piece.kind === 'arc') {
    const out = arcMiddle(from, to, piece.centre);
    const outward = out.run * normalRun + out.height * normalHeight > 0;
    if (segment.kind === 'side') {
      return {
        surface: {
          kind: 'cylinder',
          origin: placed(stationAt(segment, 0), piece.centre),
          axis: along,
          reference: inPlan(-out.run, -out.height),
          radius: piece.radius,
        },
        outward,
      };
    }
    const common = {
      origin: [segment.centreX, segment.centreY, piece.centre.height] as Vector,
      axis: [0, 0, 1] as Vector,
      reference: cornerReference(segment),
    };
    const major = ringRadius(segment, piece.centre.run);
    return {
      surface:
        major < NEAR
          ? { kind: 'sphere', ...common, radius: piece.radius }
          : { kind: 'torus', ...common, major, minor: piece.radius },
      outward,
    };
  }
  if (segment.kind === 'side' || Math.abs(to.height - from.height) < NEAR) {
    return {
      surface: {
        kind: 'plane',
        origin: placed(stationAt(segment, 0), from),
        axis: inPlan(normalRun, normalHeight),
        reference: segment.kind === 'side' ? along : [1, 0, 0],
      },
      outward: true,
    };
  }
  const sign = Math.sign(segment.sweep);
  const [radius, other] = [ringRadius(segment, from.run), ringRadius(segment, to.run)];
  const outward = sign * normalRun > 0;
  const common = {
    origin: [segment.centreX, segment.centreY, from.height] as Vector,
    reference: cornerReference(segment),
    radius,
  };
  if (Math.abs(radius - other) < NEAR) {
    return { surface: { kind: 'cylinder', ...common, axis: [0, 0, 1] }, outward };
  }
  const slope = (other - radius) / (to.height - from.height);
  return {
    surface: {
      kind: 'cone',
      ...common,
      axis: [0, 0, Math.sign(slope)],
      halfAngle: Math.atan(Math.abs(slope)),
    },
    outward,
  };
}
