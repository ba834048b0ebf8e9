/** Files that are none, refused in one sentence before any kernel is loaded. */
import { describe, expect, it } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { checkExchangeFile } from '../../src/step/exchangeCheck.ts';
import { writeFormedSolid } from '../../src/step/formedSolid.ts';
import { readStepTray } from '../../src/step/readStepTray.ts';
import { orRefusal } from '../support/refusal.ts';
import { tray } from './trays.ts';

const good = new TextDecoder().decode(writeFormedSolid(tray('draft: cones'), 'tray', 'AP214'));
const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

function answer(text: string | Uint8Array): string {
  const read = orRefusal(() => checkExchangeFile(typeof text === 'string' ? bytes(text) : text));
  if (!(read instanceof GatherpanError)) return 'accepted';
  expect(read.message).toMatch(/^[A-Z].*\.$/);
  expect(read.message).not.toContain('\n');
  return read.message;
}

it('accepts what is sound', () => {
  expect(answer(good)).toBe('accepted');
  expect(answer(`\uFEFF${good}`)).toBe('accepted');
  const commented = good.replace(/(?<=DATA;\n)[\s\S]*(?=ENDSEC)/, (data) =>
    data.replaceAll(';\n', ' /* a comment; with ( */ ;\r\n'),
  );
  expect(commented).toContain('/* a comment');
  expect(answer(commented)).toBe('accepted');
  expect(answer(good.replaceAll(',$', ' , $'))).toBe('accepted');
});

describe('refuses', () => {
  it.each([
    ['an empty file', '', 'empty'],
    ['garbage', 'a tray, please', 'ISO-10303-21'],
    ['another format', '0\nSECTION\n2\nHEADER\n', 'ISO-10303-21'],
    ['a file cut off', good.slice(0, good.length / 2), 'cut off'],
    ['a file without faces', good.replaceAll('ADVANCED_FACE', 'ADVANCED_FIELD'), 'no faces'],
    [
      'a number without end',
      good.replace("CARTESIAN_POINT('',(0.,0.,0.))", "CARTESIAN_POINT('',(1.E400,0.,0.))"),
      '1e9',
    ],
    ['a missing instance', good.replace(/\nDATA;\n#1=[^;]*;/, '\nDATA;'), 'there is no #1'],
    ['a circle of references', good.replace(/#1=[^;]*;/, "#1=ADVANCED_FACE('',(#2),#3,.T.);"), 'circle'],
    ['an instance twice', good.replace('#2=', '#1='), ''],
    ['a text without end', good.replace("'AP214'", "'").replace("PRODUCT('tray'", "PRODUCT('tray"), ''],
    [
      'brackets within brackets',
      good.replace('#2=', `#999999=A(${'('.repeat(40)}${')'.repeat(40)});\n#2=`),
      'deep',
    ],
    ['brackets that do not match', good.replace('#2=', '#999999=A(()));\n#2='), 'bracket'],
  ])('%s', (_, text, word) => {
    const message = answer(text);
    expect(message).not.toBe('accepted');
    expect(message).toContain(word);
  });

  it('200 MB at a glance, and a million instances, and 10,000 faces', () => {
    expect(answer(new Uint8Array(200e6))).toContain('30 MB');
    const many = (count: number, line: (i: number) => string): string =>
      `ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\n${Array.from({ length: count }, (_, i) => line(i + 1)).join('\n')}\nENDSEC;\nEND-ISO-10303-21;\n`;
    expect(answer(many(350_000, (i) => `#${i}=CARTESIAN_POINT('',(0.,0.,0.));`))).toContain('instances');
    expect(answer(many(10_000, (i) => `#${i}=ADVANCED_FACE('',(),$,.T.);`))).toContain('3000 faces');
  });

  it('deep chains of references without running out of stack', () => {
    const chain = Array.from({ length: 200_000 }, (_, i) => `#${i + 1}=A(#${i + 2});`).join('\n');
    const text = `ISO-10303-21;\nDATA;\n${chain}\n#200001=ADVANCED_FACE('');\nENDSEC;\nEND-ISO-10303-21;`;
    // It gets as far as the face itself.
    expect(answer(text)).toContain('ADVANCED_FACE has 4');
  });
});

it('loads no kernel for a file that is refused', async () => {
  const occt = {
    started: 0,
    run: () => Promise.reject(new Error('asked')),
    close: () => Promise.resolve(),
  };
  await expect(readStepTray(bytes('no'), {}, occt)).rejects.toThrow(/ISO-10303-21/);
});
