/**
 * The shop card: one page that goes to the bench with the blank.
 *
 * Left the tray in view and in section, right the figures; below, the plan of work where there is one, what to
 * check, what to mind, and lines for what was measured.
 */
import { drawn, type Item, openLine, type Picture, rectangle } from '../drawing/picture.ts';
import { fittingHeight, textWidth } from '../drawing/textWidth.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import type { Course } from '../gather/workingPlan.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { english, type PaperWords } from '../words/english.ts';
import { cautionsFor, hasWeldedCorners } from './cautions.ts';
import { cornerMark, cornerNames } from './cornerNames.ts';
import { cornerRows, mainRows, type Row } from './figureRows.ts';
import { formedView } from './formedView.ts';
import { gatherOf } from './gatherOf.ts';
import { type LengthUnit, withUnit } from './lengths.ts';
import { type Block, heading, paragraph, rows, text } from './marks.ts';
import { PAGE_SIZES } from './pageSizes.ts';
import { sectionView } from './sectionView.ts';
import { stageColumns, stageTable, zoneName } from './stageTable.ts';

export interface ShopCardOptions {
  readonly paper?: 'A4' | 'Letter';
  readonly unit?: LengthUnit;
  readonly words?: PaperWords;
  /** Stages and anneals; the card leaves them out where there is no plan. */
  readonly plan?: Course;
  /** Printed at the foot: version of the program, and the day when it is known. */
  readonly version?: string;
  readonly date?: string;
  /** Rows about a strip for the rim, when one is to be welded on. */
  readonly strip?: readonly Row[];
}

const MARGIN = 12;
const GAP = 6;

/** The card. The pattern is not changed. */
export function shopCard(pattern: FlatPattern, options: ShopCardOptions = {}): Picture {
  // Reading size first; a card with much to say gets smaller letters before it gets a second page.
  for (const height of [2.3, 2.15, 2, 1.85, 1.7, 1.55, 1.4]) {
    const { picture, left } = cardOf(pattern, options, height);
    if (left >= 0 || height === 1.4) return picture;
  }
  throw new Error('the list of heights above is not empty');
}

function cardOf(
  pattern: FlatPattern,
  options: ShopCardOptions,
  size: number,
): { picture: Picture; left: number } {
  const { paper = 'A4', unit = 'mm', words = english.papers, plan } = options;
  const page = PAGE_SIZES[paper];
  const width = page.width - 2 * MARGIN;
  const items: Item[] = [];
  const top = page.height - MARGIN;
  const nameWidthMost = width - textWidth(words.cardTitle, TEXT.large) - GAP;
  const nameHeight = fittingHeight(pattern.name, nameWidthMost, TEXT.title, true);
  items.push(
    text({ x: MARGIN, y: top - TEXT.title }, nameHeight, pattern.name, { bold: true }),
    text({ x: MARGIN + width, y: top - TEXT.title }, TEXT.large, words.cardTitle, { align: 'right' }),
    drawn(
      [
        openLine([
          { x: MARGIN, y: top - TEXT.title - 2 },
          { x: MARGIN + width, y: top - TEXT.title - 2 },
        ]),
      ],
      LINES.frame,
    ),
  );
  const half = (width - GAP) / 2;
  const leftX = MARGIN;
  const rightX = MARGIN + half + GAP;
  const start = top - TEXT.title - 5;

  const left = column(leftX, start, half, items);
  const view = formedView(pattern.field, {
    width: half - 2,
    height: 58,
    corner: (index) => cornerMark(pattern.spec, index),
  });
  left.add(heading(left.at(), half, words.view, size), 1.5);
  items.push({
    kind: 'group',
    id: 'view',
    at: { x: leftX + (half - view.width) / 2, y: left.at().y - view.height },
    scale: 1,
    items: view.items,
  });
  left.skip(view.height + 1);
  left.add(heading(left.at(), half, words.sectionTitle, size), 1);
  const cut = sectionView(pattern.spec, { width: half, height: 38 }, unit);
  items.push({
    kind: 'group',
    id: 'section',
    at: { x: leftX, y: left.at().y - cut.height },
    scale: 1,
    items: cut.items,
  });
  left.skip(cut.height + 3);

  const nameWidth = 21;
  const right = column(rightX, start, half, items);
  right.add(heading(right.at(), half, words.trayAndBlank, size), 0.5);
  right.add(rows(right.at(), half, mainRows(pattern, words, unit), nameWidth, size), 2);
  right.add(heading(right.at(), half, words.corners, size), 0.5);
  right.add(rows(right.at(), half, cornerRows(pattern, words, unit), nameWidth, size), 2);
  if (options.strip !== undefined) {
    right.add(heading(right.at(), half, words.strip, size), 0.5);
    right.add(rows(right.at(), half, options.strip, nameWidth, size), 2);
  }
  const verdict = gatherOf(pattern)?.verdict;
  if (verdict !== undefined) {
    right.add(heading(right.at(), half, words.verdict, size), 0.5);
    right.add(paragraph(right.at(), half, `${capital(words.verdictWords[verdict.word])}.`, size, true), 0.5);
    for (const { sentence } of verdict.reasons) right.add(paragraph(right.at(), half, sentence, size), 0.6);
    right.skip(1.4);
  }

  const tucks = gatherOf(pattern)?.tucks ?? [];
  if (plan !== undefined && plan.stages.length > 0) {
    left.add(heading(left.at(), half, words.stages, size), 0.5);
    left.add(stageTable(left.at(), half, stageColumns(pattern, plan, words, unit), size), 0.5);
    left.add(paragraph(left.at(), half, words.stageKey(unit === 'mm' ? 'mm' : words.inches), size), 2);
  }
  if (tucks.length > 0) {
    left.add(heading(left.at(), half, words.tucks, size), 0.5);
    left.add(rows(left.at(), half, tuckRows(pattern, words, unit), nameWidth, size), 2);
  }
  // What is left to say goes to whichever column is shorter.
  const section = (title: string, blocks: readonly ((to: typeof left) => Block)[]): void => {
    const shorter = left.at().y > right.at().y ? left : right;
    shorter.add(heading(shorter.at(), half, title, size), 0.5);
    for (const block of blocks) shorter.add(block(shorter), 0.6);
    shorter.skip(1.4);
  };
  const sentences = (list: readonly string[]) =>
    list.map((sentence) => (to: typeof left) => paragraph(to.at(), half, sentence, size));
  if (plan !== undefined) section(words.anneals, sentences(annealSentences(plan)));
  section(
    words.checks,
    words.checkList.map((check) => (to: typeof left) => tickBox(to.at(), half, check, size)),
  );
  const hot = plan !== undefined && plan.anneals.steps.length > 0;
  const cautions = new Set([
    ...cautionsFor(pattern, 'forming', words),
    ...(hot ? [words.cautionHot] : []),
    ...(options.strip === undefined && !hasWeldedCorners(pattern)
      ? []
      : cautionsFor(pattern, 'welding', words)),
  ]);
  section(words.cautions, sentences([...cautions]));
  const minded = [...pattern.report.warnings, ...pattern.notes];
  if (minded.length > 0) section(words.warnings, sentences(minded));

  // At the foot, across the page: what was measured.
  const foot = measuredBlock(pattern, words, options, { x: MARGIN, y: MARGIN, width, size });
  items.push(...foot.items);
  return {
    picture: {
      width: page.width,
      height: page.height,
      title: `${words.cardTitle}: ${pattern.name}`,
      items,
    },
    left: Math.min(left.at().y, right.at().y) - (MARGIN + foot.height + 2),
  };
}

/** A column that is filled from the top down. */
function column(x: number, top: number, _width: number, items: Item[]) {
  let y = top;
  return {
    at: () => ({ x, y }),
    skip: (height: number): void => {
      y -= height;
    },
    add: (block: Block, gap = 0): void => {
      items.push(...block.items);
      y -= block.height + gap;
    },
  };
}

/** A box to tick and a sentence. */
function tickBox(top: { x: number; y: number }, width: number, sentence: string, size: number): Block {
  const block = paragraph({ x: top.x + size + 2, y: top.y }, width - size - 2, sentence, size);
  const box = rectangle({ x: top.x, y: top.y - size - 0.2, width: size + 0.2, height: size + 0.2 });
  return { items: [drawn([box], LINES.thin), ...block.items], height: block.height };
}

function tuckRows(pattern: FlatPattern, words: PaperWords, unit: LengthUnit): Row[] {
  const said = new Map<string, number[]>();
  for (const tuck of gatherOf(pattern)!.tucks) {
    const line = words.tuckLine(
      String(tuck.count),
      withUnit(tuck.pitch, unit, 0),
      withUnit(tuck.takeUp, unit),
      String(tuck.rounds),
    );
    said.set(line, [...(said.get(line) ?? []), tuck.zone]);
  }
  return [...said].map(([line, numbers]): Row => [zoneName(pattern, numbers, words), line]);
}

/** What the plan says of annealing; the cautions only where something is heated. */
function annealSentences({ anneals }: Course): string[] {
  return anneals.steps.length === 0 ? [...anneals.sentences] : [...anneals.sentences, ...anneals.cautions];
}

/** How many measures each of the rows takes. */
const MEASURES = [1, 2, 1, 2];

function measuredBlock(
  pattern: FlatPattern,
  words: PaperWords,
  options: ShopCardOptions,
  place: { x: number; y: number; width: number; size: number },
): { items: Item[]; height: number } {
  const { x, y, width, size } = place;
  const pitch = 6.4;
  const height = 4 + words.measureRows.length * pitch + pitch + 7;
  const items: Item[] = [];
  const head = heading({ x, y: y + height }, width, words.measured, size);
  items.push(...head.items);
  const lines: ReturnType<typeof openLine>[] = [];
  const nameWidth = 66;
  const columns = Math.min(6, Math.max(1, pattern.report.corners.length));
  const each = (width - nameWidth) / columns;
  let base = y + height - head.height - 3.2;
  for (let i = 0; i < columns; i++) {
    items.push(
      text(
        { x: x + nameWidth + (i + 0.5) * each, y: base },
        size,
        cornerNames(pattern, [pattern.report.corners[i]?.index ?? i], words),
        {
          align: 'center',
        },
      ),
    );
  }
  for (const [number, row] of words.measureRows.entries()) {
    base -= pitch;
    items.push(text({ x, y: base }, size, row));
    const parts = MEASURES[number] ?? 1;
    for (let i = 0; i < columns; i++) {
      const from = x + nameWidth + i * each + 3;
      const long = (each - 5) / parts;
      for (let part = 0; part < parts; part++) {
        lines.push(
          openLine([
            { x: from + part * long, y: base - 0.6 },
            { x: from + (part + 1) * long - (part + 1 < parts ? 2 : 0), y: base - 0.6 },
          ]),
        );
      }
    }
  }
  items.push(drawn(lines, LINES.thin));
  const date = options.date === undefined ? `${words.date} ____________` : `${words.date} ${options.date}`;
  items.push(
    text({ x, y }, size, date),
    text({ x: x + 60, y }, size, `${words.worker} ________________________`),
    text({ x: x + width, y }, size, options.version === undefined ? '' : words.madeWith(options.version), {
      align: 'right',
    }),
  );
  return { items, height };
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
