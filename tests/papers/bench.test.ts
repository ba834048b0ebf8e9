import { describe, expect, it } from 'vitest';
import { planLines } from '../../src/cli/gatherLines.ts';
import { nodeFonts } from '../../src/drawing/nodeFonts.ts';
import { pdfBytes } from '../../src/drawing/pdf.ts';
import type { Item } from '../../src/drawing/picture.ts';
import { CAP_HEIGHT } from '../../src/drawing/textWidth.ts';
import type { WorkingPlan } from '../../src/gather/workingPlan.ts';
import { cautionsOf } from '../../src/material/cautions.ts';
import { benchPages } from '../../src/papers/benchPages.ts';
import type { BenchFigure } from '../../src/papers/benchSheet.ts';
import { benchSheets } from '../../src/papers/benchSheets.ts';
import { oppositeInTurn, stagesWithBends, workedInTurn } from '../../src/papers/benchStages.ts';
import { type BenchWork, benchWork } from '../../src/papers/benchWork.ts';
import { planCorners } from '../../src/papers/gauges.ts';
import { rimTape } from '../../src/papers/sheetsAfter.ts';
import { shopCardPages } from '../../src/papers/shopCard.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import { insideBottomRadius } from '../../src/tray/section.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { bench as words } from '../../src/words/bench.ts';
import { english } from '../../src/words/english.ts';
import { benchTray } from '../gather/benchTrays.ts';
import { closeTo } from '../support/closeTo.ts';
import { some } from '../support/long.ts';
import { SAMPLE_NAMES, sample, solved } from '../support/solved.ts';
import { said, untranslated } from '../words/pictureText.ts';
import { pseudo } from '../words/pseudoLanguage.ts';
import { readText } from './poppler.ts';
import { textOverlaps } from './textOverlaps.ts';
import { NESTING, ROUND_PAN, UPRIGHT, WITH_LIP } from './trays.ts';

const demo = await Promise.all(SAMPLE_NAMES.map((name) => sample(name)));
const others: TraySpec[] = [
  benchTray(),
  benchTray({ forming: { gathering: 'blows' } }),
  benchTray({ forming: { stages: [20, 45, 70] } }),
  benchTray({ sheet: { material: '1.4301' }, section: { height: 22 } }),
  benchTray({ sheet: { material: '1050A-O', thickness: 1.5 }, section: { draft: 15 } }),
  benchTray({ plan: { length: 200, width: 200, cornerRadius: [60, 25, 45, 30] } }),
  NESTING,
  UPRIGHT,
  ROUND_PAN,
  WITH_LIP,
];

const made = new Map<TraySpec, { pattern: FlatPattern; work: BenchWork }>();
function madeOf(spec: TraySpec): { pattern: FlatPattern; work: BenchWork } {
  const known = made.get(spec);
  if (known !== undefined) return known;
  const pattern = solved(spec);
  const found = { pattern, work: benchWork(pattern, { unit: 'mm', words: english, bench: words }) };
  made.set(spec, found);
  return found;
}

const plain = (text: string): string => text.replaceAll('\u00a0', ' ');
const figureOf = (figures: readonly BenchFigure[], title: string): string | undefined => {
  const found = figures.find((figure) => figure.title === title)?.value;
  return found === undefined ? undefined : plain(found);
};

describe.each(some([...demo, ...others], 5))('the bench sheets of $name', (spec) => {
  const { pattern, work } = madeOf(spec);
  const { course, sheets } = work;
  const plan = planLines(
    {
      ...course,
      cautions: cautionsOf([], pattern.sheet.material),
      grain: { sentences: [] },
      trimBand: null,
    } as unknown as WorkingPlan,
    pattern,
  );
  const card = plain(said(shopCardPages(pattern, { plan: course, unit: 'mm' })));
  const json = JSON.parse(JSON.stringify(stagesWithBends(pattern, course))) as ReturnType<
    typeof stagesWithBends
  >;

  it('have every number of a stage as plan, card and JSON have it', () => {
    for (const [i, stage] of course.stages.entries()) {
      const sheet = sheets.find(({ id }) => id === `stage-${i + 1}`)!;
      const paragraph = plan.slice(
        plan.indexOf(`  stage      ${i + 1}:`),
        i + 1 < course.stages.length ? plan.indexOf(`  stage      ${i + 2}:`) : plan.length,
      );
      const sides = sheet.groups.find(({ title }) => title === words.stage.sides)!;
      const { insideRadius, held, left } = json[i]!.sides;
      expect(figureOf(sides.figures, words.stage.sideRadius)).toBe(`${insideRadius.toFixed(1)} mm`);
      expect(figureOf(sides.figures, words.stage.sideHeld)).toBe(`${held.toFixed(0)}°`);
      expect(paragraph).toContain(
        `bend over a radius of ${insideRadius.toFixed(1)} mm to ${held.toFixed(0)}°; let go they stand at ${left.toFixed(0)}°`,
      );
      for (const zone of stage.zones) {
        const own = json[i]!.zones.find((each) => each.zone === zone.zone)!;
        const { rim } = pattern.gather.zones[zone.zone]!;
        const thickness = own.thickness.toFixed(2);
        expect(paragraph).toContain(`then ${thickness} mm thick`);
        const group = sheet.groups.find(
          ({ figures }) =>
            (rim === null ||
              figureOf(figures, words.stage.tapeBefore) === `${own.tapeBefore.toFixed(1)} mm`) &&
            [words.stage.thickness, words.stage.thinnest].some(
              (title) => figureOf(figures, title) === `${thickness} mm`,
            ),
        );
        expect(group, `stage ${i + 1}, zone ${zone.zone}`).toBeDefined();
        if (rim === null) continue;
        const loses = own.rimToLose >= 0;
        const change = Math.abs(own.rimToLose).toFixed(1);
        expect(figureOf(group!.figures, words.stage.tapeAfter)).toBe(`${own.tapeAfter.toFixed(1)} mm`);
        expect(figureOf(group!.figures, loses ? words.stage.toLose : words.stage.toGain)).toBe(
          `${change} mm`,
        );
        expect(paragraph).toContain(
          `rim from mark to mark ${own.tapeBefore.toFixed(1)} mm to ${own.tapeAfter.toFixed(1)} mm, ${change} mm to ${loses ? 'lose' : 'gain'}`,
        );
        expect(card).toContain(`${loses ? '−' : '+'}${change} / ${thickness}`);
      }
    }
  });

  it('lead from the flat to the finished rim without a gap', () => {
    for (const [number, { rim }] of pattern.gather.zones.entries()) {
      if (rim === null) continue;
      const rows = course.stages.map(({ zones }) => zones.find(({ zone }) => zone === number)!);
      const way = { why: 'sums', absolute: 1e-9 };
      closeTo(rows[0]!.tapeBefore, rim.flatLength, way, 'first tape');
      for (let i = 1; i < rows.length; i++)
        closeTo(rows[i]!.tapeBefore, rows[i - 1]!.tapeAfter, way, 'next tape');
      closeTo(rows.at(-1)!.rimToCome, 0, { why: 'sums', absolute: 1e-6 }, 'left at the end');
      for (const row of rows) {
        closeTo(row.tapeBefore - row.tapeAfter, row.rimToLose, way, 'to lose');
        closeTo(
          row.rimLost + row.rimToCome,
          rows.at(-1)!.rimLost,
          { why: 'sums', absolute: 1e-6 },
          'lost and to come',
        );
      }
    }
  });

  it('name every corner that changes once in its turn, and no dolly that cannot go into the bend', () => {
    for (const stage of course.stages) {
      const turns = workedInTurn(pattern, stage);
      expect(new Set(turns).size).toBe(turns.length);
      const sheet = sheets[2 + course.stages.indexOf(stage)]!;
      for (const corner of turns)
        expect(sheet.groups.filter(({ corners }) => corners?.includes(corner))).toHaveLength(1);
    }
    const dolly = Number.parseFloat(figureOf(sheets[0]!.figures, words.tools.dolly)!);
    expect(dolly).toBeLessThanOrEqual(insideBottomRadius(pattern.spec) + 0.05);
  });

  it('can be read on paper, and nothing lies on another', async () => {
    for (const paper of ['A4', 'Letter'] as const) {
      const pages = benchPages(pattern, sheets, work.shapes, { paper, bench: words });
      for (const page of pages) {
        expect(Math.min(...heights(page.items)) / CAP_HEIGHT).toBeGreaterThanOrEqual((10 / 72) * 25.4);
        expect(textOverlaps(page)).toEqual([]);
      }
      if (paper === 'Letter') continue;
      const text = readText(await pdfBytes(pages, spec.name, nodeFonts)).replaceAll(/\s+/g, ' ');
      for (const { title, groups, figures } of sheets) {
        expect(text).toContain(title);
        for (const { value } of [...figures, ...groups.flatMap((group) => group.figures)])
          expect(text).toContain(plain(value));
      }
    }
  });
});

/** Heights of all letters but those of the pictures, which stand in groups. */
const heights = (items: readonly Item[]): number[] =>
  items.flatMap((item) => (item.kind === 'text' && item.text !== '' ? [item.height] : []));

describe('bench sheets', () => {
  it('are in the language asked for', async () => {
    const { pattern } = madeOf(benchTray());
    const bench = await pseudo.bench();
    const { sheets, shapes } = benchWork(pattern, { unit: 'mm', words: pseudo, bench });
    expect(untranslated(said(benchPages(pattern, sheets, shapes, { paper: 'A4', bench })))).toEqual([]);
    // What a screen reader is told of the pictures.
    const pictures = sheets.flatMap(({ picture }) => (picture === null ? [] : [picture.said]));
    expect(pictures.length).toBeGreaterThan(2);
    expect(untranslated(pictures.join('\n').replaceAll(pattern.name, ''))).toEqual([]);
  });

  it('of a tray in inches say no length in mm', () => {
    for (const cut of ['hand', 'laser'] as const) {
      const spec: TraySpec = {
        ...benchTray({ sheet: { material: 'DX51D+Z' } }),
        cut: { process: cut, kerf: 0, compensate: false },
      };
      const { pattern, work } = madeOf(spec);
      for (const unit of ['inch', 'fraction'] as const) {
        const sheets = benchSheets(pattern, work.course, work.shapes, { unit, words: english, bench: words });
        const lines = sheets.flatMap(({ figures, groups, notes, troubles, cautions }) => [
          ...[...figures, ...groups.flatMap((group) => group.figures)].flatMap(
            ({ title, value, note = '' }) => [title, value, note],
          ),
          ...groups.flatMap((group) => [group.title, ...group.lines]),
          ...notes.flatMap(({ title, text }) => [title, text]),
          ...troubles,
          ...cautions,
        ]);
        expect(lines.filter((line) => /\bmm\b/.test(line))).toEqual([]);
        const text = plain(lines.join('\n'));
        const [apart, outside] = unit === 'inch' ? ['0.8″', '0.04″'] : ['3/4″', '3/64″'];
        if (cut === 'hand') expect(text).toContain(`punch it lightly every ${apart},`);
        expect(text).toContain(`Cut ${outside} outside the line`);
        expect(text).toContain(`paint, ${apart} beyond the bare spot`);
      }
    }
  });

  it('say what every entry of their table is given', async () => {
    const missing: string[] = [];
    const visit = (entry: unknown, path: string): void => {
      if (typeof entry === 'string') {
        if (entry.trim() === '') missing.push(path);
      } else if (typeof entry === 'function') {
        const values = Array.from({ length: entry.length }, (_, i) => `<${i}>`);
        const text = String((entry as (...values: string[]) => unknown)(...values));
        for (const value of values) if (!text.includes(value)) missing.push(`${path} ${value}`);
      } else for (const [key, value] of Object.entries(entry as object)) visit(value, `${path}.${key}`);
    };
    visit(await english.bench(), 'bench');
    expect(missing).toEqual([]);
  });

  it('work opposite corners in turn', () => {
    expect(oppositeInTurn(['A', 'B', 'C', 'D'])).toEqual(['A', 'C', 'B', 'D']);
    expect(oppositeInTurn(['A', 'B', 'C', 'D', 'E'])).toEqual(['A', 'D', 'B', 'E', 'C']);
    expect(oppositeInTurn(['A'])).toEqual(['A']);
    expect(oppositeInTurn([])).toEqual([]);
  });

  it('show less gather to come in every stage, and none in the last', () => {
    const { work } = madeOf(benchTray());
    const most = work.shapes.map(({ toCome }) => Math.max(...toCome));
    for (let i = 1; i < most.length; i++) expect(most[i]).toBeLessThan(most[i - 1]!);
    closeTo(most.at(-1)!, 0, { why: 'rounding', absolute: 1e-9 }, 'at the end');
    const { peak } = madeOf(benchTray()).pattern.gather.zones[0]!;
    closeTo(most[0]!, peak.percent, { why: 'peaks are taken at nodes', relative: 0.03 }, 'in the flat');
  });

  it('tape a trimmed rim of straight sides and arcs of the corners as thick as they are', () => {
    const { pattern } = madeOf(benchTray());
    const [corner] = planCorners(pattern.spec);
    const { netRimThickness } = pattern.report.corners[0]!;
    const [length, width, radius] = [320, 240, 30];
    const outside = corner!.insideRadius + netRimThickness;
    const around = 2 * (length + width - 4 * radius) + 2 * Math.PI * outside;
    closeTo(rimTape(pattern)!, around, { why: 'corners alike but for the grain', absolute: 0.1 }, 'tape');
    expect(rimTape(madeOf(WITH_LIP).pattern)).toBeNull();
  });

  it('are of the way that is worked', () => {
    const text = (spec: TraySpec): string => JSON.stringify(madeOf(spec).work.sheets);
    expect(text(others[0]!)).toMatch(/Set \d+ tucks/);
    expect(text(others[0]!)).not.toContain('marked rows');
    expect(text(others[1]!)).toMatch(/marked rows/);
    expect(text(others[1]!)).not.toMatch(/Set \d+ tucks?/);
  });
});
