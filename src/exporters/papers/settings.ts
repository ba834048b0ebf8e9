/** Parameters that several papers share, and their values as the papers take them. */
import { type LengthUnit, ownUnit } from '../../papers/lengths.ts';
import type { PageSize } from '../../papers/pageSizes.ts';
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import type { Words } from '../../words/english.ts';
import type { Parameter, ParameterValues } from '../contract.ts';

export const unitParameter = ({ unit }: Words['exporters']): Parameter => ({
  name: 'unit',
  type: 'choice',
  default: 'own',
  choices: ['own', 'mm', 'inch', 'fraction'],
  help: unit,
});

export const sheetPaper = ({ paper }: Words['exporters']): Parameter => ({
  name: 'paper',
  type: 'choice',
  default: 'A4',
  choices: ['A4', 'A3', 'Letter'],
  help: paper,
});

export const number = (
  name: string,
  unit: string,
  initial: number,
  [minimum, maximum]: readonly [minimum: number, maximum: number],
  help: string,
): Parameter => ({ name, type: 'number', unit, default: initial, minimum, maximum, help });

export const trialBend = (said: Words['exporters']): Parameter =>
  number('trialBend', '°', 0, [0, 80], said.trialBend);
export const stages = (help: string): Parameter => number('stages', '', 0, [0, 8], help);

export const yesOrNo = (name: string, initial: boolean, help: string): Parameter => ({
  name,
  type: 'boolean',
  default: initial,
  help,
});

export const choice = (name: string, choices: readonly [string, ...string[]], help: string): Parameter => ({
  name,
  type: 'choice',
  default: choices[0],
  choices,
  help,
});

/** Unit of lengths: as asked, or the tray's own. */
export const unitOf = ({ unit }: ParameterValues, { spec }: Pick<FlatPattern, 'spec'>): LengthUnit =>
  unit === 'own' ? ownUnit(spec) : (unit as LengthUnit);
export const paperOf = (values: ParameterValues): PageSize => values.paper as PageSize;
