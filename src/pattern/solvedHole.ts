/** What holes of a tray file and holes of a part have in common once they are solved. */
import type { Path } from '../geometry/path.ts';
import { percentFromLogStrain } from '../units.ts';
import { length, type Statement, statement } from '../words/statement.ts';

/** A solved round hole that is a circle within this is written as one, mm. */
const ROUND_WITHIN = 0.02;
/** Strain at a hole's edge above which its shape will not come out true (common practice, no source). */
const TRUE_WITHIN_STRAIN = 0.02;
/** Fewest sheet thicknesses between a hole and a bend (common practice, no source). */
const THICKNESSES_TO_BEND = 2;
/** A distance that is shown to a tenth of a mm is none below this, mm. */
const LEAST_SHOWN = 0.05;

/**
 * @param strain    largest in-plane strain at the hole's edge, logarithmic, without sign
 * @param distance  from the nearest bend, mm; negative when one is crossed
 * @param thickness of the sheet, mm
 */
export function holeWarnings(
  name: string,
  { strain, distance, thickness }: { strain: number; distance: number; thickness: number },
): Statement[] {
  const warnings: Statement[] = [];
  if (strain > TRUE_WITHIN_STRAIN) {
    warnings.push(statement('pattern.holeDistorts', name, percentFromLogStrain(strain).toFixed(0)));
  }
  const least = THICKNESSES_TO_BEND * thickness;
  if (distance < LEAST_SHOWN) warnings.push(statement('pattern.holeAtBend', name));
  else if (distance < least) {
    warnings.push(
      statement(
        'pattern.holeNearBend',
        name,
        length(distance, 1),
        String(THICKNESSES_TO_BEND),
        length(least, 1),
      ),
    );
  }
  return warnings;
}

/**
 * The circle about a centre through solved points as two arcs, counter-clockwise, or null when they lie on none.
 *
 * @param points x y each, mm
 */
export function circleAbout(cx: number, cy: number, points: Float64Array): Path | null {
  const count = points.length / 2;
  const away = (i: number): number => Math.hypot(points[2 * i]! - cx, points[2 * i + 1]! - cy);
  let radius = 0;
  for (let i = 0; i < count; i++) radius += away(i) / count;
  for (let i = 0; i < count; i++) if (Math.abs(away(i) - radius) > ROUND_WITHIN) return null;
  return {
    vertices: [
      { x: cx + radius, y: cy, bulge: 1 },
      { x: cx - radius, y: cy, bulge: 1 },
    ],
    closed: true,
  };
}
