/**
 * Outlines of a former (hammerform block): the plan of the tray's inside less a clearance, as plies that are
 * stacked and screwed together.
 *
 * A ply is cut to the plan at its upper face; on a leaning wall its edge is then planed to the lean, and the
 * lower edge of the block is rounded to the inside bottom radius. mm.
 */

import { openLine } from '../drawing/picture.ts';
import { GatherpanError } from '../errors.ts';
import { pieceCount, pieceEnd } from '../geometry/arc.ts';
import { meetings } from '../geometry/intersect.ts';
import { pathBounds } from '../geometry/measure.ts';
import { offsetPath } from '../geometry/offset.ts';
import { type Path, type Point, SHORTEST_PIECE } from '../geometry/path.ts';
import type { Overbend } from '../material/springback.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { insideBottomRadius } from '../tray/section.ts';
import type { TraySpec } from '../tray/spec.ts';
import { degrees } from '../units.ts';
import { english, type PaperWords } from '../words/english.ts';
import { type LengthUnit, withUnit } from './lengths.ts';
import { type Plate, placedText } from './plate.ts';
import { insideHeight, insideRunAt, planAtRun } from './skins.ts';

export interface FormerOptions {
  /** Between the block and the tray's inside, mm. */
  readonly clearance: number;
  readonly plyThickness: number;
  /** The bend to make at the sides, so that they spring back to the tray's; null for a block of the tray's own inside. */
  readonly overbent: Overbend | null;
  readonly unit: LengthUnit;
  readonly words: PaperWords;
}

export interface Former {
  readonly plies: number;
  /** Height of the stack, at least that of the tray's inside. */
  readonly height: number;
  /** To which the lower edge of the block is rounded. */
  readonly edgeRadius: number;
  /** From the lowest ply up; plies of one outline come once. */
  readonly outlines: readonly { readonly from: number; readonly to: number; readonly path: Path }[];
}

/** More plies than anybody stacks. */
const MOST_PLIES = 60;

/**
 * The plies of a tray's former.
 *
 * @param overbent     the bend to make at the sides, see `FormerOptions`
 * @throws GatherpanError NOT_MAKEABLE where the clearance leaves no corner, a lip turned in keeps the block
 *   from coming out, or the tray has open sides; BAD_INPUT for more than 60 plies
 */
export function former(
  spec: TraySpec,
  clearance: number,
  plyThickness: number,
  words: PaperWords = english.papers,
  overbent: Overbend | null = null,
): Former {
  const { rim } = spec.section;
  if (rim.kind !== 'plain' && rim.direction === 'in') {
    throw new GatherpanError('NOT_MAKEABLE', words.errors.formerLipIn(spec.name));
  }
  const inside = insideHeight(spec);
  const plies = Math.ceil(inside / plyThickness - 1e-9);
  if (plies > MOST_PLIES) {
    throw new GatherpanError(
      'BAD_INPUT',
      words.errors.formerPlies(inside.toFixed(1), String(plies), String(plyThickness), String(MOST_PLIES)),
    );
  }
  const radius = insideBottomRadius(spec);
  const wall = Math.PI / 2 - (spec.section.draft * Math.PI) / 180;
  const bendTop = radius * (1 - Math.cos(wall));
  const outlines: { from: number; to: number; path: Path }[] = [];
  let before = [Number.NaN, Number.NaN] as const;
  for (let ply = 1; ply <= plies; ply++) {
    // The bend is rounded from the full outline, so no ply is cut smaller than the bend's upper end.
    const upper = Math.min(inside, ply * plyThickness);
    const run = insideRunAt(spec, Math.max(bendTop, upper)) - clearance;
    const lower = (ply - 1) * plyThickness;
    const side = overbent === null ? run : overbentRun(overbent, lower, upper) - clearance;
    if (Math.abs(run - before[0]) < 1e-9 && Math.abs(side - before[1]) < 1e-9) {
      outlines[outlines.length - 1]!.to = ply;
      continue;
    }
    before = [run, side];
    const path = planAtRun(spec, run, words, { shift: side - run, over: spec.section.height });
    if (run <= 0) {
      throw new GatherpanError(
        'NOT_MAKEABLE',
        words.errors.formerClearance(String(clearance), spec.name, (run + clearance).toFixed(1)),
      );
    }
    outlines.push({ from: ply, to: ply, path });
  }
  return { plies, height: plies * plyThickness, edgeRadius: radius, outlines };
}

/** How far the side of a block stands out where it is widest between two heights, from where the bend begins. */
function overbentRun({ insideRadius, angle }: Overbend, lower: number, upper: number): number {
  const end = insideRadius * (1 - Math.cos(angle));
  const at = (height: number): number => insideRadius * Math.sin(angle) + (height - end) / Math.tan(angle);
  // Round a bend of more than a right angle the block is widest at the height of its centre.
  if (angle > Math.PI / 2) return lower < insideRadius ? insideRadius : at(Math.max(end, lower));
  return at(Math.max(end, upper));
}

/** The plies as plates. */
export function formerPlates(pattern: FlatPattern, options: FormerOptions): Plate[] {
  const { clearance, plyThickness, overbent, unit, words } = options;
  const { plies, height, edgeRadius, outlines } = former(
    pattern.spec,
    clearance,
    plyThickness,
    words,
    overbent,
  );
  const top = pathBounds(outlines[outlines.length - 1]!.path);
  const middle = { x: (top.minX + top.maxX) / 2, y: (top.minY + top.maxY) / 2 };
  const flat = flatOfBlock(pattern.spec, clearance, words);
  return outlines.map(({ from, to, path }, i) => {
    const lines = [
      pattern.name,
      words.formerStack(String(plies), withUnit(plyThickness, unit), withUnit(height, unit)),
      from === to
        ? words.formerOnePly(String(from))
        : words.formerPly(String(from), String(to), String(to - from + 1)),
    ];
    if (i === 0) lines.push(edgeLine(edgeRadius, overbent, unit, words));
    const scribe = [...centreMarks(path, middle), ...(i === 0 ? [flat] : [])];
    return { id: `ply-${from}`, outline: path, holes: [], scribe, text: placedText(path, [], lines) };
  });
}

/** Length of the marks on which the plies are laid over each other, mm. */
const MARK = 12;

/** Marks from the edge inwards where the two axes of the block cross it: at one place on every ply. */
function centreMarks(path: Path, middle: Point): Path[] {
  const box = pathBounds(path);
  const axis = (from: Point, to: Point): Path[] => {
    const start = { ...from, bulge: 0 };
    const length = Math.hypot(to.x - from.x, to.y - from.y);
    const along = { x: (to.x - from.x) / length, y: (to.y - from.y) / length };
    const crossings = Array.from({ length: pieceCount(path) }, (_, i) =>
      meetings(start, to, path.vertices[i]!, pieceEnd(path, i)),
    )
      .flat()
      .map((at) => (at.x - from.x) * along.x + (at.y - from.y) * along.y)
      .sort((a, b) => a - b);
    const ends = crossings.filter((at, i) => i === 0 || at - crossings[i - 1]! > 1e-6);
    const piece = (a: number, b: number): Path =>
      openLine([a, b].map((at) => ({ x: from.x + at * along.x, y: from.y + at * along.y })));
    // Inside from every second crossing to the next.
    return Array.from({ length: Math.floor(ends.length / 2) }, (_, k) => {
      const [a, b] = [ends[2 * k]!, ends[2 * k + 1]!];
      return b - a < 2 * MARK ? [piece(a, b)] : [piece(a, a + MARK), piece(b - MARK, b)];
    }).flat();
  };
  return [
    ...axis({ x: box.minX - 1, y: middle.y }, { x: box.maxX + 1, y: middle.y }),
    ...axis({ x: middle.x, y: box.minY - 1 }, { x: middle.x, y: box.maxY + 1 }),
  ];
}

/** To what the lower edge is rounded. */
function edgeLine(radius: number, overbent: Overbend | null, unit: LengthUnit, words: PaperWords): string {
  const corner = withUnit(radius, unit);
  if (overbent === null) return words.formerEdge(corner);
  const angle = degrees(overbent.angle).toFixed(0);
  return words.formerOverbent(withUnit(overbent.insideRadius, unit), corner, angle);
}

/** Where the rounding of the lower edge begins on the underside: sharp at a corner that is a ball. */
function flatOfBlock(spec: TraySpec, clearance: number, words: PaperWords): Path {
  const { vertices } = planAtRun(spec, 0, words);
  const kept = vertices.filter(({ x, y }, i) => {
    const next = vertices[(i + 1) % vertices.length]!;
    return Math.hypot(next.x - x, next.y - y) > SHORTEST_PIECE;
  });
  return offsetPath({ vertices: kept, closed: true }, -clearance);
}
