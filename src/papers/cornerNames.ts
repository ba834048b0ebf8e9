/** How papers name the corners of a tray, several at once and on pictures. */
import { type Box, rectangle, type TextItem } from '../drawing/picture.ts';
import { textWidth } from '../drawing/textWidth.ts';
import { TEXT } from '../drawing/weights.ts';
import { containsPoint, distanceToPath } from '../geometry/measure.ts';
import type { Path, Point } from '../geometry/path.ts';
import { cornerCount, cornerName, joinedNames } from '../pattern/cornerName.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { notchRelief, notchRoots } from '../tray/notches.ts';
import { loopPoint, planLoop } from '../tray/planLoop.ts';
import type { PaperWords } from '../words/english.ts';
import { cutPaths } from './blankItems.ts';
import { towards } from './marks.ts';

/**
 * Corners by name. All of a tray's corners, where none is notched, are "each corner", all curved sides of one without
 * corners "all round".
 */
export function cornerNames(pattern: FlatPattern, indices: readonly number[], words: PaperWords): string {
  const { spec, report } = pattern;
  const count = cornerCount(pattern);
  const named = (list: readonly number[]): string =>
    list.map((index) => cornerName(pattern, index)).join(', ');
  const corners = indices.filter((index) => index < count);
  const edges = indices.filter((index) => index >= count);
  if (indices.length > 1 && indices.length === report.corners.length && notchRoots(spec).length === 0) {
    if (edges.length === 0) return words.eachCorner;
    if (corners.length === 0) return words.allRound;
  }
  return [
    ...(corners.length > 0 ? [words.corner(named(corners))] : []),
    ...(edges.length > 0 ? [words.curvedSide(named(edges))] : []),
  ].join('; ');
}

/** Corners by the gather zones they lie in, those that share one joined by a plus: "Corner A + D, B + C". */
export function zoneNames(
  pattern: FlatPattern,
  zones: readonly (readonly number[])[],
  words: PaperWords,
): string {
  if (zones.every((corners) => corners.length < 2)) return cornerNames(pattern, zones.flat(), words);
  const joined = zones.map((corners) => joinedNames(pattern, corners));
  return words.corner(joined.join(', '));
}

/** Where a mark stands by choice, in heights of its letters inside its corner. */
const INSIDE = 1.6;
/** Where it is tried, nearest first: so far inside, and turned from there by so much, radians. */
const TRIED = [INSIDE, 1.3, 1, 2, 2.4]
  .flatMap((inside) => [0, 0.3, -0.3, 0.6, -0.6, 0.9, -0.9].map((turned) => ({ inside, turned })))
  .sort((a, b) => moved(a) - moved(b));
/** A mark belongs to its corner where any other is further away, by this ratio at least. */
const BELONGS = 1.4;
/** What letters become where they have no room: of their height, the least and a step on the way. */
const LEAST = 0.5;
const STEP = 0.1;
/** Room between letters and to what is cut, in heights of letters. */
const APART = 0.2;

function moved({ inside, turned }: { readonly inside: number; readonly turned: number }): number {
  return Math.abs(inside - INSIDE) + Math.abs(turned);
}

/** A corner on the base: where its bend begins, or the hole at the root of its notch. */
interface Corner extends Point {
  readonly name: string;
  /** Direction of the corner as seen from the base, radians. */
  readonly outwards: number;
  /** mm that a mark stands further inside. */
  readonly clear: number;
}

/**
 * The marks of all corners on the blank, each on the base just inside the middle of where its bend begins, or inside
 * the hole at the root of a notch. A mark that would lie on another one, on what is cut, or as near to another corner as
 * to its own gives way to a side; where that does not help, all become smaller.
 *
 * @param scale  mm on the paper per mm
 * @param height of the letters, mm on the paper
 */
export function cornerMarks(pattern: FlatPattern, scale: number, height: number): TextItem[] {
  const corners = cornersOf(pattern);
  const lines = [cutPaths(pattern), pattern.scribeLines.map((line) => line.path)];
  const least = Math.max(LEAST * height, Math.min(height, TEXT.small));
  for (let size = height; size > least; size -= STEP * height) {
    const marks = marksAt(corners, lines, scale, size, true);
    if (marks !== null) return marks;
  }
  return marksAt(corners, lines, scale, least, false)!;
}

/**
 * The room that marks take, as closed paths.
 *
 * @param scale  mm on the paper per mm
 * @param beyond that is left free round them, mm on the paper
 */
export const textBoxes = (marks: readonly TextItem[], scale: number, beyond = 0): Path[] =>
  marks.map((mark) => {
    const { x, y, width, height } = boxOf(mark, scale);
    const more = beyond / scale;
    return rectangle({ x: x - more, y: y - more, width: width + 2 * more, height: height + 2 * more });
  });

function boxOf({ at, text, height, bold }: TextItem, scale: number): Box {
  const width = textWidth(text, height, bold) / scale;
  return { x: at.x - width / 2, y: at.y, width, height: height / scale };
}

function cornersOf(pattern: FlatPattern): Corner[] {
  const { spec, report } = pattern;
  const { segments } = planLoop(spec);
  // The base hardly strains, so that its points lie in the flat where they lie in the plan.
  const gathered = report.corners.flatMap(({ index }): Corner[] => {
    const segment = segments.find((each) => each.kind === 'corner' && each.index === index);
    if (segment === undefined) return [];
    const { x, y, normalX, normalY } = loopPoint(segment, 0.5, { x: 0, y: 0, normalX: 0, normalY: 0 });
    return [{ name: cornerName(pattern, index), x, y, outwards: Math.atan2(normalY, normalX), clear: 0 }];
  });
  const notched = notchRoots(spec).map(({ corner, x, y, outX, outY }) => ({
    name: cornerName(pattern, corner),
    x,
    y,
    outwards: Math.atan2(outY, outX),
    clear: notchRelief(spec) / 2,
  }));
  return [...gathered, ...notched];
}

/**
 * Marks of a size, each where the least is wrong with it.
 *
 * @param lines what marks keep clear of, the worst first
 * @param all   null when a mark cannot be clear of the others and of the worst lines
 */
function marksAt(
  corners: readonly Corner[],
  lines: readonly (readonly Path[])[],
  scale: number,
  height: number,
  all: boolean,
): TextItem[] | null {
  const marks: TextItem[] = [];
  const taken: Box[] = [];
  for (const corner of corners) {
    let best = { wrong: Infinity, mark: null as TextItem | null };
    for (const mark of tried(corner, scale, height)) {
      const wrong = faultsOf(boxOf(mark, scale), (APART * height) / scale, corner, corners, taken, lines);
      if (wrong < best.wrong) best = { wrong, mark };
      if (wrong === 0) break;
    }
    if (all && best.wrong >= SERIOUS) return null;
    marks.push(best.mark!);
    taken.push(boxOf(best.mark!, scale));
  }
  return marks;
}

/** The marks of a corner that are tried, the best first. */
function* tried({ name, x, y, outwards, clear }: Corner, scale: number, height: number): Generator<TextItem> {
  for (const { inside, turned } of TRIED) {
    const middle = towards({ x, y }, outwards + Math.PI + turned, clear + (inside * height) / scale);
    yield {
      kind: 'text',
      at: { x: middle.x, y: middle.y - height / 2 / scale },
      height,
      text: name,
      align: 'center',
      bold: true,
      halo: true,
    };
  }
}

/** From what on a place of a mark is not good enough. */
const SERIOUS = 2;

/** What is wrong with a place of a mark: on another one is worse than on what is cut, that worse than on a scribed line. */
function faultsOf(
  box: Box,
  apart: number,
  own: Corner,
  corners: readonly Corner[],
  taken: readonly Box[],
  [cut, scribed]: readonly (readonly Path[])[],
): number {
  const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  const onOther = taken.some(
    (other) =>
      Math.abs(middle.x - other.x - other.width / 2) < (box.width + other.width) / 2 + apart &&
      Math.abs(middle.y - other.y - other.height / 2) < (box.height + other.height) / 2 + apart,
  );
  const off = BELONGS * Math.hypot(middle.x - own.x, middle.y - own.y);
  const strange = corners.some(
    (other) => other !== own && Math.hypot(middle.x - other.x, middle.y - other.y) < off,
  );
  const room = Math.hypot(box.width, box.height) / 2 + apart;
  const onLine = (paths: readonly Path[]): boolean =>
    paths.some((path) => distanceToPath(middle, path) < room);
  if (onOther) return 8;
  const offSheet = !containsPoint(cut![0]!, middle);
  return (strange ? 4 : 0) + (offSheet || onLine(cut!) ? 2 : 0) + (onLine(scribed!) ? 1 : 0);
}
