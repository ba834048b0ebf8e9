/** The holes in a tray file, given on the finished tray. */

import * as z from 'zod';
import { words } from '../words/language.ts';
import { described } from './described.ts';
import { length, meaning, number, numberWanted, object, text, type Units } from './fields.ts';
import { HOLE_CORNERS, HOLE_COUNT, LIMITS, type Range } from './limits.ts';
import { edge, side } from './planSchema.ts';

/** Where a tray's surface can be. */
const ANYWHERE: Range = LIMITS.coordinate;

const take = () => words().messages.tray.fields.accepted;

const pointsAccepted = (): string => take().holePoints(String(HOLE_CORNERS[0]), String(HOLE_CORNERS[1]));

const shape = (units: Units) =>
  z
    .discriminatedUnion(
      'kind',
      [
        object(
          { kind: z.literal('round'), diameter: length(units, LIMITS.hole, () => described().diameter) },
          () => take().shape,
          () => described().round,
        ),
        object(
          {
            kind: z.literal('slot'),
            length: length(units, LIMITS.hole, () => described().slotLength),
            width: length(units, LIMITS.hole, () => described().slotWidth),
            angle: number(LIMITS.grain, 'degrees', () => described().slotAngle).default(0),
          },
          () => take().shape,
          () => described().slot,
        ),
        object(
          {
            kind: z.literal('polygon'),
            points: z
              .array(
                object(
                  {
                    x: length(units, LIMITS.coordinate, () => described().holePointX),
                    y: length(units, LIMITS.coordinate, () => described().holePointY),
                  },
                  () => take().holePoint,
                  () => described().holePoint,
                ),
                { error: pointsAccepted },
              )
              .min(HOLE_CORNERS[0], { error: pointsAccepted })
              .max(HOLE_CORNERS[1], { error: pointsAccepted })
              .meta(meaning(() => described().holePoints)),
          },
          () => take().shape,
          () => described().holePolygon,
        ),
      ],
      {
        error: ({ code }) => (code === 'invalid_union' ? take().shapeKind : take().shape),
      },
    )
    .meta(meaning(() => described().holeShape));

const place = (units: Units) =>
  z
    .discriminatedUnion(
      'on',
      [
        object(
          {
            on: z.literal('base'),
            x: length(units, ANYWHERE, () => described().onBaseX),
            y: length(units, ANYWHERE, () => described().onBaseY),
          },
          () => take().place,
          () => described().onBase,
        ),
        object(
          {
            on: z.literal('wall'),
            edge: z
              .union([side, edge], { error: numberWanted(() => take().wallEdge) })
              .meta(meaning(() => described().wallEdge)),
            along: length(units, ANYWHERE, () => described().wallAlong),
            height: length(units, LIMITS.height, () => described().wallHeight),
          },
          () => take().place,
          () => described().onWall,
        ),
      ],
      {
        error: ({ code }) => (code === 'invalid_union' ? take().placeOn : take().place),
      },
    )
    .meta(meaning(() => described().place));

export const holes = (units: Units) =>
  z
    .array(
      object(
        {
          name: text(
            () => take().holeName,
            () => described().holeName,
          ).optional(),
          shape: shape(units),
          place: place(units),
        },
        () => take().hole,
        () => described().hole,
      ),
      { error: () => take().holes },
    )
    .max(HOLE_COUNT[1], { error: () => take().mostHoles(String(HOLE_COUNT[1])) })
    .meta(meaning(() => described().holes));
