/** How papers name the corners of a tray, several at once and on pictures. */
import type { Item } from '../drawing/picture.ts';
import { cornerCount, cornerName, joinedNames } from '../pattern/cornerName.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { notchRelief, notchRoots } from '../tray/notches.ts';
import { loopPoint, planLoop } from '../tray/planLoop.ts';
import type { PaperWords } from '../words/english.ts';

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

/**
 * The marks of all corners on the blank, on the base just inside the middle of where each bend begins, or
 * inside the hole at the root of a notch.
 *
 * @param scale  mm on the paper per mm
 * @param height of the letters, mm on the paper
 */
export function cornerMarks(pattern: FlatPattern, scale: number, height: number): Item[] {
  const { spec, report } = pattern;
  const { segments } = planLoop(spec);
  // The base hardly strains, so that its points lie in the flat where they lie in the plan.
  const mark = (index: number, x: number, y: number, outX: number, outY: number, clear: number): Item => {
    const inwards = clear + (1.6 * height) / scale;
    return {
      kind: 'text',
      at: { x: x - inwards * outX, y: y - inwards * outY - height / 2 / scale },
      height,
      text: cornerName(pattern, index),
      align: 'center',
      bold: true,
      halo: true,
    };
  };
  const gathered = report.corners.flatMap(({ index }): Item[] => {
    const segment = segments.find((each) => each.kind === 'corner' && each.index === index);
    if (segment === undefined) return [];
    const { x, y, normalX, normalY } = loopPoint(segment, 0.5, { x: 0, y: 0, normalX: 0, normalY: 0 });
    return [mark(index, x, y, normalX, normalY, 0)];
  });
  const notched = notchRoots(spec).map(({ corner, x, y, outX, outY }) =>
    mark(corner, x, y, outX, outY, notchRelief(spec) / 2),
  );
  return [...gathered, ...notched];
}
