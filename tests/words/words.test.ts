/** One table holds the words: another one in its place leaves no English behind. */
import { beforeAll, describe, expect, it } from 'vitest';
import { figureLines } from '../../src/cli/figures.ts';
import { changeLines, gatherLines, handLines, moveLines, planLines } from '../../src/cli/gatherLines.ts';
import { nodeExportersIn } from '../../src/exporters/nodeExporters.ts';
import { createRegistry } from '../../src/exporters/registry.ts';
import { fitHand } from '../../src/gather/handFit.ts';
import type { VerdictWord } from '../../src/gather/report.ts';
import { TrialCorner } from '../../src/gather/trial.ts';
import { workingPlan } from '../../src/gather/workingPlan.ts';
import { titleOf } from '../../src/material/sheets.ts';
import { blankPicture } from '../../src/papers/blankPicture.ts';
import { formerPlates } from '../../src/papers/formers.ts';
import { gauges } from '../../src/papers/gauges.ts';
import { markingPages } from '../../src/papers/markingPages.ts';
import { platePages } from '../../src/papers/platePages.ts';
import { shopCard } from '../../src/papers/shopCard.ts';
import { stripHow, stripPlates, stripRows } from '../../src/papers/strip.ts';
import { stripPages } from '../../src/papers/stripPages.ts';
import { templatePages } from '../../src/papers/template.ts';
import { TEMPLATE_DEFAULTS } from '../../src/papers/templateOptions.ts';
import { type ChangeSearch, searchChanges } from '../../src/pattern/changes.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import { anneals } from '../../src/server/anneals.ts';
import { orderNote } from '../../src/server/orderNote.ts';
import { cautions } from '../../src/server/preview.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { english } from '../../src/words/english.ts';
import { inMillimetres, sentences } from '../../src/words/statement.ts';
import { NESTING, ROUND_PAN, UPRIGHT, WITH_LIP } from '../papers/trays.ts';
import { some } from '../support/long.ts';
import { solved } from '../support/solved.ts';
import { said, untranslated } from './pictureText.ts';
import { pseudo } from './pseudoLanguage.ts';

const { papers } = pseudo;

/** An inward corner, an upright wall, steel that is annealed, a hole beside a bend. */
const ELL: TraySpec = {
  ...NESTING,
  name: '0001',
  plan: {
    vertices: [
      { x: 0, y: 0, radius: 40 },
      { x: 300, y: 0, radius: 40 },
      { x: 300, y: 150, radius: 40 },
      { x: 160, y: 150, radius: 70 },
      { x: 160, y: 280, radius: 40 },
      { x: 0, y: 280, radius: 40 },
    ],
  },
  section: { bottomRadius: 14, height: 26, draft: 0, rim: { kind: 'plain' } },
  sheet: { material: 'DC04', thickness: 1, grain: 0 },
  holes: [{ name: '7', shape: { kind: 'round', diameter: 12 }, place: { on: 'base', x: 100, y: 24 } }],
  cut: { process: 'laser', kerf: 0.2, compensate: true },
};
const LIP: TraySpec = { ...WITH_LIP, name: '0002', sheet: { material: '1.4301', thickness: 1, grain: 30 } };
const ROUND: TraySpec = {
  ...ROUND_PAN,
  name: '0003',
  sheet: { material: '1050A-O', thickness: 0.8, grain: 0 },
};
const ZINC: TraySpec = { ...UPRIGHT, name: '0004' };

/** What the first tries find: all its sentences, at a part of the work. */
function soon(spec: TraySpec, word: VerdictWord): ChangeSearch {
  let asked = 0;
  return searchChanges(spec, word, () => ++asked > 24);
}

describe.each(some([ELL, LIP, ROUND, ZINC], 1))('a tray in another language ($name)', (spec) => {
  let pattern: FlatPattern;
  beforeAll(() => {
    pattern = flatPatternOf(developTray(spec));
  });

  it('has its verdict, warnings, notes and sheet in it', () => {
    const { verdict } = pattern.gather;
    const { anneal } = pattern.sheet.material;
    const said = [
      ...verdict.reasons.map(({ sentence }) => sentence),
      ...pattern.report.warnings,
      ...pattern.notes,
      anneal.cue,
      ...(anneal.instead === undefined ? [] : [anneal.instead]),
    ];
    const text = [...sentences(said, pseudo), titleOf(pattern.sheet.material, pseudo)];
    expect(verdict.reasons.length).toBeGreaterThan(3);
    expect(untranslated(text.join('\n'))).toEqual([]);
  });

  it('has its working plan in it, on the card and at the terminal', () => {
    const plan = workingPlan(pattern);
    const card = shopCard(pattern, {
      words: pseudo,
      plan,
      version: '1',
      date: '2030-01-02',
      ...(spec === LIP ? {} : { strip: stripRows(pattern, { ...STRIP, joint: 'overlap' }, 'mm', papers) }),
    });
    expect(untranslated(said([card]))).toEqual([]);
    const lines = [
      figureLines(pattern, pseudo),
      gatherLines(pattern, pseudo),
      planLines(plan, pattern, pseudo),
      spec === ZINC ? changeLines(soon(spec, pattern.gather.verdict.word), inMillimetres, pseudo) : '',
    ];
    expect(untranslated(lines.join('\n'))).toEqual([]);
  });

  it('has its template, tables, gauges, former, strip and picture in it', () => {
    const unit = 'mm';
    const plates = [
      ...gauges(pattern, {
        hammerRadius: 300,
        dollyRadius: 75,
        trialBend: 0,
        face: 40,
        stages: [30, 60, 90 - spec.section.draft],
        unit,
        words: papers,
      }),
      ...formerPlates(pattern, { clearance: 0.5, plyThickness: 9, overbent: null, unit, words: papers }),
      ...(spec === LIP ? [] : stripPlates(pattern, STRIP, unit, papers)),
    ];
    const pages = [
      ...templatePages(pattern, { ...TEMPLATE_DEFAULTS, words: pseudo }),
      ...markingPages(pattern, { paper: 'A4', unit, words: papers }),
      ...platePages(plates, {
        title: papers.gaugesTitle(spec.name),
        sentences: [papers.gaugesHow, papers.formerHow, stripHow(pattern, papers)],
        paper: 'A4',
        unit,
        words: papers,
      }),
      ...(spec === LIP
        ? []
        : stripPages(pattern, STRIP, { paper: 'A4', unit, title: '1', sentences: [], words: papers })),
      blankPicture(pattern, { form: 'wide', words: pseudo }),
    ];
    expect(untranslated(said(pages))).toEqual([]);
  });

  it('has its order note and cautions in it', () => {
    const text = [
      orderNote(
        pattern,
        3,
        [true, false].map((cut) => ({ file: '1', cut, layers: [{ name: '2', purpose: '3' }] })),
        ['1', '4'],
        pseudo,
      ),
      ...Object.values(cautions(pattern, pseudo)).flat(),
      ...anneals(pattern, pseudo).notes,
    ];
    expect(untranslated(text.join('\n'))).toEqual([]);
  });

  it('has its drawing in it, and the formats their names', async () => {
    const registry = createRegistry(nodeExportersIn(pseudo));
    for (const { label, parameters } of registry.list())
      expect(untranslated([label, ...parameters.map(({ help }) => help)].join('\n'))).toEqual([]);
    const dxf = registry.get('dxf');
    const marked = { marks: 'text' };
    const drawing = new TextDecoder().decode(await dxf.write(pattern, registry.values(dxf, marked)));
    const inEnglish = new TextDecoder().decode(
      await nodeExportersIn(english)
        .find(({ id }) => id === 'dxf')!
        .write(pattern, registry.values(dxf, marked)),
    );
    expect(inEnglish).toContain('grain');
    expect(drawing).not.toMatch(/grain|blank/);
  });
});

const STRIP = {
  height: 25,
  thickness: 0,
  flush: 'outside',
  joint: 'butt',
  allowance: 1,
  stockLength: 700,
} as const;

describe('the table of words', () => {
  it('is what a hand is told with', () => {
    const corner = new TrialCorner(NESTING, 0).worked(0.4, 0);
    const fit = fitHand(NESTING, {
      corner: 0,
      rimHeight: { middle: corner.rimHeight('middle'), error: 0.3 },
    });
    // The line for the tray file and the names of measurements are those of the files.
    const moves = moveLines(fit.blankHand, [{ index: 0, letter: '1', move: -2 }], NESTING, pseudo);
    const text = `${handLines(fit, NESTING, pseudo)}${moves}`.replaceAll(/rimHeight\.\w+/g, '');
    expect(untranslated(text)).toEqual([]);
  });

  it('would show text that is not from it', () => {
    const card = shopCard(solved(UPRIGHT), {
      words: { ...pseudo, papers: { ...papers, checks: 'Checks on the way' } },
    });
    expect(untranslated(said([card])).join(' ')).toContain('Checks on the way');
  });

  it('has a text behind every entry', () => {
    const empty: string[] = [];
    const visit = (entry: unknown, path: string): void => {
      if (typeof entry === 'string') {
        if (entry.trim() === '') empty.push(path);
      } else if (typeof entry === 'function') {
        const values = Array.from({ length: entry.length }, (_, i) => `<${i}>`);
        const text = (entry as (...values: string[]) => string)(...values);
        // Whatever a sentence is given it has to say.
        for (const value of values) if (!text.includes(value)) empty.push(`${path} ${value}`);
      } else for (const [key, value] of Object.entries(entry as object)) visit(value, `${path}.${key}`);
    };
    visit(english, 'english');
    expect(empty).toEqual([]);
  });
});
