/** Tray files for the tests: a sound one, and ways to change it. */
import { expect } from 'vitest';
import { readTray } from '../../src/tray/readTray.ts';
import { refusal } from '../support/refusal.ts';

/** A tray file as a person would write it; a new object every time. */
export function goodFile() {
  return {
    name: 'bench-drip-tray',
    plan: { length: 420, width: 280, cornerRadius: 45 },
    section: { bottomRadius: 22, height: 60 },
    sheet: { material: 'DC04', thickness: 1.2 },
  };
}

export const customMaterial = {
  name: 'offcut from the shed',
  K: 500,
  epsilon0: 0.004,
  n: 0.2,
  r0: 1.5,
  r45: 1.2,
  r90: 1.8,
  density: 7.85,
  youngsModulus: 210000,
  yieldStrength: 170,
  tensileStrength: 310,
  uniformElongation: 22,
};

/** Fields that tests of any values change. */
export const FIELDS = [
  'name',
  'units',
  'measured',
  'plan',
  'plan.length',
  'plan.width',
  'plan.cornerRadius',
  'plan.vertices',
  'plan.openEdges',
  'section.bottomRadius',
  'section.height',
  'section.draft',
  'section.rim',
  'section.rim.kind',
  'section.heights',
  'section.runOut',
  'holes',
  'sheet.material',
  'sheet.thickness',
  'sheet.grain',
  'forming',
  'forming.trim',
  'forming.corners',
  'forming.weldGap',
  'forming.notchRelief',
  'cut',
  'cut.kerf',
] as const;

/** Corners of a plan with a waist so narrow that its bends may meet there. */
export const WAIST = [
  [0, 0],
  [300, 0],
  [300, 100],
  [162, 100],
  [162, 140],
  [300, 140],
  [300, 240],
  [0, 240],
  [0, 140],
  [138, 140],
  [138, 100],
  [0, 100],
] as const;

/**
 * A sound file with the value at `path` replaced; `undefined` removes the field.
 *
 * @param path dotted, list positions as numbers
 */
export function changed(changes: Readonly<Record<string, unknown>>, base: object = goodFile()): unknown {
  const file = structuredClone(base) as Record<string, unknown>;
  for (const [path, value] of Object.entries(changes)) {
    const keys = path.split('.');
    const last = keys.pop()!;
    let at: Record<string, unknown> = file;
    for (const key of keys) {
      at[key] ??= {};
      at = at[key] as Record<string, unknown>;
    }
    if (value === undefined) delete at[last];
    else at[last] = value;
  }
  return file;
}

/** The only fault of a file: one sentence, on one line, ended by a full stop. */
export function onlyFault(file: unknown): { path: string; message: string } {
  const error = refusal(() => readTray(file));
  expect(error.code).toBe('BAD_INPUT');
  expect(error.faults.map((fault) => fault.message)).toHaveLength(1);
  const fault = error.faults[0]!;
  expect(fault.message).toMatch(/^[^\n]+\.$/);
  expect(fault.message).not.toMatch(/\. [A-Z]/);
  return fault;
}
