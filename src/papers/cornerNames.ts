/** What papers call the corners of a tray: by the numbers that the tray file and the terminal have, from 0. */
import type { Item } from '../drawing/picture.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { notchRelief, notchRoots } from '../tray/notches.ts';
import { loopPoint, planLoop } from '../tray/planLoop.ts';
import type { TraySpec } from '../tray/spec.ts';
import type { PaperWords } from '../words/english.ts';

/** Vertices of the plan; a report's corner with a higher number is the curved edge that starts at that vertex. */
export const vertexCount = ({ plan }: TraySpec): number => ('vertices' in plan ? plan.vertices.length : 4);

/** The mark of a corner on a picture: its number, or its edge's in brackets. */
export function cornerMark(spec: TraySpec, index: number): string {
  const count = vertexCount(spec);
  return index < count ? String(index) : `(${index - count})`;
}

/** Corners by name. All of a tray's corners, where none is notched, are "each corner", all curved edges of one without corners "all round". */
export function cornerNames(
  { spec, report }: FlatPattern,
  indices: readonly number[],
  words: PaperWords,
): string {
  const count = vertexCount(spec);
  const corners = indices.filter((index) => index < count);
  const edges = indices.filter((index) => index >= count).map((index) => index - count);
  if (indices.length > 1 && indices.length === report.corners.length && notchRoots(spec).length === 0) {
    if (edges.length === 0) return words.eachCorner;
    if (corners.length === 0) return words.allRound;
  }
  return [
    ...(corners.length > 0 ? [words.corner(corners.join(', '))] : []),
    ...(edges.length > 0 ? [words.curvedEdge(edges.join(', '))] : []),
  ].join('; ');
}

/**
 * The marks of all corners on the blank, on the base just inside the middle of where each bend begins, or
 * inside the hole at the root of a notch.
 *
 * @param scale  mm on the paper per mm
 * @param height of the letters, mm on the paper
 */
export function cornerMarks({ spec, report }: FlatPattern, scale: number, height: number): Item[] {
  const { segments } = planLoop(spec);
  // The base hardly strains, so that its points lie in the flat where they lie in the plan.
  const mark = (index: number, x: number, y: number, outX: number, outY: number, clear: number): Item => {
    const inwards = clear + (1.6 * height) / scale;
    return {
      kind: 'text',
      at: { x: x - inwards * outX, y: y - inwards * outY - height / 2 / scale },
      height,
      text: cornerMark(spec, index),
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
