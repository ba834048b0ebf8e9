/** Papers in inches: no length of any of them is left in mm, and those in sentences are the same lengths. */
import { describe, expect, it } from 'vitest';
import type { Picture } from '../../src/drawing/picture.ts';
import { GatherpanError } from '../../src/errors.ts';
import { nodeExporters } from '../../src/exporters/nodeExporters.ts';
import { createRegistry } from '../../src/exporters/registry.ts';
import { stageAngles } from '../../src/gather/workingPlan.ts';
import { blankPicture } from '../../src/papers/blankPicture.ts';
import { mainRows } from '../../src/papers/figureRows.ts';
import { formerPlates } from '../../src/papers/formers.ts';
import { gauges } from '../../src/papers/gauges.ts';
import type { LengthUnit } from '../../src/papers/lengths.ts';
import { markingPages } from '../../src/papers/markingPages.ts';
import type { Plate } from '../../src/papers/plate.ts';
import { platePages } from '../../src/papers/platePages.ts';
import { minded, reasonsOf } from '../../src/papers/sentences.ts';
import { shopCardPages } from '../../src/papers/shopCard.ts';
import { stripHow, stripPlates, stripRows } from '../../src/papers/strip.ts';
import { stripPages } from '../../src/papers/stripPages.ts';
import { templatePages } from '../../src/papers/template.ts';
import { TEMPLATE_DEFAULTS } from '../../src/papers/templateOptions.ts';
import { edgeWords } from '../../src/papers/tuckWords.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import { english } from '../../src/words/english.ts';
import { LONG } from '../support/long.ts';
import { SAMPLE_NAMES, sample, solved, solvedCourse } from '../support/solved.ts';
import { said, textsOf } from '../words/pictureText.ts';
import { readPages, readText } from './poppler.ts';

const { papers } = english;
const STRIP = {
  height: 25,
  thickness: 0,
  flush: 'outside',
  joint: 'overlap',
  allowance: 12,
  stockLength: 900,
} as const;

/** What a demo tray is given besides, so that all that is said with lengths is said. */
const MORE: Readonly<Record<string, object>> = {
  'pot-saucer': { cut: { process: 'laser', kerf: 0.2, compensate: true } },
  // The flat of the base ends at y = -55: 1.7 mm from the hole's edge.
  'propagator-drip-tray': {
    holes: [{ name: 'drain', shape: { kind: 'round', diameter: 12 }, place: { on: 'base', x: 0, y: -47.3 } }],
  },
};
/** All but the one with by far the largest mesh, which has nothing that the others have not. */
const NAMES = LONG ? SAMPLE_NAMES : SAMPLE_NAMES.filter((name) => name !== 'bench-corner-drip-tray');
const demo = async (name: string): Promise<FlatPattern> => solved(await sample(name, MORE[name]));

/** Nothing where the shape of the tray has none of it. */
function ifMakeable<T>(make: () => readonly T[]): readonly T[] {
  try {
    return make();
  } catch (error) {
    if (error instanceof GatherpanError && error.code === 'NOT_MAKEABLE') return [];
    throw error;
  }
}

/** Every paper of a tray. */
function papersOf(pattern: FlatPattern, unit: LengthUnit): Picture[] {
  const strip = ifMakeable(() => stripRows(pattern, STRIP, unit, papers));
  const plates: readonly Plate[] = [
    ...gauges(pattern, {
      hammerRadius: 300,
      dollyRadius: 75,
      trialBend: 0,
      face: 40,
      stages: stageAngles(pattern),
      unit,
      words: papers,
    }),
    ...ifMakeable(() =>
      formerPlates(pattern, { clearance: 0.5, plyThickness: 18, overbent: null, unit, words: papers }),
    ),
    ...ifMakeable(() => stripPlates(pattern, STRIP, unit, papers)),
  ];
  return [
    ...shopCardPages(pattern, { unit, plan: solvedCourse(pattern), ...(strip.length > 0 ? { strip } : {}) }),
    ...templatePages(pattern, { ...TEMPLATE_DEFAULTS, unit }),
    ...markingPages(pattern, { paper: 'A4', unit, words: papers }),
    ...platePages(plates, {
      title: papers.gaugesTitle(pattern.name),
      sentences: [papers.gaugesHow, papers.formerHow, stripHow(pattern, papers)],
      paper: 'A4',
      unit,
      words: papers,
    }),
    ...ifMakeable(() =>
      stripPages(pattern, STRIP, { paper: 'A4', unit, title: 'strip', sentences: [], words: papers }),
    ),
    blankPicture(pattern, { form: 'wide', unit }),
    blankPicture(pattern, { form: 'narrow', unit }),
  ];
}

/** A length in mm, a mass or an area in metric units; nothing printed has it by purpose, neither sheets nor sizes of paper are told by mm. */
const MILLIMETRES = /\bmm\b|millimet|\bkg\b|m²/i;

const units = ['inch', 'fraction'] as const;
/** By default a plain one and one with a lip and holes, each in one unit. */
const demos: readonly (readonly [string, readonly LengthUnit[]])[] = LONG
  ? SAMPLE_NAMES.map((name) => [name, units])
  : [
      ['propagator-drip-tray', ['inch']],
      ['rinsing-tray', ['fraction']],
    ];

describe.each(demos)('the papers of %s', (name, both) => {
  it('have no metric measure when they are in inches', async () => {
    const pattern = await demo(name);
    expect(said(papersOf(pattern, 'mm'))).toMatch(MILLIMETRES);
    for (const unit of both) {
      const text = said(papersOf(pattern, unit));
      expect(text.split('\n').filter((line) => MILLIMETRES.test(line))).toEqual([]);
      expect(text).toContain('″');
    }
  });

  it('say the same lengths in their sentences', async () => {
    const pattern = await demo(name);
    const inMm = sentences(pattern, 'mm');
    const inInches = sentences(pattern, 'inch');
    expect(inInches).toHaveLength(inMm.length);
    let count = 0;
    for (const [i, sentence] of inMm.entries()) {
      const lengths = [...sentence.matchAll(/(-?[\d.]+)\u00a0mm/g)].map((found) => Number(found[1]));
      const inches = [...inInches[i]!.matchAll(/(-?[\d.]+)″/g)].map((found) => found[1]!);
      expect(inches, sentence).toHaveLength(lengths.length);
      for (const [k, text] of inches.entries()) {
        const decimals = text.split('.')[1]?.length ?? 0;
        // Both are rounded: the mm by half of their last digit, which is a tenth of the inch's at most.
        const rounding = 25.4 * 0.5 * 10 ** -decimals + 0.5 * 10 ** (1 - decimals);
        expect(Math.abs(25.4 * Number(text) - lengths[k]!)).toBeLessThanOrEqual(rounding);
        count++;
      }
    }
    // The thickest metal, the sheet and the free wall at least.
    expect(count).toBeGreaterThanOrEqual(3);
  });
});

/** All that is said in sentences. */
const sentences = (pattern: FlatPattern, unit: LengthUnit): string[] => [
  ...minded(pattern, english, unit),
  ...reasonsOf(pattern, english, unit),
  ...edgeWords(pattern, unit, english),
];

describe('what is said with lengths', () => {
  it('is all there among the demo trays', async () => {
    const all = (await Promise.all(NAMES.map(demo))).flatMap((pattern) => sentences(pattern, 'fraction'));
    for (const beginning of [
      'The hole drain is 1/16″ from a bend, less than 2 sheet thicknesses (1/8″)',
      'The outline is moved out by half the kerf (0.004″)',
      'Between two tucks ',
      'The metal thickens by up to ',
      'The rim gathers by up to ',
    ])
      expect(all.filter((sentence) => sentence.startsWith(beginning)).length, beginning).toBeGreaterThan(0);
  });

  it('reaches the files: card, template, marking, gauges as PDF, plates as DXF', async () => {
    const registry = createRegistry(nodeExporters);
    const pattern = await demo('propagator-drip-tray');
    for (const id of ['card-pdf', 'template-pdf', 'marking-pdf', 'gauges-pdf', 'former-pdf', 'strip-pdf']) {
      const exporter = registry.get(id);
      const bytes = await exporter.write(pattern, registry.values(exporter, { unit: 'fraction' }));
      const text = readPages(bytes)
        .map((_, i) => readText(bytes, i + 1))
        .join('\n');
      expect(text, id).toMatch(/\d\/\d+″|\d″/);
      expect(text, id).not.toMatch(MILLIMETRES);
    }
    const gaugesDxf = registry.get('gauges-dxf');
    const drawing = new TextDecoder().decode(
      await gaugesDxf.write(pattern, registry.values(gaugesDxf, { unit: 'fraction' })),
    );
    // The inch mark has a likeness in ASCII.
    expect(drawing).toMatch(/\b11 13\/16"/);
    expect(drawing).not.toMatch(/\?/);
  });

  it('is fine enough: no length of the tray file is off by more than a hundredth of an inch', async () => {
    const pattern = await demo('nesting-drip-tray');
    const rows = new Map(mainRows(pattern, papers, 'inch'));
    // 300 x 200 mm, radius 40 mm; height 40 mm, bottom radius 18 mm: in inches by division by 25.4.
    expect(rows.get('Plan')).toContain('11.81″ × 7.87″, corner radius 1.57″');
    expect(rows.get('Wall')).toContain('height 1.57″, bottom radius 0.71″');
    // 1 lb = 0.45359237 kg, 1 ft = 0.3048 m (international yard and pound agreement, 1959).
    const { mass, area } = pattern.report.blank;
    const [pounds, squareFeet] = [(mass / 0.45359237).toFixed(2), (area / 304.8 ** 2).toFixed(2)];
    expect(rows.get('Mass')).toBe(`${pounds} lb, ${squareFeet} sq ft`);
    const crown = gauges(pattern, {
      hammerRadius: 300,
      dollyRadius: 75,
      trialBend: 0,
      face: 40,
      stages: [],
      unit: 'inch',
      words: papers,
    }).find(({ id }) => id === 'hammer-crown');
    expect(crown!.text.lines.join(' ').replaceAll('\u00a0', ' ')).toContain('hammer crown 11.81″');
    expect(crown!.text.lines.join(' ')).toContain('over 1.57″');
  });

  it.each(['inch', 'fraction'] as const)(
    'scales with a bar of whole inches, or halves of one, in %s',
    async (unit) => {
      const bars = NAMES.map(demo).map(async (pattern) => {
        const text = textsOf(blankPicture(await pattern, { form: 'wide', unit }).items);
        return text[text.lastIndexOf('0') + 1];
      });
      for (const bar of await Promise.all(bars)) expect(bar).toMatch(/^(?:[125]0*|1\/\d+|0\.(?:5|25|125))″$/);
    },
  );
});
