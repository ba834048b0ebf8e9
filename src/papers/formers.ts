/**
 * Outlines of a former (hammerform block): the plan of the tray's inside less a clearance, as plies that are
 * stacked and screwed together.
 *
 * A ply is cut to the plan at its upper face; on a leaning wall its edge is then planed to the lean, and the
 * lower edge of the block is rounded to the inside bottom radius. mm.
 */
import { GatherpanError } from '../errors.ts';
import type { Path } from '../outline/path.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { insideBottomRadius } from '../tray/section.ts';
import type { TraySpec } from '../tray/spec.ts';
import { type LengthUnit, withUnit } from './lengths.ts';
import { type Plate, placedText } from './plate.ts';
import { insideHeight, insideRunAt, planAtRun } from './skins.ts';
import type { Words } from './words.ts';

export interface FormerOptions {
  /** Between the block and the tray's inside, mm. */
  readonly clearance: number;
  readonly plyThickness: number;
  readonly unit: LengthUnit;
  readonly words: Words;
}

export interface Former {
  readonly plies: number;
  /** Height of the stack, at least that of the tray's inside. */
  readonly height: number;
  /** To which the lower edge of the block is rounded. */
  readonly edgeRadius: number;
  /** From the lowest ply up; plies of one outline come once. */
  readonly outlines: readonly { readonly from: number; readonly to: number; readonly path: Path }[];
}

/** More plies than anybody stacks. */
const MOST_PLIES = 60;

/**
 * The plies of a tray's former.
 *
 * @throws GatherpanError NOT_MAKEABLE where the clearance leaves no corner, a lip turned in keeps the block
 *   from coming out, or the tray has open sides; BAD_INPUT for more than 60 plies
 */
export function former(spec: TraySpec, clearance: number, plyThickness: number): Former {
  const { rim } = spec.section;
  if (rim.kind !== 'plain' && rim.direction === 'in') {
    throw new GatherpanError(
      'NOT_MAKEABLE',
      `A former of ${spec.name} could not be taken out again: its lip is turned in.`,
    );
  }
  const inside = insideHeight(spec);
  const plies = Math.ceil(inside / plyThickness - 1e-9);
  if (plies > MOST_PLIES) {
    throw new GatherpanError(
      'BAD_INPUT',
      `A former ${inside.toFixed(1)} mm high takes ${plies} plies of ${plyThickness} mm; up to ${MOST_PLIES} are drawn.`,
    );
  }
  const radius = insideBottomRadius(spec);
  const wall = Math.PI / 2 - (spec.section.draft * Math.PI) / 180;
  const bendTop = radius * (1 - Math.cos(wall));
  const outlines: { from: number; to: number; path: Path }[] = [];
  let before = Number.NaN;
  for (let ply = 1; ply <= plies; ply++) {
    // The bend is rounded from the full outline, so no ply is cut smaller than the bend's upper end.
    const run = insideRunAt(spec, Math.max(bendTop, Math.min(inside, ply * plyThickness))) - clearance;
    if (Math.abs(run - before) < 1e-9) {
      outlines[outlines.length - 1]!.to = ply;
      continue;
    }
    before = run;
    const path = planAtRun(spec, run, 'The former');
    if (run <= 0) {
      throw new GatherpanError(
        'NOT_MAKEABLE',
        `A clearance of ${clearance} mm is more than the bottom bend of ${spec.name} is wide (${(run + clearance).toFixed(1)} mm); less is accepted.`,
      );
    }
    outlines.push({ from: ply, to: ply, path });
  }
  return { plies, height: plies * plyThickness, edgeRadius: radius, outlines };
}

/** The plies as plates. */
export function formerPlates(pattern: FlatPattern, options: FormerOptions): Plate[] {
  const { clearance, plyThickness, unit, words } = options;
  const { plies, height, edgeRadius, outlines } = former(pattern.spec, clearance, plyThickness);
  return outlines.map(({ from, to, path }, i) => {
    const lines = [
      pattern.name,
      words.formerStack(String(plies), withUnit(plyThickness, unit), withUnit(height, unit)),
      from === to
        ? words.formerOnePly(String(from))
        : words.formerPly(String(from), String(to), String(to - from + 1)),
    ];
    if (i === 0) lines.push(words.formerEdge(withUnit(edgeRadius, unit)));
    return { id: `ply-${from}`, outline: path, holes: [], scribe: [], text: placedText(path, [], lines) };
  });
}
