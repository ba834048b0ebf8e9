/** The section in a tray file: bend, wall and rim. */
import * as z from 'zod';
import { words } from '../words/language.ts';
import { SIDE_PATTERN } from './cornerLetter.ts';
import { byLetters, choice, length, meaning, number, object, type Said, type Units } from './fields.ts';
import { DEFAULTS, LIMITS, VERTEX_COUNT } from './limits.ts';
import { SIDES } from './planSchema.ts';

const take = () => words().messages.tray.fields.accepted;
const means = () => words().messages.tray.fields.described;

const heightsAccepted = (): string => take().heights;

const plain = object(
  { kind: z.literal('plain') },
  () => take().rim,
  () => means().plain,
);

const lip = (units: Units) =>
  object(
    {
      kind: z.literal('lip'),
      direction: choice(['out', 'in'], () => means().lipDirection),
      bendRadius: length(units, LIMITS.radius, () => means().lipBendRadius),
      width: length(units, LIMITS.lip, () => means().lipWidth),
    },
    () => take().rim,
    () => means().lip,
  );

const rim = (units: Units) =>
  z
    .discriminatedUnion('kind', [plain, lip(units)], {
      error: ({ code }) => (code === 'invalid_union' ? take().rimKind : take().rim),
    })
    .meta(meaning(() => means().rim))
    .default({ kind: 'plain' });

export const section = (units: Units) => {
  const height = (description: Said) => length(units, LIMITS.height, description);
  return object(
    {
      bottomRadius: length(units, LIMITS.radius, () => means().bottomRadius),
      height: height(() => means().height).optional(),
      draft: number(LIMITS.draft, 'degrees', () => means().draft).default(DEFAULTS.draft),
      rim: rim(units),
      heights: z
        .union(
          [
            z
              .array(
                height(() => means().heightOfEdge),
                { error: heightsAccepted },
              )
              .max(VERTEX_COUNT[1], { error: heightsAccepted })
              .meta(meaning(() => means().heightsByEdge)),
            byLetters(
              SIDE_PATTERN,
              height(() => means().heightOfEdge),
              Object.fromEntries(
                SIDES.map((name) => [name, height(() => means().heightOfSide[name]).optional()]),
              ) as Record<(typeof SIDES)[number], z.ZodOptional<ReturnType<typeof height>>>,
              heightsAccepted,
              () => means().heightsBySide,
            ),
          ],
          { error: heightsAccepted },
        )
        .meta(meaning(() => means().heights))
        .optional(),
      runOut: length(units, LIMITS.runOut, () => means().runOut).optional(),
    },
    () => take().section,
    () => means().section,
  );
};
