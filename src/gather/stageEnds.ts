/** At which angles of the wall the stages end. */
import type { Way } from './way.ts';

/** Stages when nothing else is said; more where it is annealed more often. */
export const DEFAULT_STAGES = 3;

/** The angles of a tray file, degrees, ascending, the last one the wall's own. */
export function endsAsked({ wallAngle }: Pick<Way, 'wallAngle'>, asked: readonly number[]): number[] {
  const below = [...new Set(asked)].filter((angle) => angle < wallAngle - 1e-9);
  return [...below.sort((a, b) => a - b), wallAngle];
}

/**
 * Stages end where it is annealed, and what lies between is divided by work, into whole degrees where they serve.
 *
 * @param places where it is annealed
 * @param asked  how many; too few for the anneals, those come within stages of even work
 * @returns degrees, ascending, the last one the wall's own
 */
export function endsByWork(way: Way, places: readonly number[], asked?: number): number[] {
  const { wallAngle } = way;
  const anneals = places.map((place) => way.angleOf(place)).filter((angle) => angle < wallAngle);
  const count = asked ?? Math.max(DEFAULT_STAGES, anneals.length + 1);
  const ends = [...(anneals.length < count ? anneals : []), wallAngle];
  const bounds = [0, ...ends.map((angle) => way.placeOf(angle))];
  const works = ends.map((_, k) => way.work(bounds[k]!, bounds[k + 1]!));
  const parts = ends.map(() => 1);
  for (let more = count - ends.length; more > 0; more--) {
    const share = works.map((work, k) => work / parts[k]!);
    parts[share.indexOf(Math.max(...share))]!++;
  }
  const between = parts.flatMap((number, k) =>
    Array.from({ length: number - 1 }, (_, i) => {
      const angle = way.angleOf(way.reach(bounds[k]!, ((i + 1) / number) * works[k]!));
      const whole = Math.round(angle);
      return whole > way.angleOf(bounds[k]!) && whole < ends[k]! ? whole : angle;
    }),
  );
  return [...new Set([...between, ...ends])].sort((a, b) => a - b);
}
