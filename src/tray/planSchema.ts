/** The plan in a tray file: a rectangle, a polygon with straight and bulged edges, or a drawing. */

import * as z from 'zod';
import { words } from '../words/language.ts';
import { CORNER_PATTERN, SIDE_PATTERN } from './cornerLetter.ts';
import { described } from './described.ts';
import {
  byLetters,
  choice,
  length,
  meaning,
  number,
  numberWanted,
  object,
  type Said,
  text,
  type Units,
} from './fields.ts';
import { LIMITS, VERTEX_COUNT } from './limits.ts';

const take = () => words().messages.tray.fields.accepted;

/** Sides of a rectangle seen from above, in the order of their edge numbers: at +y, −x, −y and +x. */
export const SIDES = ['top', 'left', 'bottom', 'right'] as const;

export type Side = (typeof SIDES)[number];

const sideAccepted = (): string => take().side;

const corner = (units: Units, description: Said) => length(units, LIMITS.radius, description);

const sideLetters = (error: Said) =>
  z
    .string({ error })
    .regex(SIDE_PATTERN, { error })
    .meta(meaning(() => described().sideByLetters));

/** A side of a rectangle, by name, letters or number. */
export const side = z
  .union(
    [
      z.enum(SIDES, { error: sideAccepted }).meta(meaning(() => described().sideByName)),
      sideLetters(sideAccepted),
      z
        .int({ error: sideAccepted })
        .min(0, { error: sideAccepted })
        .max(3, { error: sideAccepted })
        .meta(meaning(() => described().sideByNumber)),
    ],
    { error: sideAccepted },
  )
  .meta(meaning(() => described().side));

const edgeAccepted = (): string => take().edge(String(VERTEX_COUNT[1] - 1));

/** A side of any plan, by letters or number. */
export const edge = z
  .union(
    [
      sideLetters(edgeAccepted),
      z
        .int({ error: edgeAccepted })
        .min(0, { error: edgeAccepted })
        .max(VERTEX_COUNT[1] - 1, { error: edgeAccepted })
        .meta(meaning(() => described().edge)),
    ],
    { error: edgeAccepted },
  )
  .meta(meaning(() => described().polygonSide));

const openEdges = z
  .array(edge, { error: numberWanted(() => take().openEdges) })
  .max(VERTEX_COUNT[1], { error: numberWanted(() => take().openEdges) })
  .meta(meaning(() => described().openEdges))
  .optional();

const rectangle = (units: Units) =>
  object(
    {
      length: length(units, LIMITS.planSize, () => described().length),
      width: length(units, LIMITS.planSize, () => described().width),
      cornerRadius: z
        .union(
          [
            corner(units, () => described().rectangleRadiusOfAll),
            z
              .array(
                length(units, LIMITS.cornerRadius, () => described().rectangleRadiusOfOne),
                { error: () => take().fourRadii },
              )
              .length(4, { error: () => take().fourRadii })
              .meta(meaning(() => described().rectangleRadii)),
            byLetters(
              CORNER_PATTERN,
              length(units, LIMITS.cornerRadius, () => described().rectangleRadiusOfOne),
              {},
              () => take().radii,
              () => described().rectangleRadiiByLetter,
            ),
          ],
          { error: () => take().radii },
        )
        .meta(meaning(() => described().rectangleRadius))
        .optional(),
      openEdges: z
        .array(side, { error: () => take().openSides })
        .max(4, { error: () => take().openSides })
        .meta(meaning(() => described().openSides))
        .optional(),
    },
    () => take().rectangle,
    () => described().rectangle,
  );

const sharedRadius = (units: Units) => corner(units, () => described().sharedRadius).optional();

const polygon = (units: Units) =>
  object(
    {
      vertices: z
        .array(
          object(
            {
              x: length(units, LIMITS.coordinate, () => described().vertexX),
              y: length(units, LIMITS.coordinate, () => described().vertexY),
              radius: length(units, LIMITS.cornerRadius, () => described().vertexRadius).optional(),
              bulge: number(LIMITS.bulge, '', () => described().bulge).optional(),
            },
            () => take().vertex,
            () => described().vertex,
          ),
          { error: () => take().vertices },
        )
        .min(VERTEX_COUNT[0], { error: () => take().fewestVertices(String(VERTEX_COUNT[0])) })
        .max(VERTEX_COUNT[1], { error: () => take().mostVertices(String(VERTEX_COUNT[1])) })
        .meta(meaning(() => described().vertices)),
      cornerRadius: sharedRadius(units),
      openEdges,
    },
    () => take().polygon,
    () => described().polygon,
  );

/** Units that a drawing of a plan may have. */
export const DRAWING_UNITS = ['mm', 'cm', 'dm', 'm', 'in', 'ft'] as const;

export type DrawingUnit = (typeof DRAWING_UNITS)[number];

const drawing = (units: Units) =>
  object(
    {
      dxf: text(
        () => take().dxf,
        () => described().dxf,
      ),
      layer: text(
        () => take().layer,
        () => described().layer,
      ).optional(),
      loop: z
        .int({ error: numberWanted(() => take().loop) })
        .min(1, { error: numberWanted(() => take().loop) })
        .meta(meaning(() => described().loop))
        .optional(),
      units: choice(DRAWING_UNITS, () => described().drawingUnits).optional(),
      cornerRadius: sharedRadius(units),
      openEdges,
    },
    () => take().drawnPlan,
    () => described().drawnPlan,
  );

export const plan = (units: Units) =>
  z
    .union([rectangle(units), polygon(units), drawing(units)], {
      error: () => take().plan,
    })
    .meta(meaning(() => described().plan));
