/** How the solve of a part tells that there is no flat shape; `developPart` makes the verdict of it. */
import { GatherpanError } from '../../errors.ts';
import type { NoFlatCause } from '../../gather/report.ts';
import { words } from '../../words/language.ts';
import { type Statement, written } from '../../words/statement.ts';

export class NoShape extends GatherpanError {
  constructor(
    readonly why: Exclude<NoFlatCause, 'shrinkage'>,
    readonly sentence: Statement,
  ) {
    super('NO_FLAT', written(sentence, words()));
  }
}

export const isUnsettled = (error: unknown): boolean =>
  error instanceof NoShape && error.why === 'no equilibrium';
