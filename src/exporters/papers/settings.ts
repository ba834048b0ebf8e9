/** Parameters that several papers share, and their values as the papers take them. */
import { type LengthUnit, ownUnit } from '../../papers/lengths.ts';
import type { PageSize } from '../../papers/pageSizes.ts';
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import type { Words } from '../../words/english.ts';
import type { Parameter, ParameterValues } from '../contract.ts';
import { choice, number } from '../parameterKinds.ts';

export const unitParameter = ({ unit }: Words['exporters']): Parameter =>
  choice('unit', ['own', 'mm', 'inch', 'fraction'], unit);
export const sheetPaper = ({ paper }: Words['exporters']): Parameter =>
  choice('paper', ['A4', 'A3', 'Letter'], paper);
export const trialBend = (said: Words['exporters']): Parameter =>
  number('trialBend', '°', 0, [0, 80], said.trialBend);
export const stages = (help: string): Parameter => number('stages', '', 0, [0, 8], help);

/** Unit of lengths: as asked, or the tray's own. */
export const unitOf = ({ unit }: ParameterValues, { spec }: Pick<FlatPattern, 'spec'>): LengthUnit =>
  unit === 'own' ? ownUnit(spec) : (unit as LengthUnit);
export const paperOf = (values: ParameterValues): PageSize => values.paper as PageSize;
