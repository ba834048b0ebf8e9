/** The plan in a tray file: a rectangle, a polygon with straight and bulged edges, or a drawing. */
import * as z from 'zod';
import { words } from '../words/language.ts';
import { CORNER_PATTERN, SIDE_PATTERN } from './cornerLetter.ts';
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
const means = () => words().messages.tray.fields.described;

/** Sides of a rectangle seen from above, in the order of their edge numbers: at +y, −x, −y and +x. */
export const SIDES = ['top', 'left', 'bottom', 'right'] as const;

export type Side = (typeof SIDES)[number];

const sideAccepted = (): string => take().side;

const corner = (units: Units, description: Said) => length(units, LIMITS.radius, description);

const sideLetters = (error: Said) =>
  z
    .string({ error })
    .regex(SIDE_PATTERN, { error })
    .meta(meaning(() => means().sideByLetters));

/** A side of a rectangle, by name, letters or number. */
export const side = z
  .union(
    [
      z.enum(SIDES, { error: sideAccepted }).meta(meaning(() => means().sideByName)),
      sideLetters(sideAccepted),
      z
        .int({ error: sideAccepted })
        .min(0, { error: sideAccepted })
        .max(3, { error: sideAccepted })
        .meta(meaning(() => means().sideByNumber)),
    ],
    { error: sideAccepted },
  )
  .meta(meaning(() => means().side));

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
        .meta(meaning(() => means().edge)),
    ],
    { error: edgeAccepted },
  )
  .meta(meaning(() => means().polygonSide));

const openEdges = z
  .array(edge, { error: numberWanted(() => take().openEdges) })
  .max(VERTEX_COUNT[1], { error: numberWanted(() => take().openEdges) })
  .meta(meaning(() => means().openEdges))
  .optional();

const rectangle = (units: Units) =>
  object(
    {
      length: length(units, LIMITS.planSize, () => means().length),
      width: length(units, LIMITS.planSize, () => means().width),
      cornerRadius: z
        .union(
          [
            corner(units, () => means().rectangleRadiusOfAll),
            z
              .array(
                length(units, LIMITS.cornerRadius, () => means().rectangleRadiusOfOne),
                { error: () => take().fourRadii },
              )
              .length(4, { error: () => take().fourRadii })
              .meta(meaning(() => means().rectangleRadii)),
            byLetters(
              CORNER_PATTERN,
              length(units, LIMITS.cornerRadius, () => means().rectangleRadiusOfOne),
              {},
              () => take().radii,
              () => means().rectangleRadiiByLetter,
            ),
          ],
          { error: () => take().radii },
        )
        .meta(meaning(() => means().rectangleRadius))
        .optional(),
      openEdges: z
        .array(side, { error: () => take().openSides })
        .max(4, { error: () => take().openSides })
        .meta(meaning(() => means().openSides))
        .optional(),
    },
    () => take().rectangle,
    () => means().rectangle,
  );

const sharedRadius = (units: Units) => corner(units, () => means().sharedRadius).optional();

const polygon = (units: Units) =>
  object(
    {
      vertices: z
        .array(
          object(
            {
              x: length(units, LIMITS.coordinate, () => means().vertexX),
              y: length(units, LIMITS.coordinate, () => means().vertexY),
              radius: length(units, LIMITS.cornerRadius, () => means().vertexRadius).optional(),
              bulge: number(LIMITS.bulge, '', () => means().bulge).optional(),
            },
            () => take().vertex,
            () => means().vertex,
          ),
          { error: () => take().vertices },
        )
        .min(VERTEX_COUNT[0], { error: () => take().fewestVertices(String(VERTEX_COUNT[0])) })
        .max(VERTEX_COUNT[1], { error: () => take().mostVertices(String(VERTEX_COUNT[1])) })
        .meta(meaning(() => means().vertices)),
      cornerRadius: sharedRadius(units),
      openEdges,
    },
    () => take().polygon,
    () => means().polygon,
  );

/** Units that a drawing of a plan may have. */
export const DRAWING_UNITS = ['mm', 'cm', 'dm', 'm', 'in', 'ft'] as const;

export type DrawingUnit = (typeof DRAWING_UNITS)[number];

const drawing = (units: Units) =>
  object(
    {
      dxf: text(
        () => take().dxf,
        () => means().dxf,
      ),
      layer: text(
        () => take().layer,
        () => means().layer,
      ).optional(),
      loop: z
        .int({ error: numberWanted(() => take().loop) })
        .min(1, { error: numberWanted(() => take().loop) })
        .meta(meaning(() => means().loop))
        .optional(),
      units: choice(DRAWING_UNITS, () => means().drawingUnits).optional(),
      cornerRadius: sharedRadius(units),
      openEdges,
    },
    () => take().drawnPlan,
    () => means().drawnPlan,
  );

export const plan = (units: Units) =>
  z
    .union([rectangle(units), polygon(units), drawing(units)], {
      error: () => take().plan,
    })
    .meta(meaning(() => means().plan));
