/** Trays without a flat are plain data with a verdict; what needs a flat refuses them with its reason. */
import { describe, expect, it } from 'vitest';
import { flatPatternOf, verdictBehind, verdictOn } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import type { NoFlat } from '../../src/pattern/flatPattern.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { english } from '../../src/words/english.ts';
import { sentences } from '../../src/words/statement.ts';
import { refusal } from '../support/refusal.ts';

const tray = (cornerRadius: number, bottomRadius: number, height: number): unknown => ({
  name: 'high',
  measured: 'outside',
  plan: { length: 300, width: 200, cornerRadius },
  section: { bottomRadius, height },
  sheet: { material: 'DC04', thickness: 1 },
});

describe.each([
  ['tight corners', tray(8, 8, 80)],
  ['a high pot', { ...(tray(60, 10, 120) as object), plan: { length: 120, width: 120, cornerRadius: 60 } }],
])('a tray without a flat: %s', (_name, file) => {
  const developed = developTray(readTray(file)) as NoFlat;

  it('is told by its kind', () => {
    expect(developed.kind).toBe('no flat');
    expect(verdictOn(developed)).toBe(developed.verdict);
    expect(developed.verdict).toMatchObject({
      word: 'not in one piece',
      reasons: [{ about: 'flat', weight: 'refuse' }],
    });
  });

  it('is plain data', () => {
    expect(structuredClone(developed)).toEqual(developed);
    expect(JSON.parse(JSON.stringify(developed))).toEqual(developed);
  });

  it('gives no pattern: the error has the reasons, and its code stands for the verdict', () => {
    const { code, faults } = refusal(() => flatPatternOf(developed));
    expect(verdictBehind(code)).toBe(developed.verdict.word);
    expect(faults.map(({ message }) => message)).toEqual(
      sentences(
        developed.verdict.reasons.map(({ sentence }) => sentence),
        english,
      ),
    );
  });
});
