/** The holes in a tray file, given on the finished tray. */
import * as z from 'zod';
import { words } from '../words/language.ts';
import { length, meaning, number, numberWanted, object, text, type Units } from './fields.ts';
import { HOLE_CORNERS, HOLE_COUNT, LIMITS, type Range } from './limits.ts';
import { edge, side } from './planSchema.ts';

/** Where a tray's surface can be. */
const ANYWHERE: Range = LIMITS.coordinate;

const take = () => words().messages.tray.fields.accepted;
const means = () => words().messages.tray.fields.described;

const pointsAccepted = (): string => take().holePoints(String(HOLE_CORNERS[0]), String(HOLE_CORNERS[1]));

const shape = (units: Units) =>
  z
    .discriminatedUnion(
      'kind',
      [
        object(
          { kind: z.literal('round'), diameter: length(units, LIMITS.hole, () => means().diameter) },
          () => take().shape,
          () => means().round,
        ),
        object(
          {
            kind: z.literal('slot'),
            length: length(units, LIMITS.hole, () => means().slotLength),
            width: length(units, LIMITS.hole, () => means().slotWidth),
            angle: number(LIMITS.grain, 'degrees', () => means().slotAngle).default(0),
          },
          () => take().shape,
          () => means().slot,
        ),
        object(
          {
            kind: z.literal('polygon'),
            points: z
              .array(
                object(
                  {
                    x: length(units, LIMITS.coordinate, () => means().holePointX),
                    y: length(units, LIMITS.coordinate, () => means().holePointY),
                  },
                  () => take().holePoint,
                  () => means().holePoint,
                ),
                { error: pointsAccepted },
              )
              .min(HOLE_CORNERS[0], { error: pointsAccepted })
              .max(HOLE_CORNERS[1], { error: pointsAccepted })
              .meta(meaning(() => means().holePoints)),
          },
          () => take().shape,
          () => means().holePolygon,
        ),
      ],
      {
        error: ({ code }) => (code === 'invalid_union' ? take().shapeKind : take().shape),
      },
    )
    .meta(meaning(() => means().holeShape));

const place = (units: Units) =>
  z
    .discriminatedUnion(
      'on',
      [
        object(
          {
            on: z.literal('base'),
            x: length(units, ANYWHERE, () => means().onBaseX),
            y: length(units, ANYWHERE, () => means().onBaseY),
          },
          () => take().place,
          () => means().onBase,
        ),
        object(
          {
            on: z.literal('wall'),
            edge: z
              .union([side, edge], { error: numberWanted(() => take().wallEdge) })
              .meta(meaning(() => means().wallEdge)),
            along: length(units, ANYWHERE, () => means().wallAlong),
            height: length(units, LIMITS.height, () => means().wallHeight),
          },
          () => take().place,
          () => means().onWall,
        ),
      ],
      {
        error: ({ code }) => (code === 'invalid_union' ? take().placeOn : take().place),
      },
    )
    .meta(meaning(() => means().place));

export const holes = (units: Units) =>
  z
    .array(
      object(
        {
          name: text(
            () => take().holeName,
            () => means().holeName,
          ).optional(),
          shape: shape(units),
          place: place(units),
        },
        () => take().hole,
        () => means().hole,
      ),
      { error: () => take().holes },
    )
    .max(HOLE_COUNT[1], { error: () => take().mostHoles(String(HOLE_COUNT[1])) })
    .meta(meaning(() => means().holes));
