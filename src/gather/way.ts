/** The way of a tray from the flat: its wall at any angle, each solved once, and the work by then. */

import { GatherpanError, isUnsolved } from '../errors.ts';
import { largest } from '../largest.ts';
import type { SolveOptions } from '../solve/solveTray.ts';
import type { NeutralSurface } from '../tray/neutralSurface.ts';
import { turnedAngle } from '../tray/planLoop.ts';
import { degrees, radians } from '../units.ts';
import { words } from '../words/language.ts';
import { type SolvedTray, solvedFor, solveInput, solveSpec } from './solvedTray.ts';
import { hasLip, stageSurface } from './stageSurface.ts';
import type { PlanInput } from './stages.ts';
import { type WholeStrain, wholeStrain } from './wholeStrain.ts';

/** Solves of an angle that is looked for, at most. */
const MOST_TRIES = 6;

export class Way {
  readonly final: SolvedTray;
  readonly finished: WholeStrain;
  /** Whether the rim is turned into a lip, last of all. */
  readonly lip: boolean;
  /** The finished wall's own angle, degrees. */
  readonly wallAngle: number;
  /** Work of the finished tray, and of the one whose wall is up and whose lip is not turned yet; logarithmic. */
  readonly work: number;
  readonly wallWork: number;
  readonly #surface: NeutralSurface;
  readonly #options: Partial<SolveOptions>;
  readonly #walls = new Map<number, WholeStrain>();
  readonly #works = new Map<number, number>([[0, 0]]);

  constructor(input: PlanInput, options: Partial<SolveOptions>) {
    this.#surface = solveInput(input.spec).surface;
    this.#options = options;
    this.final = solvedFor(input, options);
    this.finished = wholeStrain(this.final);
    this.lip = hasLip(this.#surface);
    this.wallAngle = degrees(turnedAngle(input.spec.section.draft));
    this.work = input.gather.work;
    if (!this.lip) {
      this.#walls.set(this.wallAngle, this.finished);
      this.#works.set(this.wallAngle, this.work);
    }
    this.wallWork = Math.min(this.workAt(this.wallAngle), this.work);
  }

  /** The wall at an angle, degrees. @throws GatherpanError NOT_SOLVED when it has no equilibrium */
  wall(angle: number): WholeStrain {
    this.workAt(angle);
    return this.#walls.get(angle)!;
  }

  /** Work until the wall is at an angle, degrees. @throws GatherpanError NOT_SOLVED as `wall` */
  workAt(angle: number): number {
    const known = this.#works.get(angle);
    if (known !== undefined) return known;
    const solved = this.#solve(angle);
    const work = largest(solved.strains.equivalent);
    this.#walls.set(angle, wholeStrain(solved));
    this.#works.set(angle, work);
    return work;
  }

  #solve(angle: number): SolvedTray {
    try {
      return solveSpec(this.final.spec, this.#options, stageSurface(this.#surface, angle));
    } catch (error) {
      if (!isUnsolved(error)) throw error;
      throw new GatherpanError('NOT_SOLVED', words().messages.solve.stageNotSettled(angle.toFixed(0)));
    }
  }

  /** About the angle at which a work is reached, degrees: between the angles solved, as the height of the rim grows. */
  angleNear(work: number): number {
    const rise = (angle: number): number => 1 - Math.cos(radians(angle));
    const points = [...this.#works].sort(([a], [b]) => a - b);
    const above = Math.max(
      points.findIndex(([, reached]) => reached >= work),
      1,
    );
    const [[from, least], [to, most]] = [points[above - 1]!, points[above]!];
    const share = most > least ? Math.min((work - least) / (most - least), 1) : 1;
    return degrees(Math.acos(1 - rise(from) - share * (rise(to) - rise(from))));
  }

  /** The largest angle, in whole degrees where one serves, with a work from `least` to `most`; degrees. */
  angleWithin(least: number, most: number): number {
    let below = 0;
    for (let k = 0; k < MOST_TRIES; k++) {
      const near = this.angleNear(most);
      const whole = Math.floor(near);
      const angle = whole > below ? whole : Math.floor(10 * near) / 10;
      if (angle <= below) break;
      const work = this.workAt(angle);
      if (work <= most) below = angle;
      if (work >= least && work <= most) break;
    }
    return below;
  }
}
