/** Sentences that a pattern carries can be written again, in another unit and in another language. */
import { describe, expect, it } from 'vitest';
import { jsonExporter } from '../../src/exporters/json/jsonExporter.ts';
import { changeStatement } from '../../src/gather/changes.ts';
import { courseOf } from '../../src/gather/workingPlan.ts';
import { blankPicture } from '../../src/papers/blankPicture.ts';
import { lengthWriter } from '../../src/papers/lengths.ts';
import { shopCard } from '../../src/papers/shopCard.ts';
import { templatePages } from '../../src/papers/template.ts';
import { TEMPLATE_DEFAULTS } from '../../src/papers/templateOptions.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { english } from '../../src/words/english.ts';
import { givenLength, length, rewritten, sayer, statement, written } from '../../src/words/statement.ts';
import { NESTING, solved, UPRIGHT } from '../papers/solved.ts';
import { said, untranslated } from './pictureText.ts';
import { pseudo } from './pseudoLanguage.ts';

/** A kerf that is compensated, and a hole beside the bend: all that is said with lengths. */
const DRAINED: TraySpec = {
  ...NESTING,
  name: '0005',
  holes: [{ name: '7', shape: { kind: 'round', diameter: 12 }, place: { on: 'base', x: 0, y: -70 } }],
  cut: { process: 'laser', kerf: 0.2, compensate: true },
};

const sentencesOf = ({ report, notes, gather }: FlatPattern): string[] => [
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
    const wall = statement('verdict.edge.staysFlat', length(25.4, 0), '0.10');
    expect(written(wall, english, lengthWriter('inch'))).toContain('A free wall of 1.0″ buckles');
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
    } as const;
    expect(written(changeStatement(change), english)).toBe(
      'A height of 25.4 mm instead of 50.8 mm, with a strip of 25.4 mm welded on: can be worked (shrink 21 %, thickening 10 %, strain 0.31).',
    );
    expect(written(changeStatement(change), english, lengthWriter('fraction'))).toContain(
      'A height of 1″ instead of 2″, with a strip of 1″ welded on',
    );
    expect(
      written(changeStatement({ ...change, about: 'sheet', from: 'DC01', to: 'DC04' }), english),
    ).toContain('DC04 instead of DC01: can be worked');
  });

  it('that nobody remembers leaves its sentence as it stands', () => {
    const { say, statements } = sayer(english);
    const known = say(statement('pattern.uncertain', length(0.3, 2)));
    const inches = lengthWriter('inch');
    expect(rewritten([known, 'toString', 'Said by hand.'], statements, english, inches)).toEqual([
      'The outline is uncertain by about 0.012″; leave more trim.',
      'toString',
      'Said by hand.',
    ]);
    expect(rewritten([known], undefined, english, inches)).toEqual([known]);
  });
});

describe('the sentences of a pattern', () => {
  it.each([DRAINED, UPRIGHT])('are all known as statements ($name)', (spec) => {
    const pattern = solved(spec);
    const sentences = sentencesOf(pattern);
    expect(sentences.length).toBeGreaterThan(4);
    for (const sentence of sentences) {
      const known = pattern.statements?.[sentence];
      expect(known, sentence).toBeDefined();
      expect(written(known!, english)).toBe(sentence);
    }
  });

  it('are in the report in mm, and nothing else of them', async () => {
    const pattern = solved(DRAINED);
    const text = new TextDecoder().decode(await jsonExporter.write(pattern, { compact: true }));
    const { statements: _statements, ...without } = pattern;
    expect(text).toBe(new TextDecoder().decode(await jsonExporter.write(without, { compact: true })));
    expect(sentencesOf(pattern).filter((sentence) => / mm\b/.test(sentence)).length).toBeGreaterThan(3);
  });

  it('survive the way from a worker thread', () => {
    const { statements } = structuredClone({ statements: solved(DRAINED).statements });
    expect(statements).toEqual(solved(DRAINED).statements);
  });

  it('are in the language of the paper, whichever the tray was solved in', () => {
    const pattern = solved(DRAINED);
    const pages = [
      shopCard(pattern, { words: pseudo, plan: courseOf(pattern, { words: pseudo }) }),
      blankPicture(pattern, { form: 'wide', words: pseudo }),
      ...templatePages(pattern, { ...TEMPLATE_DEFAULTS, words: pseudo }),
    ];
    expect(untranslated(said(pages))).toEqual([]);
    expect(untranslated(said([shopCard(pattern)])).length).toBeGreaterThan(20);
  });
});
