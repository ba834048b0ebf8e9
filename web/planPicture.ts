/** A small plan of the tray, seen from above: a tap on a corner, a side or a hole leads to its field. */
import { cornerLetter, sideLetters } from '../src/tray/cornerLetter.ts';
import { cornerCount, fieldValue, holesOf, isRectangle, makingOf, sideName } from '../src/tray/trayForm.ts';
import { lengthFrom } from '../src/tray/writtenSize.ts';
import { readWritten, type TrayObject, unitsOf } from '../src/tray/writtenTray.ts';
import { words } from './words.js';

const SVG = 'http://www.w3.org/2000/svg';
const WIDTH = 240;
const MOST_HEIGHT = 160;
const EDGE = 26;
/** Radius of what is tapped, and less of it where many corners lie close together. */
const TAP = 22;
const MANY = 8;

interface Corner {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  /** Of the side that begins here, see `RectanglePlan`. */
  readonly bulge: number;
}

function part(name: string, attributes: Readonly<Record<string, string | number>>, text = ''): SVGElement {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  if (text !== '') made.append(text);
  return made;
}

/** The corners of the plan in its own unit, y up; none where they cannot be read yet. */
function cornersOf(tray: TrayObject): Corner[] {
  const size = (name: string): number =>
    lengthFrom(String(fieldValue(tray, name)), unitsOf(tray)) ?? Number.NaN;
  const { vertices } = (tray.plan ?? {}) as {
    vertices?: readonly { x: number; y: number; bulge?: number }[];
  };
  const [length, width] = [size('plan.length'), size('plan.width')];
  const places = isRectangle(tray)
    ? [
        [1, 1],
        [-1, 1],
        [-1, -1],
        [1, -1],
      ].map(([x, y]) => ({ x: (x! * length) / 2, y: (y! * width) / 2, bulge: 0 }))
    : Array.from({ length: cornerCount(tray) }, (_, i) => ({ bulge: 0, ...vertices![i]! }));
  const radius = (i: number): number =>
    size(isRectangle(tray) ? `plan.cornerRadius.${i}` : `plan.vertices.${i}.radius`) || 0;
  const corners = places.map(({ x, y, bulge }, i) => ({
    x: Number(x),
    y: Number(y),
    bulge: Number(bulge),
    radius: Math.max(0, radius(i)),
  }));
  return corners.every(({ x, y, bulge }) => Number.isFinite(x + y + bulge)) ? corners : [];
}

/** @param lead takes the id of the field that was asked for */
export function planPicture(place: HTMLElement, tray: TrayObject, lead: (field: string) => void): void {
  const corners = cornersOf(tray);
  const [xs, ys] = [corners.map(({ x }) => x), corners.map(({ y }) => y)];
  const [left, top] = [Math.min(...xs), Math.max(...ys)];
  const [length, width] = [Math.max(...xs) - left, top - Math.min(...ys)];
  place.hidden = !(length > 0 && width > 0);
  if (place.hidden) return;
  const scale = Math.min((WIDTH - 2 * EDGE) / length, MOST_HEIGHT / width);
  const across = WIDTH / 2 - (scale * length) / 2;
  /** On the screen, y down. */
  const at = (x: number, y: number): [x: number, y: number] => [
    across + scale * (x - left),
    EDGE + scale * (top - y),
  ];
  const svg = part('svg', {
    viewBox: `0 0 ${WIDTH} ${scale * width + 2 * EDGE}`,
    class: 'plan-drawing',
    role: 'img',
    'aria-label': words.planPicture,
  });
  const count = corners.length;
  const points = corners.map(({ x, y, radius, bulge }) => ({
    place: at(x, y),
    radius: radius * scale,
    bulge,
  }));
  for (let i = 0; i < count; i++) {
    const open = fieldValue(tray, 'plan.openEdges', sideName(tray, i)) === true;
    svg.append(part('path', { class: open ? 'plan-open' : 'plan-outline', d: sidePath(points, i, tray) }));
  }
  /** A place to tap; from the keyboard the fields are reached by their own labels. */
  const target = (x: number, y: number, text: string, field: string, above = 0): void => {
    const group = part('g', { class: 'plan-target' });
    group.append(
      part('circle', { cx: x, cy: y, r: above > 0 || count > MANY ? TAP / 2 : TAP }),
      part('text', { x, y: y + 5 - above, 'text-anchor': 'middle' }, text),
    );
    group.addEventListener('click', () => lead(field));
    svg.append(group);
  };
  const written = holesOf(readWritten(tray, [], {}).tray);
  for (const [i, { place: where, shape }] of written.entries()) {
    if (where.on !== 'base') continue;
    const [x, y] = at(Number(where.x), Number(where.y));
    if (!Number.isFinite(x + y)) continue;
    const radius = Math.max(3, (Number(shape.diameter ?? shape.length ?? 0) * scale) / 2);
    svg.append(part('circle', { class: 'plan-hole', cx: x, cy: y, r: radius }));
    target(x, y, String(i + 1), `hole-${i}-kind`, radius + 12);
  }
  for (const [i, { place: here, bulge }] of points.entries()) {
    const [x, y] = here;
    target(x, y, cornerLetter(i), `corner-${cornerLetter(i)}`);
    const [nextX, nextY] = points[(i + 1) % count]!.place;
    // A bulge lies to the right of the way, which is to its left with y down.
    const [middleX, middleY] = [(x + nextX - bulge * (nextY - y)) / 2, (y + nextY + bulge * (nextX - x)) / 2];
    if (count <= MANY) target(middleX, middleY, sideLetters(i, count), `side-${i}`);
  }
  place.replaceChildren(svg);
}

interface Point {
  readonly place: readonly [x: number, y: number];
  readonly radius: number;
  readonly bulge: number;
}

/** A side and the round of the corner it ends in; where that one is cut out, a step. */
function sidePath(points: readonly Point[], side: number, tray: TrayObject): string {
  const count = points.length;
  const [from, to] = [points[side]!, points[(side + 1) % count]!];
  const begin = towards(points, side, 1, tray);
  if (from.bulge !== 0) {
    const chord = Math.hypot(to.place[0] - from.place[0], to.place[1] - from.place[1]);
    const radius = (chord * (1 + from.bulge ** 2)) / (4 * Math.abs(from.bulge));
    return `M${from.place}A${radius} ${radius} 0 ${Math.abs(from.bulge) > 1 ? 1 : 0} ${from.bulge > 0 ? 0 : 1} ${to.place}`;
  }
  const end = (side + 1) % count;
  const [stop, start] = [towards(points, end, -1, tray), towards(points, end, 1, tray)];
  const line = `M${begin}L${stop}`;
  if (to.bulge !== 0 || tangent(points, end, tray) === 0) return `${line}L${to.place}`;
  if (makingOf(tray, end) === 'notch') {
    const inner = [0, 1].map((k) => stop[k]! + start[k]! - to.place[k]!);
    return `${line}L${inner}L${start}`;
  }
  const radius = Math.min(to.radius, tangent(points, end, tray) / Math.tan(turned(points, end) / 2));
  return `${line}A${radius} ${radius} 0 0 ${turn(points, end) < 0 ? 0 : 1} ${start}`;
}

/** Size of the step of a corner that is cut out. */
const STEP = 9;

const around = (points: readonly Point[], corner: number): [before: Point, here: Point, after: Point] => [
  points[(corner + points.length - 1) % points.length]!,
  points[corner]!,
  points[(corner + 1) % points.length]!,
];

/** Twice the area that a corner spans: below 0 where it turns as the whole does, since y is down. */
function turn(points: readonly Point[], corner: number): number {
  const [before, here, after] = around(points, corner);
  const [ax, ay] = [here.place[0] - before.place[0], here.place[1] - before.place[1]];
  const [bx, by] = [after.place[0] - here.place[0], after.place[1] - here.place[1]];
  return ax * by - ay * bx;
}

/** How far from a corner between straight sides its round begins. */
function tangent(points: readonly Point[], corner: number, tray: TrayObject): number {
  const [before, here, after] = around(points, corner);
  if (before.bulge !== 0 || here.bulge !== 0) return 0;
  const [a, b] = [before, after].map(({ place }) =>
    Math.hypot(place[0] - here.place[0], place[1] - here.place[1]),
  ) as [number, number];
  const most = Math.min(a, b) / 2;
  if (makingOf(tray, corner) === 'notch') return Math.min(STEP, most);
  return Math.min(most, here.radius * Math.tan(turned(points, corner) / 2));
}

/** By how much the way turns at a corner, either way, radians. */
function turned(points: readonly Point[], corner: number): number {
  const [before, here, after] = around(points, corner);
  const dot =
    (here.place[0] - before.place[0]) * (after.place[0] - here.place[0]) +
    (here.place[1] - before.place[1]) * (after.place[1] - here.place[1]);
  return Math.atan2(Math.abs(turn(points, corner)), dot);
}

/** Where the round of a corner begins, on the side after it or before it. */
function towards(points: readonly Point[], corner: number, way: 1 | -1, tray: TrayObject): number[] {
  const [before, here, after] = around(points, corner);
  const other = way === 1 ? after : before;
  const [dx, dy] = [other.place[0] - here.place[0], other.place[1] - here.place[1]];
  const share = tangent(points, corner, tray) / Math.max(1e-9, Math.hypot(dx, dy));
  return [here.place[0] + share * dx, here.place[1] + share * dy];
}
