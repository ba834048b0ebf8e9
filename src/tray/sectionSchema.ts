/** The section in a tray file: bend, wall and rim. */

import * as z from 'zod';
import { words } from '../words/language.ts';
import { SIDE_PATTERN } from './cornerLetter.ts';
import { described } from './described.ts';
import { byLetters, choice, length, meaning, number, object, type Said, type Units } from './fields.ts';
import { DEFAULTS, LIMITS, VERTEX_COUNT } from './limits.ts';
import { SIDES } from './planSchema.ts';

const take = () => words().messages.tray.fields.accepted;

const heightsAccepted = (): string => take().heights;

const plain = object(
  { kind: z.literal('plain') },
  () => take().rim,
  () => described().plain,
);

const lip = (units: Units) =>
  object(
    {
      kind: z.literal('lip'),
      direction: choice(['out', 'in'], () => described().lipDirection),
      bendRadius: length(units, LIMITS.radius, () => described().lipBendRadius),
      width: length(units, LIMITS.lip, () => described().lipWidth),
    },
    () => take().rim,
    () => described().lip,
  );

const rim = (units: Units) =>
  z
    .discriminatedUnion('kind', [plain, lip(units)], {
      error: ({ code }) => (code === 'invalid_union' ? take().rimKind : take().rim),
    })
    .meta(meaning(() => described().rim))
    .default({ kind: 'plain' });

export const section = (units: Units) => {
  const height = (description: Said) => length(units, LIMITS.height, description);
  return object(
    {
      bottomRadius: length(units, LIMITS.radius, () => described().bottomRadius),
      height: height(() => described().height).optional(),
      draft: number(LIMITS.draft, 'degrees', () => described().draft).default(DEFAULTS.draft),
      rim: rim(units),
      heights: z
        .union(
          [
            z
              .array(
                height(() => described().heightOfEdge),
                { error: heightsAccepted },
              )
              .max(VERTEX_COUNT[1], { error: heightsAccepted })
              .meta(meaning(() => described().heightsByEdge)),
            byLetters(
              SIDE_PATTERN,
              height(() => described().heightOfEdge),
              Object.fromEntries(
                SIDES.map((name) => [name, height(() => described().heightOfSide[name]).optional()]),
              ) as Record<(typeof SIDES)[number], z.ZodOptional<ReturnType<typeof height>>>,
              heightsAccepted,
              () => described().heightsBySide,
            ),
          ],
          { error: heightsAccepted },
        )
        .meta(meaning(() => described().heights))
        .optional(),
      runOut: length(units, LIMITS.runOut, () => described().runOut).optional(),
    },
    () => take().section,
    () => described().section,
  );
};
