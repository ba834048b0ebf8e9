/** The section in a tray file: bend, wall and rim. */
import { z } from 'zod';
import { choice, length, number, object, type Units } from './fields.ts';
import { DEFAULTS, LIMITS, VERTEX_COUNT } from './limits.ts';
import { SIDES } from './planSchema.ts';

const HEIGHTS_ACCEPTED =
  'a list of heights, one for every edge, or for a rectangle an object with top, left, bottom and right';

const plain = object({ kind: z.literal('plain') }, 'an object with kind', 'The wall simply ends.');

const lip = (units: Units) =>
  object(
    {
      kind: z.literal('lip'),
      direction: choice(['out', 'in'], 'Which way the lip is turned, seen from the middle of the tray.'),
      bendRadius: length(units, LIMITS.radius, 'Radius between wall and lip, on the measured skin.'),
      width: length(
        units,
        LIMITS.lip,
        "From the wall's measured skin to the lip's edge; with draft, from where the planes of wall and lip would meet.",
      ),
    },
    'an object with kind, direction, bendRadius and width',
    'The wall is turned into a level lip.',
  );

const rim = (units: Units) =>
  z
    .discriminatedUnion('kind', [plain, lip(units)], {
      error: ({ code }) => (code === 'invalid_union' ? '"plain" or "lip"' : 'an object with kind'),
    })
    .meta({ description: 'How the wall ends. Plain when left out.' })
    .default({ kind: 'plain' });

export const section = (units: Units) => {
  const height = (description: string) => length(units, LIMITS.height, description);
  return object(
    {
      bottomRadius: length(units, LIMITS.radius, 'Radius between base and wall, on the measured skin.'),
      height: height(
        'From the base to the rim, on the measured skin; with a lip, to its measured skin. May be left out when heights gives every edge one.',
      ).optional(),
      draft: number(LIMITS.draft, 'degrees', 'Lean of the wall outwards from upright.').default(
        DEFAULTS.draft,
      ),
      rim: rim(units),
      heights: z
        .union(
          [
            z
              .array(height('Height above one edge.'), { error: HEIGHTS_ACCEPTED })
              .max(VERTEX_COUNT[1], { error: HEIGHTS_ACCEPTED })
              .meta({ description: 'One for every edge, by edge number.' }),
            object(
              Object.fromEntries(
                SIDES.map((name) => [name, height(`Height of the ${name} side.`).optional()]),
              ) as Record<(typeof SIDES)[number], z.ZodOptional<ReturnType<typeof height>>>,
              HEIGHTS_ACCEPTED,
              'Sides of a rectangle; those left out have the height of the section.',
            ),
          ],
          { error: HEIGHTS_ACCEPTED },
        )
        .meta({ description: 'Height of the wall above each edge, where they differ.' })
        .optional(),
      runOut: length(
        units,
        LIMITS.runOut,
        'How far beyond a corner, along the straight sides, the rim runs from one height to the other. 0 when left out.',
      ).optional(),
    },
    'an object with bottomRadius and height',
    'What one sees in a cut across the wall.',
  );
};
