/** The holes in a tray file, given on the finished tray. */
import { z } from 'zod';
import { length, number, object, text, type Units } from './fields.ts';
import { HOLE_CORNERS, HOLE_COUNT, LIMITS, type Range } from './limits.ts';
import { edge, side } from './planSchema.ts';

/** Where a tray's surface can be. */
const ANYWHERE: Range = LIMITS.coordinate;

const POINTS_ACCEPTED = `a list of ${HOLE_CORNERS[0]} to ${HOLE_CORNERS[1]} corners, each with x and y`;

const HOLES_ACCEPTED = 'a list of holes, each with shape and place';

const shape = (units: Units) =>
  z
    .discriminatedUnion(
      'kind',
      [
        object(
          { kind: z.literal('round'), diameter: length(units, LIMITS.hole, 'Diameter of the hole.') },
          'an object with kind and diameter',
          'A round hole.',
        ),
        object(
          {
            kind: z.literal('slot'),
            length: length(units, LIMITS.hole, 'From end to end, the round ends included.'),
            width: length(units, LIMITS.hole, 'Across, twice the radius of the ends.'),
            angle: number(
              LIMITS.grain,
              'degrees',
              "Direction of the length, counter-clockwise from x on the base, from the edge's direction on a wall.",
            ).default(0),
          },
          'an object with kind, length and width',
          'A slot with round ends.',
        ),
        object(
          {
            kind: z.literal('polygon'),
            points: z
              .array(
                object(
                  {
                    x: length(units, LIMITS.coordinate, "Along the place's first direction."),
                    y: length(units, LIMITS.coordinate, "Along the place's second direction; up on a wall."),
                  },
                  'an object with x and y',
                  'A corner of the hole.',
                ),
                { error: POINTS_ACCEPTED },
              )
              .min(HOLE_CORNERS[0], { error: POINTS_ACCEPTED })
              .max(HOLE_CORNERS[1], { error: POINTS_ACCEPTED })
              .meta({ description: "Corners about the hole's place, counter-clockwise." }),
          },
          'an object with kind and points',
          'A hole with straight edges.',
        ),
      ],
      {
        error: ({ code }) =>
          code === 'invalid_union' ? '"round", "slot" or "polygon"' : 'an object with kind and sizes',
      },
    )
    .meta({ description: 'Shape of the hole on the finished tray.' });

const place = (units: Units) =>
  z
    .discriminatedUnion(
      'on',
      [
        object(
          {
            on: z.literal('base'),
            x: length(units, ANYWHERE, "Of the hole's middle."),
            y: length(units, ANYWHERE, "Of the hole's middle."),
          },
          'an object with on, x and y',
          'A hole in the flat of the base.',
        ),
        object(
          {
            on: z.literal('wall'),
            edge: z
              .union([side, edge], { error: 'the name of a side of a rectangle, or the number of an edge' })
              .meta({
                description: 'The edge the wall stands above: a side of a rectangle by name, or a number.',
              }),
            along: length(
              units,
              ANYWHERE,
              "Of the hole's middle, along the edge from its middle between two vertices, counter-clockwise.",
            ),
            height: length(units, LIMITS.height, "Of the hole's middle, above the base's measured skin."),
          },
          'an object with on, edge, along and height',
          'A hole in the straight wall above an edge.',
        ),
      ],
      {
        error: ({ code }) =>
          code === 'invalid_union' ? '"base" or "wall"' : 'an object with on and a position',
      },
    )
    .meta({ description: 'Where the middle of the hole is on the finished tray.' });

export const holes = (units: Units) =>
  z
    .array(
      object(
        {
          name: text(
            'a name for the hole',
            'What the hole is called in reports. hole-1, hole-2 … when left out.',
          ).optional(),
          shape: shape(units),
          place: place(units),
        },
        'an object with shape and place',
        'A hole.',
      ),
      { error: HOLES_ACCEPTED },
    )
    .max(HOLE_COUNT[1], { error: `a list of at most ${HOLE_COUNT[1]} holes` })
    .meta({ description: 'Holes, given on the finished tray: they land where asked after forming.' });
