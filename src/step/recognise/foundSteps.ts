/** The steps of a section found: bends and straight lengths between two skins of one thickness. */
import type { Profile, SectionStep } from '../profile.ts';
import { apart } from './sectionPieces.ts';

/** The steps that make the profile; null when its skins are not one thickness apart. */
export function stepsOf(profile: Profile, thickness: number, tolerance: number): SectionStep[] | null {
  const { points, pieces, rim } = profile;
  if (Math.abs(apart(points[rim]!, points[rim + 1]!) - thickness) > tolerance) return null;
  const steps: SectionStep[] = [];
  for (let j = 0; j < rim; j++) {
    const upper = pieces[j]!;
    const lower = pieces[pieces.length - 1 - j]!;
    const [a, b] = [points[j]!, points[j + 1]!];
    const across = points[points.length - 1 - j]!;
    if (Math.abs(apart(a, across) - thickness) > tolerance) return null;
    if (upper.kind === 'line') {
      if (lower.kind !== 'line') return null;
      steps.push({ kind: 'straight', length: apart(a, b) });
      continue;
    }
    if (lower.kind !== 'arc' || apart(upper.centre, lower.centre) > 10 * tolerance) return null;
    const cross =
      (a.run - upper.centre.run) * (b.height - upper.centre.height) -
      (a.height - upper.centre.height) * (b.run - upper.centre.run);
    const dot =
      (a.run - upper.centre.run) * (b.run - upper.centre.run) +
      (a.height - upper.centre.height) * (b.height - upper.centre.height);
    const turn = Math.atan2(cross, dot);
    const hollow = turn > 0 ? upper.radius : lower.radius;
    const full = turn > 0 ? lower.radius : upper.radius;
    if (Math.abs(full - hollow - thickness) > 10 * tolerance) return null;
    steps.push({ kind: 'bend', turn, radius: hollow });
  }
  return steps;
}
