/**
 * The cautions of every metal and coating, wherever they are read: page, order note, card, template, gauges, strip,
 * plan and command. What must be there and what must not is set down here once more, by hand, without the table.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { plateSentences } from '../../src/exporters/papers/plateFiles.ts';
import { workingPlan } from '../../src/gather/workingPlan.ts';
import {
  ACTS,
  type Act,
  ALL_METALS,
  CAUTION_SOURCES,
  cautionCodes,
  cutAct,
} from '../../src/material/cautions.ts';
import type { Metal } from '../../src/material/families.ts';
import { shopCardPages } from '../../src/papers/shopCard.ts';
import { templatePages } from '../../src/papers/template.ts';
import { TEMPLATE_DEFAULTS } from '../../src/papers/templateOptions.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import { orderNote } from '../../src/server/orderNote.ts';
import { cautions } from '../../src/server/preview.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { english } from '../../src/words/english.ts';
import { command, inFolder, nameExporter, sizeExporter, writeFiles } from '../cli/fakes.ts';
import { LONG } from '../support/long.ts';
import { solved } from '../support/solved.ts';
import { customMaterial, goodFile } from '../tray/trayFiles.ts';
import { said } from '../words/pictureText.ts';
import { NESTING } from './trays.ts';

const PROCESSES = ['laser', 'plasma', 'water jet', 'hand'] as const;
type Process = (typeof PROCESSES)[number];

/** A metal, and whether it may be heated in the workshop. */
interface Case extends Metal {
  readonly heated: boolean;
}
const CASES: readonly Case[] = ALL_METALS.flatMap((metal) =>
  // A coated sheet and stainless steel are never heated.
  (metal.coating === 'none' || metal.coating === 'not stated') && metal.family !== 'stainless steel'
    ? [
        { ...metal, heated: true },
        { ...metal, heated: false },
      ]
    : [{ ...metal, heated: false }],
);

/** Drawing a card takes a moment: some of all unless asked for the long form, those that differ most among them. */
const FEW = CASES.filter(
  ({ family, coating }, i) =>
    LONG ||
    i % 16 === 5 ||
    (family === 'not stated' && coating === 'not stated') ||
    (family === 'magnesium' && coating === 'none') ||
    (family === 'steel' && coating === 'zinc'),
);

const might = (value: string, ...wanted: string[]): boolean =>
  value === 'not stated' || wanted.includes(value);

/** Signs of a caution, and when it must be there; at all other times it must not. */
const RULES: readonly (readonly [sign: RegExp, must: (act: Act, metal: Case) => boolean])[] = [
  [/take a torch to magnesium/, (act, { family }) => might(family, 'magnesium') && /anneal|weld/.test(act)],
  [
    /Magnesium chips/,
    (act, { family }) => might(family, 'magnesium') && /cut|laser|plasma|jet|handle|anneal|weld/.test(act),
  ],
  [
    /Titanium chips/,
    (act, { family }) => might(family, 'titanium') && /cut|laser|plasma|jet|handle|weld/.test(act),
  ],
  [/chromium\(VI\)/, (act, { family }) => might(family, 'stainless steel') && /laser|plasma|weld/.test(act)],
  [/sensitisation/, (act, { family }) => might(family, 'stainless steel') && act === 'anneal'],
  [/metal fume fever/, (act, { coating }) => might(coating, 'zinc') && /laser|plasma|weld|anneal/.test(act)],
  [/Never anneal zinc-coated/, (act, { coating }) => might(coating, 'zinc') && act === 'anneal'],
  [
    /lead, cadmium or chromium/,
    (act, { coating }) => might(coating, 'other') && /laser|plasma|weld|anneal|hand c/.test(act),
  ],
  [
    /Paint and plastic/,
    (act, { coating }) => might(coating, 'paint') && /laser|plasma|weld|anneal/.test(act),
  ],
  [
    /no red before it melts/,
    (act, { family, heated }) => might(family, 'aluminium') && act === 'anneal' && heated,
  ],
  [/fuel-rich/, (act, { family, heated }) => might(family, 'copper') && act === 'anneal' && heated],
  [
    /nickel silver give off zinc/,
    (act, { family }) => might(family, 'brass', 'nickel silver') && /laser|plasma|weld|anneal/.test(act),
  ],
  [/must not be heated in the workshop/, (act, { heated }) => act === 'anneal' && !heated],
  [/fire watch/, (act, { heated }) => act === 'weld' || (act === 'anneal' && heated)],
  [/heat-proof gloves and goggles/, (act, { heated }) => act === 'anneal' && heated],
  [/drawn off, or outdoors/, (act, { heated }) => act === 'anneal' && heated],
  [/hydrogen chloride/, (act) => act === 'laser' || act === 'plasma'],
  [/fresh from the cut is hot/, (act) => act === 'laser' || act === 'plasma'],
  [/jet goes through flesh/, (act) => act === 'water jet'],
  [/Quench open pieces only/, (act) => act === 'quench'],
  [/Never put water on hot magnesium/, (act, { family }) => might(family, 'magnesium') && act === 'quench'],
  [/acid to water/, (act) => act === 'pickle'],
  [/welding helmet/, (act) => act === 'weld'],
  [/ear protection, and eye protection/, (act) => act === 'hammer'],
  [/edges are sharp/, (act) => /cut|laser|plasma|jet|handle|hammer/.test(act)],
  [/Local safety rules/, () => true],
];

function check(where: string, text: string, acts: readonly Act[], metal: Case): void {
  const plain = text.replaceAll(/\s+/g, ' ');
  for (const [sign, must] of RULES) {
    const wanted = acts.some((act) => must(act, metal));
    const about = `${where}: ${sign} for ${metal.family}, ${metal.coating}, ${metal.heated ? 'heated' : 'not heated'}`;
    expect(sign.test(plain), about).toBe(wanted);
  }
}

/** The same blank of another sheet, which takes so little that it has to be annealed. */
function patternOf({ family, coating, heated }: Case, process: Process): FlatPattern {
  const pattern = solved(NESTING);
  const { material } = pattern.sheet;
  const temperature = heated ? ([340, 350] as const) : null;
  const anneal = { ...material.anneal, temperature, strainBudget: 0.05 };
  return {
    ...pattern,
    spec: { ...pattern.spec, cut: { ...pattern.spec.cut, process } },
    sheet: { ...pattern.sheet, material: { ...material, family, coating, anneal } },
  };
}

const forming = ({ family, heated }: Case): Act[] => [
  'anneal',
  ...(heated && family !== 'steel' && family !== 'titanium' ? (['quench'] as const) : []),
  ...(heated && might(family, 'copper', 'brass', 'nickel silver', 'other') ? (['pickle'] as const) : []),
  'handle',
  'hammer',
];

describe('the table', () => {
  it('has for every metal and act what must be there, and nothing else', () => {
    for (const metal of CASES)
      for (const act of ACTS) {
        const { sentences } = english.cautions;
        const text = cautionCodes(act, metal).map((code) => sentences[code]);
        check(act, text.join(' '), [act], metal);
        expect(text.at(-1)).toBe(sentences.localRules);
        expect(new Set(text).size).toBe(text.length);
      }
  });

  it('gives a sheet that is not stated all that each of them would have', () => {
    for (const act of ACTS)
      for (const heated of [true, false]) {
        const open = cautionCodes(act, { family: 'not stated', coating: 'not stated', heated });
        const each = ALL_METALS.flatMap((metal) => cautionCodes(act, { ...metal, heated }));
        expect(new Set(open)).toEqual(new Set(each));
      }
  });

  it('names a source of every caution, and uses each', () => {
    const used = new Set(
      ACTS.flatMap((act) =>
        [true, false].flatMap((heated) =>
          cautionCodes(act, { family: 'not stated', coating: 'not stated', heated }),
        ),
      ),
    );
    expect([...used].sort()).toEqual(Object.keys(english.cautions.sentences).sort());
    for (const code of used) expect(CAUTION_SOURCES[code], code).toMatch(/\w/);
  });
});

describe('cautions on', () => {
  const each = (work: (metal: Case, process: Process, pattern: FlatPattern) => void): void => {
    for (const metal of CASES)
      for (const process of PROCESSES) work(metal, process, patternOf(metal, process));
  };

  it('the page', () => {
    each((metal, process, pattern) => {
      const page = cautions(pattern);
      check('page, cutting', page.cutting.join(' '), [cutAct(process), 'handle'], metal);
      check('page, bench', [...page.annealing, ...page.forming].join(' '), forming(metal), metal);
      const spec = { ...pattern.spec, forming: { ...pattern.spec.forming, corners: 'notch' as const } };
      const notched = cautions({ ...pattern, spec });
      const text = [...notched.annealing, ...notched.forming].join(' ');
      check('page, notched', text, [...forming(metal), 'weld'], metal);
    });
  });

  it('order note, gauges and strip', () => {
    each((metal, process, pattern) => {
      const cut: Act[] = [cutAct(process), 'handle'];
      check('order note', orderNote(pattern, 1, [], []), cut, metal);
      check('gauges', plateSentences.gauges(pattern, english).join(' '), ['hand cutting', 'handle'], metal);
      check('strip', plateSentences.strip(pattern, english).join(' '), [...cut, 'weld'], metal);
    });
  });

  it('the card', () => {
    for (const metal of FEW) {
      const pattern = patternOf(metal, 'laser');
      check('card', said(shopCardPages(pattern)), forming(metal), metal);
      const strip = said(shopCardPages(pattern, { strip: [] }));
      check('card with a strip', strip, [...forming(metal), 'weld'], metal);
    }
  });

  it('the template', () => {
    // The cover only: the pages behind it have no words on them.
    for (const [i, metal] of FEW.entries()) {
      const process = PROCESSES[i % 4]!;
      const [cover, ...more] = templatePages(patternOf(metal, process), TEMPLATE_DEFAULTS);
      check('template', said([cover!, ...more]), [cutAct(process), 'handle'], metal);
    }
  });

  it('what make prints', async () => {
    const uses = { cut: nameExporter, form: { ...sizeExporter, leadsTo: () => ['form', 'weld'] as const } };
    await inFolder(async (folder) => {
      await writeFiles(folder, { 'tray.json': goodFile() });
      for (const [i, metal] of CASES.entries()) {
        const process = PROCESSES[i % 4]!;
        const made = async (exporter: typeof uses.cut | typeof uses.form): Promise<string> => {
          const { out } = await command(
            folder,
            ['make', 'tray.json', '--out', 'out', '--format', exporter.id],
            { exporters: [exporter], developTray: () => patternOf(metal, process) },
          );
          const lines = out.split('\n').filter((line) => /^ {2}caution /.test(line));
          expect(lines.length).toBeGreaterThan(0);
          expect(lines.length).toBeLessThanOrEqual(6);
          return lines.join('\n');
        };
        check('make', await made(uses.cut), [cutAct(process), 'handle'], metal);
        check('make, forming', await made(uses.form), [...forming(metal), 'weld'], metal);
      }
    });
  });

  describe('the plan', () => {
    const plans: [Case, string][] = [];
    beforeAll(() => {
      for (const [family, coating, annealTemperature] of [
        ['magnesium', 'none', [340, 350]],
        ['steel', 'zinc', undefined],
        [undefined, undefined, [340, 350]],
      ] as const) {
        const material = {
          ...customMaterial,
          strainBudget: 0.05,
          ...(family === undefined ? {} : { family }),
          ...(coating === undefined ? {} : { coating }),
          ...(annealTemperature === undefined ? {} : { annealTemperature }),
        };
        const spec = { ...NESTING, sheet: { ...NESTING.sheet, material } };
        const { cautions: found } = workingPlan(solved(spec));
        const text = found
          .flatMap(({ sentences }) => sentences)
          .map(({ entry }) => english.cautions.sentences[entry.split('.').at(-1) as 'localRules']);
        const metal = {
          family: family ?? 'not stated',
          coating: coating ?? 'not stated',
          heated: annealTemperature !== undefined,
        } as const;
        plans.push([metal, text.join(' ')]);
      }
    });
    it('has those of the bench', () => {
      expect(plans).toHaveLength(3);
      for (const [metal, text] of plans) check('plan', text, forming(metal), metal);
    });
  });
});

describe('a sheet given in full', () => {
  const file = (more: object): unknown => ({
    ...goodFile(),
    sheet: { thickness: 1.2, material: { ...customMaterial, ...more } },
  });

  it('keeps the metal and the coating it states, whatever its density', () => {
    for (const { family, coating } of ALL_METALS)
      for (const density of [1.8, 2.7, 4.5, 7.85, 8.9]) {
        const stated = {
          density,
          ...(family === 'not stated' ? {} : { family }),
          ...(coating === 'not stated' ? {} : { coating }),
        };
        expect(readTray(file(stated)).sheet.material).toMatchObject(stated);
      }
  });

  it.each([
    [{ coating: 'zinc', annealTemperature: [600, 700] }, /coating is "zinc", and a coated sheet/],
    [{ family: 'aluminium', annealTemperature: [600, 700] }, /up to 700 °C, but aluminium melts at 660/],
    [{ family: 'magnesium', annealTemperature: [600, 700] }, /up to 700 °C, but magnesium melts at 650/],
    [{ strainBudget: 0.2, annealedStrainBudget: 0.1 }, /above the 0\.200 that the sheet takes/],
    [{ family: 'tin' }, /"steel", "stainless steel", "aluminium"/],
  ])('refuses %j', (more, sentence) => {
    expect(() => readTray(file(more))).toThrow(sentence);
  });
});
