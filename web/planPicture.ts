/** A small plan of a rectangle, seen from above: a tap on a corner or a side leads to its field. */
import { fieldValue, isRectangle } from '../src/tray/trayForm.ts';
import { lengthFrom, lengthsFrom } from '../src/tray/writtenSize.ts';
import { type TrayObject, unitsOf } from '../src/tray/writtenTray.ts';
import { words } from './words.js';

const SVG = 'http://www.w3.org/2000/svg';
const WIDTH = 240;
const MOST_HEIGHT = 160;
const EDGE = 26;

function part(name: string, attributes: Readonly<Record<string, string | number>>, text = ''): SVGElement {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  if (text !== '') made.append(text);
  return made;
}

/** @param lead takes the id of the field that was asked for */
export function planPicture(place: HTMLElement, tray: TrayObject, lead: (field: string) => void): void {
  const text = (name: string): string => String(fieldValue(tray, name));
  const units = unitsOf(tray);
  const length = lengthFrom(text('plan.length'), units);
  const width = lengthFrom(text('plan.width'), units);
  place.hidden = !isRectangle(tray) || !(length !== null && width !== null && length > 0 && width > 0);
  if (place.hidden) return;
  const height = Math.min(MOST_HEIGHT, Math.max(50, ((WIDTH - 2 * EDGE) * width!) / length!));
  const scale = (WIDTH - 2 * EDGE) / length!;
  const radii = [0, 1, 2, 3].map((i) => {
    const radius = lengthsFrom(text(`plan.cornerRadius.${i}`), units)?.[0] ?? 0;
    return Math.min(Math.max(0, radius * scale), (WIDTH - 2 * EDGE) / 2, height / 2);
  });
  const [right, bottom] = [WIDTH - EDGE, EDGE + height];
  const [a, b, c, d] = radii as [number, number, number, number];
  const svg = part('svg', { viewBox: `0 0 ${WIDTH} ${height + 2 * EDGE}`, class: 'plan-drawing' });
  svg.append(
    part('path', {
      class: 'plan-outline',
      d: `M${right - a} ${EDGE}H${EDGE + b}A${b} ${b} 0 0 0 ${EDGE} ${EDGE + b}V${bottom - c}A${c} ${c} 0 0 0 ${EDGE + c} ${bottom}H${right - d}A${d} ${d} 0 0 0 ${right} ${bottom - d}V${EDGE + a}A${a} ${a} 0 0 0 ${right - a} ${EDGE}Z`,
    }),
  );
  /** A place to tap, reached by the fields' own labels from the keyboard. */
  const target = (x: number, y: number, letter: string, field: string): void => {
    const group = part('g', { class: 'plan-target' });
    group.append(
      part('circle', { cx: x, cy: y, r: 22 }),
      part('text', { x, y: y + 5, 'text-anchor': 'middle' }, letter),
    );
    group.addEventListener('click', () => lead(field));
    svg.append(group);
  };
  target(right, EDGE, 'A', 'corner-A');
  target(EDGE, EDGE, 'B', 'corner-B');
  target(EDGE, bottom, 'C', 'corner-C');
  target(right, bottom, 'D', 'corner-D');
  target(WIDTH / 2, EDGE, 'A–B', 'side-top');
  target(EDGE, EDGE + height / 2, 'B–C', 'side-left');
  target(WIDTH / 2, bottom, 'C–D', 'side-bottom');
  target(right, EDGE + height / 2, 'D–A', 'side-right');
  svg.setAttribute('role', 'img');
  svg.setAttribute('aria-label', words.planPicture);
  place.replaceChildren(svg);
}
