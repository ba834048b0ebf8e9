/**
 * The bends of a tray's sides as they are made, so that the wanted ones are left when the sheet is let go.
 *
 * Corners are worked through and through, which leaves hardly any springback (common practice, no source): they are
 * made as they are to be.
 */
import type { SheetMaterial } from '../material/sheet.ts';
import { findSheet } from '../material/sheets.ts';
import { correctedByTrial, fibreLaw, type Overbend, overbend } from '../material/springback.ts';
import { temperFor } from '../material/temper.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { turnedAngle } from '../tray/planLoop.ts';
import { insideBottomRadius, insideLipRadius, lipAngle, type Section } from '../tray/section.ts';
import type { TraySpec } from '../tray/spec.ts';
import { degrees, radians } from '../units.ts';
import type { PaperWords } from '../words/english.ts';
import { type Row, short } from './figureRows.ts';
import { type LengthUnit, withUnit } from './lengths.ts';
import { skinOffset } from './skins.ts';

/** A sheet in the state in which it is bent. */
export interface BentState {
  readonly annealed: boolean;
  readonly material: SheetMaterial;
}

/** As it comes and, where it is sold hard and the table knows it soft, annealed. */
export function bentStates(material: SheetMaterial): BentState[] {
  const soft = material.anneal.soft?.name;
  const asItComes = { annealed: false, material };
  return soft === undefined ? [asItComes] : [asItComes, { annealed: true, material: findSheet(soft) }];
}

/** The state in which a tray's sides are bent: annealed where the whole blank is before the first stage. */
export function stateOfWork({ sheet: { material }, gather }: FlatPattern): BentState {
  const states = bentStates(material);
  return temperFor(material, gather.work).annealedFirst ? states.at(-1)! : states[0]!;
}

/**
 * How to bend so that a bend is left.
 *
 * @param insideRadius mm, and `angle` radians, that are to be left
 * @param opened       degrees by which a strip bent by 90° over a former of the tray's inside bottom radius opened; 0
 *                     where no trial bend was made
 */
export function madeBend(
  { sheet: { thickness }, spec }: FlatPattern,
  { material }: BentState,
  { insideRadius, angle }: Overbend,
  opened: number,
): Overbend {
  const own = fibreLaw(material);
  const law = opened === 0 ? own : correctedByTrial(own, thickness, insideBottomRadius(spec), opened).law;
  return overbend(law, thickness, insideRadius, angle);
}

/** The bottom bend of a wall that is to stand at an angle, degrees from the base's plane. */
export const bottomBend = (spec: TraySpec, angle: number): Overbend => ({
  insideRadius: insideBottomRadius(spec),
  angle: radians(angle),
});

/** The bottom bend of the finished tray. */
export const wholeBottomBend = (spec: TraySpec): Overbend =>
  bottomBend(spec, degrees(turnedAngle(spec.section.draft)));

/** The section of a side under the hammer, where `section` is what is left of it: its bend tighter and turned further. */
export function heldSection(spec: TraySpec, section: Section, { insideRadius, angle }: Overbend): Section {
  const [bend, wall] = section.pieces;
  const radius = insideRadius + skinOffset(spec, 'inside');
  const held = { ...bend!, radius, length: radius * angle };
  const straight = wall === undefined ? [] : [{ ...wall, angle, ...bendEnd(radius, angle) }];
  return { ...section, pieces: [held, ...straight] };
}

const bendEnd = (radius: number, angle: number): { run: number; height: number; developed: number } => ({
  run: radius * Math.sin(angle),
  height: radius * (1 - Math.cos(angle)),
  developed: radius * angle,
});

/** What the card says of springback: every bend, in every state of the sheet. */
export function overbendRows(
  pattern: FlatPattern,
  opened: number,
  words: PaperWords,
  unit: LengthUnit,
): Row[] {
  const { spec, sheet } = pattern;
  const states = bentStates(sheet.material);
  const row = (name: string, left: Overbend): Row => {
    const lines = states.map((state) => {
      const made = madeBend(pattern, state, left, opened);
      const said = words.overbendLine(
        withUnit(made.insideRadius, unit),
        degrees(made.angle).toFixed(0),
        short(degrees(left.angle)),
      );
      return states.length === 1 ? said : words.inState[state.annealed ? 'annealed' : 'asItComes'](said);
    });
    return [name, lines.join('; ')];
  };
  const { rim } = spec.section;
  const list = [row(words.overbendBottom, wholeBottomBend(spec))];
  if (rim.kind === 'lip') {
    const left = { insideRadius: insideLipRadius(spec, rim), angle: lipAngle(spec, rim) };
    list.push(row(words.overbendLip, left));
  }
  return list;
}
