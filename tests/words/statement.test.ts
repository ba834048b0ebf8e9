/** Sentences that a pattern carries can be written again, in another unit and in another language. */
import { describe, expect, it } from 'vitest';
import { jsonExporter } from '../../src/exporters/json/jsonExporter.ts';
import { courseOf } from '../../src/gather/workingPlan.ts';
import { blankPicture } from '../../src/papers/blankPicture.ts';
import { lengthWriter } from '../../src/papers/lengths.ts';
import { shopCard } from '../../src/papers/shopCard.ts';
import { templatePages } from '../../src/papers/template.ts';
import { TEMPLATE_DEFAULTS } from '../../src/papers/templateOptions.ts';
import { changeStatement } from '../../src/pattern/changes.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { english } from '../../src/words/english.ts';
import {
  givenLength,
  inWords,
  length,
  type Statement,
  sentences,
  statement,
  written,
} from '../../src/words/statement.ts';
import { NESTING, UPRIGHT } from '../papers/trays.ts';
import { some } from '../support/long.ts';
import { solved } from '../support/solved.ts';
import { said, untranslated } from './pictureText.ts';
import { pseudo } from './pseudoLanguage.ts';

/** A kerf that is compensated, and a hole beside the bend: all that is said with lengths. */
const DRAINED: TraySpec = {
  ...NESTING,
  name: '0005',
  holes: [{ name: '7', shape: { kind: 'round', diameter: 12 }, place: { on: 'base', x: 0, y: -70 } }],
  cut: { process: 'laser', kerf: 0.2, compensate: true },
};

const statementsOf = ({ report, notes, gather }: FlatPattern): Statement[] => [
  ...report.warnings,
  ...notes,
  ...gather.verdict.reasons.map(({ sentence }) => sentence),
];

describe('a statement', () => {
  it('is written with its lengths in mm, and a given one as it was given', () => {
    const near = statement('pattern.holeNearBend', '7', length(1.26, 1), '2', length(1.6, 1));
    expect(written(near, english)).toBe(
      'The hole 7 is 1.3 mm from a bend, less than 2 sheet thicknesses (1.6 mm): its edge will pull out of shape.',
    );
    expect(written(statement('pattern.kerfCompensated', givenLength(0.125, 2)), english)).toContain(
      'half the kerf (0.125 mm)',
    );
  });

  it('is written in inches by whoever wants inches', () => {
    const thick = statement(
      'verdict.edge.shrinks',
      '12',
      statement('material.families.steel'),
      givenLength(0.8, 2),
    );
    expect(written(thick, english, lengthWriter('fraction'))).toContain('for steel sheet of 0.031″,');
    const wall = statement(
      'verdict.edge.staysFlat',
      length(25.4, 0),
      '0.10',
      statement('verdict.edge.elastic'),
    );
    expect(written(wall, english, lengthWriter('inch'))).toContain('a free wall of 1.0″ buckles');
  });

  it('of a change has the figures of the change', () => {
    const change = {
      about: 'height',
      path: 'section.height',
      from: 50.8,
      to: 25.4,
      verdict: 'can be worked',
      shrink: 21.4,
      thickening: 9.6,
      strain: 0.314,
      workUsed: 150,
    } as const;
    expect(written(changeStatement(change), english)).toBe(
      'A height of 25.4 mm instead of 50.8 mm, with a strip of 25.4 mm welded on: can be worked (the rim gathers by 21 %, the metal thickens by 10 %, 150 % of the work between anneals is used up).',
    );
    expect(written(changeStatement(change), english, lengthWriter('fraction'))).toContain(
      'A height of 1″ instead of 2″, with a strip of 1″ welded on',
    );
    expect(
      written(changeStatement({ ...change, about: 'sheet', from: 'DC01', to: 'DC04' }), english),
    ).toContain('DC04 instead of DC01: can be worked');
  });

  it('stands in lists, and in plain data that is written out', () => {
    const zones = [
      statement('plan.grain.zone', [statement('plan.grain.corner', 'A')], '12.1'),
      statement(
        'plan.grain.zone',
        [statement('plan.grain.corner', 'B'), statement('plan.grain.side', 'C–D')],
        '9.0',
      ),
    ];
    const plain = { figure: 3, entry: 'text', said: [statement('plan.grain.zonesDiffer', zones)] };
    expect(inWords(plain, english)).toEqual({
      figure: 3,
      entry: 'text',
      said: ['The corners gather differently: corner A by 12.1 %, corner B, side C–D by 9.0 %.'],
    });
  });
});

/** Everything that is not plain data in a value: the path and what stands there. */
function notPlain(value: unknown, path = ''): string[] {
  if (typeof value === 'function') return [`${path}: a function`];
  if (typeof value !== 'object' || value === null || ArrayBuffer.isView(value)) return [];
  const prototype = Object.getPrototypeOf(value);
  if (prototype !== Object.prototype && prototype !== Array.prototype) return [`${path}: of a class`];
  return Object.entries(Object.getOwnPropertyDescriptors(value)).flatMap(([key, { get, value: own }]) =>
    get === undefined ? notPlain(own, `${path}.${key}`) : [`${path}.${key}: computed when asked`],
  );
}

describe('a pattern', () => {
  it.each(some([DRAINED, UPRIGHT], 1))(
    'is plain data and comes whole from another thread ($name)',
    (spec) => {
      const pattern = solved(spec);
      expect(notPlain(pattern)).toEqual([]);
      expect(structuredClone(pattern)).toEqual(pattern);
    },
  );

  it('is said in mm in the report', async () => {
    const pattern = solved(DRAINED);
    const text = new TextDecoder().decode(await jsonExporter.write(pattern, { compact: true }));
    const said = sentences(statementsOf(pattern), english);
    expect(said.filter((sentence) => / mm\b/.test(sentence)).length).toBeGreaterThan(3);
    for (const sentence of said) expect(text).toContain(JSON.stringify(sentence));
  });

  it('is said in the language of the paper', () => {
    const pattern = solved(DRAINED);
    const pages = [
      shopCard(pattern, { words: pseudo, plan: courseOf(pattern) }),
      blankPicture(pattern, { form: 'wide', words: pseudo }),
      ...templatePages(pattern, { ...TEMPLATE_DEFAULTS, words: pseudo }),
    ];
    expect(untranslated(said(pages))).toEqual([]);
    expect(untranslated(said([shopCard(pattern)])).length).toBeGreaterThan(20);
  });
});
