/** The cut across the wall, hatched, with its sizes: an item of the card. */
import { drawn, filled, type Item, openLine } from '../drawing/picture.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import { pathBounds } from '../outline/measure.ts';
import type { Path } from '../outline/path.ts';
import { insideBottomRadius, neutralSection, sectionPoint } from '../tray/section.ts';
import type { TraySpec } from '../tray/spec.ts';
import { type LengthUnit, lengthText, withUnit } from './lengths.ts';
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
  const scale = Math.min(
    (room.width - 34) / (box.maxX - box.minX),
    (room.height - 10) / (box.maxY - box.minY),
  );
  const at = { x: 4 - box.minX * scale, y: 8 - box.minY * scale };
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
      lengthText(spec.section.height, unit, Number.isInteger(spec.section.height) ? 0 : 1),
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
      `R ${lengthText(r, unit, Number.isInteger(r) ? 0 : 1)}`,
      { align: inside ? 'center' : 'left', halo: true },
    ),
    text(place(box.minX + 1 / scale, 2.2 / scale), TEXT.small, withUnit(spec.sheet.thickness, unit, 2), {
      halo: true,
    }),
  );
  return { items, height: (box.maxY - box.minY) * scale + 10 };
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
