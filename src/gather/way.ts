/**
 * The way of a tray from the flat. The wall is turned up, then the lip if there is one; on the way each place of the
 * finished blank has the strain that it has in a tray with the wall at that angle, between the angles solved in
 * proportion to the height of the rim.
 *
 * A place on the way is a number: from 0 in the flat to 1 with the wall up, (1 − cos a)/(1 − cos A) for an angle a of a
 * wall that ends at A, and on to 2 with the lip turned.
 */

import { GatherpanError, isUnsolved } from '../errors.ts';
import { largest } from '../largest.ts';
import { halved } from '../search.ts';
import type { SolveOptions } from '../solve/solveTray.ts';
import { turnedAngle } from '../tray/planLoop.ts';
import { degrees, radians } from '../units.ts';
import { words } from '../words/language.ts';
import { strainAt, strainBetween, valuesAt } from './followedStrain.ts';
import { type SolvedTray, solveSpec } from './solvedTray.ts';
import { hasLip, stageSurface } from './stageSurface.ts';
import { type WholeStrain, wholeStrain } from './wholeStrain.ts';

/** Bisections of a place that is looked for. */
const BISECTIONS = 16;
/** Spots that never have this share of the largest strain are not followed: they are never the hardest-worked. */
const FOLLOWED = 0.2;
/** Places that are solved before anything is looked for; between them strains grow evenly enough. */
const PLACES = [0.45, 0.8];

interface Knot {
  readonly place: number;
  /** Strain tensors of the finished tray's nodes. */
  readonly tensor: Float64Array;
}

export class Way {
  readonly final: SolvedTray;
  /** Whether the rim is turned into a lip, last of all. */
  readonly lip: boolean;
  /** The finished wall's own angle, degrees. */
  readonly wallAngle: number;
  readonly #options: Partial<SolveOptions>;
  readonly #walls = new Map<number, WholeStrain>();
  #knots: readonly Knot[];
  /** The same, of the spots that are followed. */
  #followed: readonly Knot[] | null = null;
  #finished: WholeStrain | null = null;

  /** @param options of the walls that are solved on the way */
  constructor(final: SolvedTray, options: Partial<SolveOptions>) {
    this.final = final;
    this.#options = options;
    this.lip = hasLip(final.surface);
    this.wallAngle = degrees(turnedAngle(final.spec.section.draft));
    const { tensor } = final.strains;
    this.#knots = [
      { place: 0, tensor: new Float64Array(tensor.length) },
      { place: this.end, tensor },
    ];
  }

  /** Place of the finished tray. */
  get end(): number {
    return this.lip ? 2 : 1;
  }

  get finished(): WholeStrain {
    this.#finished ??= wholeStrain(this.final);
    return this.#finished;
  }

  /** The wall at an angle, degrees, without a lip. @throws GatherpanError NOT_SOLVED when it has no equilibrium */
  wall(angle: number): WholeStrain {
    if (angle === this.wallAngle && !this.lip) return this.finished;
    let found = this.#walls.get(angle);
    if (found === undefined) {
      found = this.#solved(angle);
      this.#walls.set(angle, found);
      const knot = { place: this.placeOf(angle), tensor: strainAt(found, this.final.solution.flat) };
      this.#knots = [...this.#knots, knot].sort((a, b) => a.place - b.place);
      this.#followed = null;
    }
    return found;
  }

  /** Solves as much of the way as it takes to look for a place. @throws GatherpanError NOT_SOLVED as `wall` */
  solvePlaces(): void {
    for (const place of PLACES) this.wall(Math.round(this.angleOf(place)));
    if (this.lip) this.wall(this.wallAngle);
  }

  #solved(angle: number): WholeStrain {
    try {
      return wholeStrain(solveSpec(this.final.spec, this.#options, stageSurface(this.final.surface, angle)));
    } catch (error) {
      if (!isUnsolved(error)) throw error;
      throw new GatherpanError('NOT_SOLVED', words().messages.solve.stageNotSettled(angle.toFixed(0)));
    }
  }

  placeOf(angle: number): number {
    return (1 - Math.cos(radians(angle))) / (1 - Math.cos(radians(this.wallAngle)));
  }

  /** Degrees; the wall's own while the lip is turned. */
  angleOf(place: number): number {
    if (place >= 1) return this.wallAngle;
    const angle = degrees(Math.acos(1 - place * (1 - Math.cos(radians(this.wallAngle)))));
    // The place of an angle has that angle.
    return Number(angle.toFixed(9));
  }

  #tensorAt(place: number): Float64Array {
    const knots = this.#knotsFollowed();
    const above = Math.max(
      knots.findIndex((knot) => knot.place >= place),
      1,
    );
    const [from, to] = [knots[above - 1]!, knots[above]!];
    const share = (place - from.place) / (to.place - from.place);
    return from.tensor.map((value, i) => value + share * (to.tensor[i]! - value));
  }

  #knotsFollowed(): readonly Knot[] {
    if (this.#followed !== null) return this.#followed;
    const strains = this.#knots.map(({ tensor }) => strainBetween(this.final.solution.law, null, tensor));
    const least = FOLLOWED * Math.max(...strains.map(largest));
    const nodes: number[] = [];
    for (let node = 0; node < strains[0]!.length; node++)
      if (strains.some((strain) => strain[node]! >= least)) nodes.push(node);
    this.#followed = this.#knots.map(({ place, tensor }) => ({
      place,
      tensor: valuesAt(tensor, 3, nodes),
    }));
    return this.#followed;
  }

  /** Work from one place to another: the equivalent strain of the hardest-worked spot, logarithmic. */
  work(from: number, to: number): number {
    return largest(strainBetween(this.final.solution.law, this.#tensorAt(from), this.#tensorAt(to)));
  }

  /** How far a work reaches from a place. */
  reach(from: number, work: number): number {
    const start = this.#tensorAt(from);
    const over = (place: number): boolean =>
      largest(strainBetween(this.final.solution.law, start, this.#tensorAt(place))) > work * (1 + 1e-9);
    let low = from;
    // Between two knots the work is convex: it is largest at one of them, and passes a value once on its way up.
    for (const { place: knot } of this.#knots) {
      if (knot <= from) continue;
      if (!over(knot)) {
        low = knot;
        continue;
      }
      return halved(low, knot, (place) => !over(place), BISECTIONS)[0];
    }
    return this.end;
  }
}
