/** The cut across the wall, hatched, with its sizes: an item of the card. */
import { drawn, filled, type Item, openLine } from '../drawing/picture.ts';
import { textWidth } from '../drawing/textWidth.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import { pointOnPiece } from '../geometry/arc.ts';
import { pathBounds } from '../geometry/measure.ts';
import type { Path, Point, Vertex } from '../geometry/path.ts';
import { insideBottomRadius, neutralSection, sectionPoint } from '../tray/section.ts';
import type { LipRim, TraySpec } from '../tray/spec.ts';
import { givenDecimals, type LengthUnit, lengthText, withUnit } from './lengths.ts';
import { dimension, leader, text } from './marks.ts';
import { sheetSection, skinProfile } from './skins.ts';

/**
 * The section of the right-hand wall, its lower left corner at the origin.
 *
 * @param room mm on the paper, sizes included
 */
export function sectionView(
  spec: TraySpec,
  room: { readonly width: number; readonly height: number },
  unit: LengthUnit,
): { items: Item[]; height: number } {
  const radius = insideBottomRadius(spec);
  const end = neutralSection(spec).pieces.reduce(
    (most, piece) =>
      Math.max(most, sectionPoint(piece, 1, { run: 0, height: 0, angle: 0, developed: 0 }).run),
    0,
  );
  const base = Math.max(radius, 0.35 * spec.section.height, 0.5 * end);
  const sheet = sheetSection(spec, base);
  const box = pathBounds(sheet);
  const { rim } = spec.section;
  // Sizes of a lip stand above it.
  const above = rim.kind === 'lip' ? 9 : 0;
  const scale = Math.min(
    (room.width - 34) / (box.maxX - box.minX),
    (room.height - 10 - above) / (box.maxY - box.minY),
  );
  const at = {
    x: 4 - box.minX * scale + lipIndent(spec, base, scale, box.minX, unit),
    y: 8 - box.minY * scale,
  };
  const place = (x: number, y: number): { x: number; y: number } => ({
    x: at.x + x * scale,
    y: at.y + y * scale,
  });
  const inside = spec.measured === 'inside';
  const bend = skinProfile(spec, spec.measured, base).vertices;
  const top = Math.max(...bend.map((vertex) => vertex.y));
  const bottom = bend[0]!.y;
  const right = box.maxX + 3 / scale;
  const items: Item[] = [
    { kind: 'group', at, scale, items: [filled([sheet], '#d9d9d9'), drawn([sheet], LINES.edge)] },
    ...breakLine(
      place(box.minX, box.minY),
      place(box.minX, skinProfile(spec, 'inside', base).vertices[0]!.y),
    ),
    ...dimension(
      place(right, bottom),
      place(right, top),
      -5,
      lengthText(spec.section.height, unit, givenDecimals(unit, spec.section.height)),
    ),
  ];
  // The radius, with a leader from the middle of the bend to the hollow side.
  const angle = Math.PI / 4;
  const r = spec.section.bottomRadius;
  const centre = { x: 0, y: radius };
  const onBend = place(centre.x + r * Math.sin(angle), centre.y - r * Math.cos(angle));
  const below = place(0, box.minY).y - 3;
  const outFrom = inside
    ? place(centre.x + 0.25 * radius * Math.sin(angle), centre.y - 0.25 * radius * Math.cos(angle))
    : { x: onBend.x + 0.4 * (onBend.y - below), y: below };
  items.push(
    ...leader([outFrom, onBend]),
    text(
      inside ? { x: outFrom.x - 1, y: outFrom.y + 1 } : { x: outFrom.x + 1, y: outFrom.y - 1.4 },
      TEXT.normal,
      `R ${lengthText(r, unit, givenDecimals(unit, r))}`,
      { align: inside ? 'center' : 'left', halo: true },
    ),
    text(place(box.minX + 1 / scale, 2.2 / scale), TEXT.normal, withUnit(spec.sheet.thickness, unit, 2), {
      halo: true,
    }),
  );
  if (rim.kind === 'lip') items.push(...lipSizes(bend, rim, place, unit));
  return { items, height: (box.maxY - box.minY) * scale + 10 + above };
}

/** The radius of a lip's bend stands this far to the left of the bend, mm on the paper. */
const LIP_RADIUS = 8;

const lipRadius = ({ bendRadius }: LipRim, unit: LengthUnit): string =>
  `R ${lengthText(bendRadius, unit, givenDecimals(unit, bendRadius))}`;

/** How much farther right a section stands so that the radius of its lip has room at the left, mm on the paper. */
function lipIndent(spec: TraySpec, base: number, scale: number, minX: number, unit: LengthUnit): number {
  const { rim } = spec.section;
  if (rim.kind !== 'lip') return 0;
  const [begin, end] = skinProfile(spec, spec.measured, base).vertices.slice(-3) as [Vertex, Vertex];
  const onBend = 4 + (pointOnPiece(begin, end, 0.5).x - minX) * scale;
  return Math.max(0, textWidth(lipRadius(rim, unit), TEXT.normal) + LIP_RADIUS - onBend);
}

/** Width of a lip above it, and the radius of its bend with a leader to the middle of that. */
function lipSizes(
  skin: readonly Vertex[],
  rim: LipRim,
  place: (x: number, y: number) => Point,
  unit: LengthUnit,
): Item[] {
  const [before, begin, end, edge] = skin.slice(-4) as [Vertex, Vertex, Vertex, Vertex];
  // The wall's skin goes on to the level of the lip: from there its width counts.
  const wallX = begin.x + ((begin.x - before.x) * (edge.y - begin.y)) / (begin.y - before.y);
  const [from, to] = [place(wallX, edge.y), place(edge.x, edge.y)];
  const middle = pointOnPiece(begin, end, 0.5);
  const onBend = place(middle.x, middle.y);
  // At the left there is room: above the bend of a lip turned out, in the hollow of one turned in.
  const beside = { x: onBend.x - LIP_RADIUS + 1, y: onBend.y + (rim.direction === 'out' ? 3 : -7) };
  const own = (mm: number): string => lengthText(mm, unit, givenDecimals(unit, mm));
  return [
    ...(rim.direction === 'out'
      ? dimension(from, to, 5, own(rim.width))
      : dimension(to, from, 5, own(rim.width))),
    ...leader([beside, onBend]),
    text({ x: beside.x - 1, y: beside.y - TEXT.normal / 2 }, TEXT.normal, lipRadius(rim, unit), {
      align: 'right',
      halo: true,
    }),
  ];
}

/** A freehand edge where the part goes on. */
function breakLine(from: { x: number; y: number }, to: { x: number; y: number }): Item[] {
  const middle = (from.y + to.y) / 2;
  const line: Path = openLine([
    { x: from.x, y: from.y - 1.5 },
    { x: from.x - 0.5, y: middle - 0.4 },
    { x: from.x + 0.5, y: middle + 0.4 },
    { x: to.x, y: to.y + 1.5 },
  ]);
  return [drawn([line], LINES.thin)];
}
