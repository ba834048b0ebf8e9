/** Papers name the hole at the root of notched corners, by corner and size, and number those corners. */
import { expect, test } from 'vitest';
import type { Picture } from '../../src/drawing/picture.ts';
import { formedStepExporterIn } from '../../src/exporters/step/formedStepExporter.ts';
import { blankPicture } from '../../src/papers/blankPicture.ts';
import { markingPages } from '../../src/papers/markingPages.ts';
import { shopCard } from '../../src/papers/shopCard.ts';
import { templatePages } from '../../src/papers/template.ts';
import { TEMPLATE_DEFAULTS } from '../../src/papers/templateOptions.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { english } from '../../src/words/english.ts';
import { said, textsOf } from '../words/pictureText.ts';

const solved = (corners: unknown): FlatPattern =>
  flatPatternOf(
    developTray(
      readTray({
        name: 'cold-frame-tray',
        plan: { length: 360, width: 240, cornerRadius: corners === 'gather' ? 40 : [0, 0, 40, 40] },
        section: { bottomRadius: 8, height: 45 },
        sheet: { material: 'DC01', thickness: 0.8 },
        forming: { corners, weldGap: 0.5, notchRelief: 4 },
      }),
      { solve: { minimumRefinements: 0, maximumRefinements: 0 } },
    ),
  );
const notched = solved(['notch', 'notch', 'gather', 'gather']);
const gathered = solved('gather');

const PAPERS: readonly (readonly [string, (pattern: FlatPattern) => Picture[]])[] = [
  ['picture', (pattern) => [blankPicture(pattern, { form: 'wide' })]],
  ['shop card', (pattern) => [shopCard(pattern)]],
  ['template', (pattern) => templatePages(pattern, { ...TEMPLATE_DEFAULTS, words: english })],
  [
    'marking-out sheet',
    (pattern) => markingPages(pattern, { paper: 'A4', unit: 'mm', words: english.papers }),
  ],
];

test.each(PAPERS)('%s', (_, draw) => {
  const plain = (pattern: FlatPattern): string => said(draw(pattern)).replaceAll('\n', ' ');
  expect(plain(notched)).toMatch(/Corner A, B: relief Ø 4\.0 mm at the root/);
  expect(plain(gathered)).not.toMatch(/relief|[Nn]otch/);
  expect(plain(notched)).not.toContain(english.papers.eachCorner);
});

test('the blank shows the letters of all corners', () => {
  const marks = textsOf(blankPicture(notched, { form: 'wide', figures: false }).items);
  expect(marks).toEqual(expect.arrayContaining(['A', 'B', 'C', 'D']));
});

test('the solid says that it is without the holes', async () => {
  const write = async (pattern: FlatPattern): Promise<string> =>
    new TextDecoder().decode(await formedStepExporterIn(english).write(pattern, { protocol: 'AP214' }));
  const holes = english.exporters.formedStep.withoutReliefs;
  expect(await write(notched)).toContain(holes);
  expect(await write(gathered)).not.toContain(holes);
});
