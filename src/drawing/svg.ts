/**
 * A picture as SVG text: nothing here needs Node, so that the page in the browser uses it too.
 *
 * Units are mm (the root's width and height say so), arcs are true arcs. SVG has y downwards: a coordinate y
 * becomes −y inside every group, and the root group moves the origin to the lower left corner.
 * Source: W3C, Scalable Vector Graphics (SVG) 1.1, sections 7 (units), 8.3 (path data), 10 (text).
 */
import { arcOf, pieceCount, pieceEnd } from '../geometry/arc.ts';
import type { Path } from '../geometry/path.ts';
import { degrees } from '../units.ts';
import type { GroupItem, Item, PathItem, Picture, TextItem } from './picture.ts';
import { fontSize } from './textWidth.ts';

/** Fonts of one width; the first is the one the PDF carries. */
const FONTS = 'Arimo, Arial, Helvetica, Liberation Sans, sans-serif';
/** Width of a text's white rim over the height of its capitals. */
export const HALO = 0.35;

/** The scale and number format that hold where an item stands. */
interface Context {
  readonly scale: number;
  readonly decimals: number;
  /** Gives each clipped group a name of its own. */
  readonly clips: { count: number };
}

export interface SvgOptions {
  /** Paint the sheet of paper, for viewers with a dark ground. Default true. */
  readonly paper?: boolean;
  /** Put before the names of clips, so that two pictures can stand in one page. Default empty. */
  readonly prefix?: string;
}

/** The whole document; the same picture always gives the same text. */
export function svgText(picture: Picture, options: SvgOptions = {}): string {
  const { width, height, title, items } = picture;
  const context: Context = { scale: 1, decimals: 3, clips: { count: 0 } };
  const prefix = options.prefix ?? '';
  const size = `width="${number(width, 3)}mm" height="${number(height, 3)}mm" viewBox="0 0 ${number(width, 3)} ${number(height, 3)}"`;
  const paper =
    options.paper === false
      ? ''
      : `<rect width="${number(width, 3)}" height="${number(height, 3)}" fill="#ffffff"/>\n`;
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" ${size} role="img" font-family="${FONTS}">\n` +
    `<title>${escaped(title)}</title>\n${paper}` +
    `<g transform="translate(0 ${number(height, 3)})">\n` +
    items.map((item) => itemText(item, context, prefix)).join('') +
    '</g>\n</svg>\n'
  );
}

function itemText(item: Item, context: Context, prefix: string): string {
  switch (item.kind) {
    case 'path':
      return pathItemText(item, context);
    case 'text':
      return textItemText(item, context);
    case 'group':
      return groupText(item, context, prefix);
  }
}

function groupText(group: GroupItem, context: Context, prefix: string): string {
  const { at, scale, angle = 0, clip } = group;
  // A point of a group is written with the decimals of the group it stands in; scales must not be rounded.
  const parts = [`translate(${number(at.x, 6)} ${number(-at.y, 6)})`];
  if (angle !== 0) parts.push(`rotate(${number(-degrees(angle), 9)})`);
  if (scale !== 1) parts.push(`scale(${number(scale, 12)})`);
  const inside: Context = {
    scale: context.scale * scale,
    decimals: group.decimals ?? 3,
    clips: context.clips,
  };
  let before = '';
  let attributes = group.id === undefined ? '' : ` id="${escaped(group.id)}"`;
  let content = group.items.map((item) => itemText(item, inside, prefix)).join('');
  if (clip !== undefined) {
    const name = `${prefix}clip${context.clips.count++}`;
    before = `<clipPath id="${name}"><rect x="${number(clip.x, 3)}" y="${number(-clip.y - clip.height, 3)}" width="${number(clip.width, 3)}" height="${number(clip.height, 3)}"/></clipPath>\n`;
    content = `<g clip-path="url(#${name})">\n${content}</g>\n`;
  }
  attributes += ` transform="${parts.join(' ')}"`;
  return `<g${attributes}>\n${before}${content}</g>\n`;
}

function pathItemText({ paths, stroke, fill, overlapping }: PathItem, { scale, decimals }: Context): string {
  const data = paths.map((path) => pathData(path, decimals)).join('');
  if (data === '') return '';
  let attributes = ` fill="${fill ?? 'none'}"`;
  if (fill !== undefined && paths.length > 1 && overlapping !== true) attributes += ' fill-rule="evenodd"';
  if (stroke !== undefined) {
    attributes += ` stroke="${stroke.colour}" stroke-width="${number(stroke.weight / scale, 5)}" stroke-linejoin="round"`;
    if (stroke.dash !== undefined)
      attributes += ` stroke-dasharray="${stroke.dash.map((part) => number(part / scale, 5)).join(' ')}"`;
    else attributes += ' stroke-linecap="round"';
  }
  return `<path d="${data}"${attributes}/>\n`;
}

/** Path data of lines and true arcs, in the group's coordinates with y turned over. */
export function pathData(path: Path, decimals: number): string {
  const first = path.vertices[0];
  const count = pieceCount(path);
  if (first === undefined || count === 0) return '';
  let data = `M${number(first.x, decimals)} ${number(-first.y, decimals)}`;
  for (let i = 0; i < count; i++) {
    const from = path.vertices[i]!;
    const to = pieceEnd(path, i);
    const end = `${number(to.x, decimals)} ${number(-to.y, decimals)}`;
    const arc = arcOf(from, to);
    if (arc === null) {
      // Z draws a straight piece that closes the path.
      if (!(path.closed && i === count - 1)) data += `L${end}`;
      continue;
    }
    // Turned over, a counter-clockwise arc runs with decreasing angle: sweep flag 0.
    const radius = number(arc.radius, decimals + 3);
    const large = Math.abs(arc.sweep) > Math.PI ? 1 : 0;
    data += `A${radius} ${radius} 0 ${large} ${arc.sweep > 0 ? 0 : 1} ${end}`;
  }
  return path.closed ? `${data}Z` : data;
}

function textItemText(item: TextItem, { scale, decimals }: Context): string {
  const size = number(fontSize(item.height) / scale, 5);
  const place =
    item.angle === undefined || item.angle === 0
      ? `x="${number(item.at.x, decimals)}" y="${number(-item.at.y, decimals)}"`
      : `transform="translate(${number(item.at.x, decimals)} ${number(-item.at.y, decimals)}) rotate(${number(-degrees(item.angle), 3)})"`;
  const anchor = item.align === 'left' ? '' : ` text-anchor="${item.align === 'center' ? 'middle' : 'end'}"`;
  const weight = item.bold === true ? ' font-weight="bold"' : '';
  const halo =
    item.halo === true
      ? ` stroke="#ffffff" stroke-width="${number((HALO * item.height) / scale, 5)}" stroke-linejoin="round" paint-order="stroke"`
      : '';
  return `<text ${place} font-size="${size}"${anchor}${weight} fill="${item.colour ?? '#000000'}"${halo}>${escaped(item.text)}</text>\n`;
}

/** A decimal number without zeros at its end, never with an exponent. */
function number(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  const short = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return short === '-0' ? '0' : short;
}

/** Text for XML and HTML; control characters, which XML 1.0 forbids, become a space. */
export function escaped(text: string): string {
  return text
    .replaceAll(/\p{Cc}/gu, ' ')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}
