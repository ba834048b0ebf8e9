/** The plan in a tray file: a rectangle, a polygon with straight and bulged edges, or a drawing. */
import { z } from 'zod';
import { choice, length, number, object, text, type Units } from './fields.ts';
import { LIMITS, VERTEX_COUNT } from './limits.ts';

/** Sides of a rectangle seen from above, in the order of their edge numbers: at +y, −x, −y and +x. */
export const SIDES = ['top', 'left', 'bottom', 'right'] as const;

export type Side = (typeof SIDES)[number];

export const RADII_ACCEPTED = 'one radius or a list of four';

const SIDES_ACCEPTED = '"top", "left", "bottom" or "right"';

const corner = (units: Units, description: string) => length(units, LIMITS.radius, description);

/** A side of a rectangle, by name or by edge number. */
export const side = z
  .union(
    [
      choice(SIDES, 'Seen from above: top at +y, left at -x, bottom at -y, right at +x.'),
      z
        .int({ error: SIDES_ACCEPTED })
        .min(0, { error: SIDES_ACCEPTED })
        .max(3, { error: SIDES_ACCEPTED })
        .meta({ description: 'The same as a number: 0 top, 1 left, 2 bottom, 3 right.' }),
    ],
    { error: SIDES_ACCEPTED },
  )
  .meta({ description: 'A side of a rectangle.' });

const EDGE_ACCEPTED = `a whole number from 0 to ${VERTEX_COUNT[1] - 1}, the number of the vertex the edge starts from`;

/** An edge of a polygon. */
export const edge = z
  .int({ error: EDGE_ACCEPTED })
  .min(0, { error: EDGE_ACCEPTED })
  .max(VERTEX_COUNT[1] - 1, { error: EDGE_ACCEPTED })
  .meta({ description: 'Number of an edge: that of the vertex it starts from, counted from 0.' });

const openEdges = z
  .array(edge, { error: 'a list of edge numbers' })
  .max(VERTEX_COUNT[1], { error: 'a list of edge numbers' })
  .meta({
    description:
      'Edges without a wall, by the number of the vertex they start from. All edges have one when left out.',
  })
  .optional();

const rectangle = (units: Units) =>
  object(
    {
      length: length(
        units,
        LIMITS.planSize,
        'Along the x axis, wall to wall; with draft, between the lines where the planes of base and walls would meet.',
      ),
      width: length(units, LIMITS.planSize, 'Along the y axis, measured like the length.'),
      cornerRadius: z
        .union(
          [
            corner(units, 'The same at all corners; those next to an open side or notched are not rounded.'),
            z
              .array(
                length(
                  units,
                  LIMITS.cornerRadius,
                  'Radius of one corner, 0 next to an open side or notched.',
                ),
                { error: 'a list of four radii' },
              )
              .length(4, { error: 'a list of four radii' })
              .meta({ description: 'Counter-clockwise from the corner at +x +y.' }),
          ],
          { error: RADII_ACCEPTED },
        )
        .meta({
          description:
            'Radius of the plan corners on the measured skin: one for all, or four counter-clockwise from +x +y. May be left out when no corner is rounded.',
        })
        .optional(),
      openEdges: z
        .array(side, { error: `a list of open sides, each ${SIDES_ACCEPTED}` })
        .max(4, { error: `a list of open sides, each ${SIDES_ACCEPTED}` })
        .meta({ description: 'Sides without a wall. All have one when left out.' })
        .optional(),
    },
    'an object with length, width and cornerRadius',
    'A rectangle, centred on the origin, length along x.',
  );

const sharedRadius = (units: Units) =>
  corner(
    units,
    'Radius of every corner that has none of its own, where one is needed: not at smooth joints, open or notched corners.',
  ).optional();

const polygon = (units: Units) =>
  object(
    {
      vertices: z
        .array(
          object(
            {
              x: length(units, LIMITS.coordinate, 'To the right.'),
              y: length(units, LIMITS.coordinate, 'Up.'),
              radius: length(
                units,
                LIMITS.cornerRadius,
                'Plan radius of this corner, on the measured skin; 0 or left out where edges meet smoothly and at open or notched corners.',
              ).optional(),
              bulge: number(
                LIMITS.bulge,
                '',
                'Bends the edge from here to the next vertex into an arc: the tangent of a quarter of its sweep, tan(sweep / 4), as in DXF. 1 is a half circle, 0.41421356 a quarter circle; positive outwards, negative inwards.',
              ).optional(),
            },
            'an object with x, y and radius',
            'A vertex of the plan and the edge that starts there.',
          ),
          { error: 'a list of vertices, each with x, y and radius' },
        )
        .min(VERTEX_COUNT[0], { error: `a list of at least ${VERTEX_COUNT[0]} vertices` })
        .max(VERTEX_COUNT[1], { error: `a list of at most ${VERTEX_COUNT[1]} vertices` })
        .meta({
          description: 'Vertices of the plan, counter-clockwise, the first not repeated at the end.',
        }),
      cornerRadius: sharedRadius(units),
      openEdges,
    },
    'an object with vertices',
    'Any plan of straight and bulged edges that does not cross itself, counter-clockwise.',
  );

const drawing = (units: Units) =>
  object(
    {
      dxf: text(
        'the path of a DXF drawing of the plan',
        'Path of a DXF drawing of the plan, from the folder of this file: one closed chain of lines, arcs, polylines, or a circle.',
      ),
      layer: text('the name of a layer', 'The layer to read; all of them when left out.').optional(),
      cornerRadius: sharedRadius(units),
      openEdges,
    },
    'an object with dxf',
    'A plan drawn elsewhere. Edges are numbered counter-clockwise from the entity that is drawn first.',
  );

export const plan = (units: Units) =>
  z
    .union([rectangle(units), polygon(units), drawing(units)], {
      error: 'an object with length, width and cornerRadius, with vertices, or with dxf',
    })
    .meta({
      description:
        'The plan of the walls: a rectangle, a polygon with straight and bulged edges, or a drawing.',
    });
