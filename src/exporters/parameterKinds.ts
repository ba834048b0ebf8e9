/** Parameters of each kind, as the formats of this program have them. */
import type { Parameter } from './contract.ts';

export const number = (
  name: string,
  unit: string,
  initial: number,
  [minimum, maximum]: readonly [minimum: number, maximum: number],
  help: string,
): Parameter => ({ name, type: 'number', unit, default: initial, minimum, maximum, help });

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
