/**
 * What a trial corner would measure, for a hand and a spread: the forward question of the hand.
 *
 * The blank was cut for the tray file's hand. Worked by another hand, its edge ends up higher or lower on the same
 * wall. At one place of the corner (its middle, or an end of its arc) we look for the wall height at which a tray
 * worked by that hand has its flat rim just where the blank's edge is: there the rim is the blank's edge and free,
 * as it is in truth, and that height is what a rule against the wall finds before trimming. (Elsewhere along the
 * rim the true edge runs a little up and down against this level one; its pull on the place looked at is left out.)
 * Both flats are taken from the same mesh, so what the mesh leaves open cancels.
 */

import { GatherpanError } from '../errors.ts';
import { Locator } from '../geometry/locate.ts';
import { alongEdge } from '../geometry/shapeFunctions.ts';
import { cross, distance, dot, minus, moved, unit, type Vector3 } from '../geometry/vector3.ts';
import type { Sheet } from '../material/sheet.ts';
import { halved } from '../search.ts';
import { type SolveOptions, StructureCache } from '../solve/solveTray.ts';
import { StartCache } from '../solve/startCache.ts';
import { wholeField } from '../solve/wholeField.ts';
import { cornerOf, sideOf, turnName } from '../tray/cornerLetter.ts';
import { type CornerSegment, loopPoint } from '../tray/planLoop.ts';
import type { TraySpec } from '../tray/spec.ts';
import { workedTray } from '../tray/workedTray.ts';
import { radians } from '../units.ts';
import { words } from '../words/language.ts';
import { type SolvedTray, solveInput, solveSpec } from './solvedTray.ts';

/** Where on the corner: the middle of its arc, or one of its ends. */
export type CornerPlace = 'middle' | 'start' | 'end';

/** Where a rim height is measured from. */
export type HeightFrom = 'table' | 'base';

/** Two scribed marks on the blank. */
export interface MarkPair {
  /** Along the rim, side by side about the corner's middle, or one above the other on the middle line. */
  readonly direction: 'along' | 'up';
  /** From the cut edge of the blank to the marks (the upper one), on the corner's middle line, mm. */
  readonly inset: number;
  /** Distance on the flat blank, straight, mm. */
  readonly before: number;
  /** On which side of the metal they are measured once it is formed; along its middle when left out. */
  readonly skin?: 'middle' | 'outside' | 'inside';
}

/** A worked corner, as far as it can be measured. */
export interface Trial {
  /** Height of the blank's edge at a place, mm: above the base's measured skin, or outside above the table. */
  rimHeight(place: CornerPlace, from?: HeightFrom): number;
  /** Thickness at the blank's edge, in the corner's middle, mm. */
  rimThickness(): number;
  /** Distance of two marks over the formed surface, mm. */
  markDistance(marks: MarkPair): number;
}

/** A height, and the tray of that height. */
interface AtEdge {
  readonly height: number;
  readonly solved: WholeSolved;
}

/** Where a ray up the wall leaves the flat. */
interface RimCrossing {
  /** From the base's edge along the ray, mm. */
  readonly distance: number;
  readonly thicknessStrain: number;
}

interface Ray {
  readonly x: number;
  readonly y: number;
  readonly dx: number;
  readonly dy: number;
}

/**
 * One mesh for all, so that results change smoothly from hand to hand; heights are within 1e-6 mm of what it gives with
 * a hundredth of the tolerance.
 */
const TRIAL_SOLVE: Partial<SolveOptions> = { minimumRefinements: 1, maximumRefinements: 1, tolerance: 1e-6 };
/** The height is right when the rim meets the blank's edge to this, mm. */
const HEIGHT_TOLERANCE = 2e-4;
/** Chords into which a scribed line is cut for its length on the formed surface. */
const CHORDS = 24;

/** Makes trials of one corner of a tray; keeps what it has solved. */
export class TrialCorner {
  readonly sheet: Sheet;
  /** As it is worked: its rim is the blank's edge. */
  private readonly spec: TraySpec;
  private readonly segment: CornerSegment;
  private readonly options: Partial<SolveOptions>;
  private readonly solved = new Map<string, WholeSolved>();
  private readonly edges = new Map<CornerPlace, number>();
  /** By place, hand and spread: the height, and the one near it that was solved. */
  private readonly found = new Map<string, { readonly height: number; readonly near: number }>();
  /** By place: the height found last, and by how much the flat grows with the height there. */
  private readonly last = new Map<CornerPlace, { readonly height: number; readonly slope: number }>();

  /**
   * @param spec   the tray as its blank was cut: its `forming.hand`, `spread` and `trim` are those of the blank
   * @param corner letter or number of a corner, or of a curved side
   * @throws GatherpanError BAD_INPUT when the tray has no such gathered corner
   */
  constructor(spec: TraySpec, corner: string | number) {
    const { surface, sheet } = solveInput(spec);
    const segments = surface.loop.segments.filter((each): each is CornerSegment => each.kind === 'corner');
    const count = surface.loop.vertexCount;
    const side = typeof corner === 'string' ? sideOf(corner, count) : undefined;
    const index =
      typeof corner === 'number' ? corner : (cornerOf(corner, count) ?? count + (side ?? Number.NaN));
    const segment = segments.find((each) => each.index === index);
    if (segment === undefined || !segment.wall) {
      const known = segments.filter((each) => each.wall);
      throw new GatherpanError('BAD_INPUT', {
        path: 'corner',
        message: words().messages.gather.noSuchCorner(
          String(corner),
          known.map((each) => turnName(each.index, count)).join(', '),
        ),
      });
    }
    this.spec = workedTray(spec);
    this.sheet = sheet;
    this.segment = segment;
    this.options = { ...TRIAL_SOLVE, structures: new StructureCache(8), starts: new StartCache() };
  }

  /** The corner worked by a hand and a spread. @throws GatherpanError NOT_SOLVED */
  worked(hand: number, spread: number): Trial {
    const at = (place: CornerPlace): AtEdge => this.atEdge(place, hand, spread);
    return {
      rimHeight: (place, from = 'base') => at(place).height + (from === 'table' ? this.overTable : 0),
      rimThickness: () => {
        const { solved } = at('middle');
        return this.sheet.thickness * Math.exp(crossing(solved, this.ray('middle')).thicknessStrain);
      },
      markDistance: (marks) => this.markDistance(marks, at('middle').solved),
    };
  }

  /** Flat distance from the base's edge to the cut edge of the blank at a place, mm. */
  private edge(place: CornerPlace): number {
    let known = this.edges.get(place);
    if (known === undefined) {
      const { hand, spread } = this.spec.forming;
      known = crossing(this.solve(this.height, hand, spread ?? 0), this.ray(place)).distance;
      this.edges.set(place, known);
    }
    return known;
  }

  /** By how much the outside of the edge stands higher above the table than its measured skin above the base, mm. */
  private get overTable(): number {
    const { measured, section } = this.spec;
    if (measured === 'outside') return 0;
    // The edge is square to the sheet: on a leaning wall its inside stands higher than its outside.
    return this.sheet.thickness * (1 - Math.sin(radians(section.draft)));
  }

  private get height(): number {
    return this.spec.section.height;
  }

  /**
   * The height, and the tray of that height, whose flat rim is the blank's edge at a place. The search begins where
   * the one before it at this place ended: neighbours in hand and spread are neighbours in height.
   */
  private atEdge(place: CornerPlace, hand: number, spread: number): AtEdge {
    const key = `${place} ${hand} ${spread}`;
    const known = this.found.get(key);
    if (known !== undefined) return { height: known.height, solved: this.solve(known.near, hand, spread) };
    const wanted = this.edge(place);
    const ray = this.ray(place);
    const miss = (height: number): number =>
      crossing(this.solve(height, hand, spread), ray).distance - wanted;
    let { height, slope } = this.last.get(place) ?? { height: this.height, slope: 1 };
    let off = miss(height);
    for (let step = 0; step < 12 && !(Math.abs(off) < HEIGHT_TOLERANCE); step++) {
      const next = height - off / slope;
      const offNext = miss(next);
      if (offNext === off) break;
      slope = (offNext - off) / (next - height);
      height = next;
      off = offNext;
    }
    this.last.set(place, { height, slope });
    // What is still missing is too little for another solve, and the slope gives it.
    const found = height - off / slope;
    this.found.set(key, { height: found, near: height });
    return { height: found, solved: this.solve(height, hand, spread) };
  }

  private solve(height: number, hand: number | undefined, spread: number): WholeSolved {
    const key = `${height} ${hand} ${spread}`;
    let known = this.solved.get(key);
    if (known === undefined) {
      const { section, forming } = this.spec;
      const lift = height - section.height;
      const heights = section.heights?.map((each) => each + lift);
      const { hand: _own, ...rest } = forming;
      const spec: TraySpec = {
        ...this.spec,
        section: { ...section, height, ...(heights === undefined ? {} : { heights }) },
        forming: { ...rest, spread, ...(hand === undefined ? {} : { hand }) },
      };
      known = wholeSolved(solveSpec(spec, this.options));
      this.solved.set(key, known);
      if (this.solved.size > 64) this.solved.delete(this.solved.keys().next().value!);
    }
    return known;
  }

  /** From the base's edge straight out, in the flat. */
  private ray(place: CornerPlace): Ray {
    const fraction = { start: 0, middle: 0.5, end: 1 }[place];
    const at = loopPoint(this.segment, fraction, { x: 0, y: 0, normalX: 0, normalY: 0 });
    return { x: at.x, y: at.y, dx: at.normalX, dy: at.normalY };
  }

  private markDistance({ direction, inset, before, skin = 'middle' }: MarkPair, solved: WholeSolved): number {
    const ray = this.ray('middle');
    const out = this.edge('middle') - inset;
    const locator = new Locator(solved.flat, solved.triangles);
    const formed = (x: number, y: number): Vector3 => {
      const at = locator.interpolate(locator.find(x, y), solved.formed, 3, new Float64Array(3));
      return [at[0]!, at[1]!, at[2]!];
    };
    const side = skin === 'middle' ? 0 : skin === 'outside' ? 1 : -1;
    const points: Vector3[] = [];
    for (let k = 0; k <= CHORDS; k++) {
      const along = direction === 'along' ? before * (k / CHORDS - 0.5) : 0;
      const reach = direction === 'up' ? out - before * (1 - k / CHORDS) : out;
      const [x, y] = [ray.x + reach * ray.dx - along * ray.dy, ray.y + reach * ray.dy + along * ray.dx];
      const at = formed(x, y);
      if (side === 0) {
        points.push(at);
        continue;
      }
      // Off the middle by half the thickness there, to the side of the metal that is measured on.
      const place = locator.find(x, y);
      const [strain] = locator.interpolate(place, solved.thicknessStrain, 1, new Float64Array(1));
      const up = minus(
        formed(x + NEAR * ray.dx, y + NEAR * ray.dy),
        formed(x - NEAR * ray.dx, y - NEAR * ray.dy),
      );
      const across = minus(
        formed(x - NEAR * ray.dy, y + NEAR * ray.dx),
        formed(x + NEAR * ray.dy, y - NEAR * ray.dx),
      );
      const normal = unit(cross(across, up));
      const outwards = Math.sign(dot(normal, [ray.dx, ray.dy, -1]));
      points.push(moved(at, (side * outwards * this.sheet.thickness * Math.exp(strain!)) / 2, normal));
    }
    let length = 0;
    for (let k = 1; k < points.length; k++) length += distance(points[k - 1]!, points[k]!);
    return length;
  }
}

/** Beside a point, to find the directions of the surface there, mm. */
const NEAR = 0.2;

type WholeSolved = ReturnType<typeof wholeField>;

const wholeSolved = ({ solution, strains }: SolvedTray): WholeSolved => wholeField(solution, strains);

/** Where the ray crosses the flat rim: the crossing farthest out. */
function crossing({ flat, rimNodes, thicknessStrain }: WholeSolved, ray: Ray): RimCrossing {
  const off = (node: number): number =>
    (flat[2 * node + 1]! - ray.y) * ray.dx - (flat[2 * node]! - ray.x) * ray.dy;
  const out = (node: number): number =>
    (flat[2 * node]! - ray.x) * ray.dx + (flat[2 * node + 1]! - ray.y) * ray.dy;
  let best: RimCrossing = { distance: Number.NaN, thicknessStrain: Number.NaN };
  for (let i = 1; i < rimNodes.length; i += 2) {
    const nodes = [rimNodes[i - 1]!, rimNodes[i]!, rimNodes[(i + 1) % rimNodes.length]!] as const;
    const start = off(nodes[0]);
    const end = off(nodes[2]);
    if (start * end > 0 || start === end || !(out(nodes[1]) > 0)) continue;
    const blend = (f: (node: number) => number, s: number): number =>
      alongEdge(s, f(nodes[0]), f(nodes[1]), f(nodes[2]));
    const [low, high] = halved(0, 1, (s) => blend(off, s) > 0 !== end > start, 50);
    const crossed = (low + high) / 2;
    const distance = blend(out, crossed);
    if (!(distance <= best.distance))
      best = { distance, thicknessStrain: blend((node) => thicknessStrain[node]!, crossed) };
  }
  return best;
}
