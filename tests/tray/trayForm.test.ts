/** The fields of the form and the tray that they mean. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { listSheets } from '../../src/material/sheets.ts';
import { DEMO_TRAY } from '../../src/server/demoTray.ts';
import { formRows } from '../../src/server/formRows.ts';
import { emptyPage, withTray } from '../../src/server/pageFiles.ts';
import { pageWords } from '../../src/server/pageWords.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { GATHERINGS } from '../../src/tray/spec.ts';
import { fieldValue, postedTray, withField } from '../../src/tray/trayForm.ts';
import { inUnits, readWritten, type TrayObject } from '../../src/tray/writtenTray.ts';
import { english } from '../../src/words/english.ts';

const demo: TrayObject = DEMO_TRAY;
const sample = (name: string): TrayObject =>
  JSON.parse(readFileSync(new URL(`../../samples/${name}.json`, import.meta.url), 'utf8'));
/** What a form with these fields changed is read as. */
const read = (tray: TrayObject) => readTray(readWritten(tray, listSheets(), {}).tray);
const changed = (
  tray: TrayObject,
  ...changes: (readonly [name: string, value: string | boolean, box?: string])[]
) => changes.reduce((at, [name, value, box]) => withField(at, name, value, box), tray);

describe('holes', () => {
  test('one of each shape, in the base and in a wall', () => {
    const deep = { ...demo, section: { bottomRadius: 22, height: 60 } };
    const { holes } = read(
      changed(
        deep,
        ['holes.0.shape.kind', 'round'],
        ['holes.0.shape.diameter', '12 mm'],
        ['holes.1.shape.kind', 'slot'],
        ['holes.1.place.on', 'top'],
        ['holes.1.place.along', '-20'],
        ['holes.2.shape.kind', 'polygon'],
        ['holes.2.shape.points', '-10 -5; 10 -5; 0 8'],
        ['holes.2.place.x', '50'],
      ),
    );
    expect(holes).toMatchObject([
      { shape: { kind: 'round', diameter: 12 }, place: { on: 'base', x: 0, y: 0 } },
      { shape: { kind: 'slot', length: 30 }, place: { on: 'wall', edge: 0, along: -20, height: 41 } },
      {
        shape: {
          kind: 'polygon',
          points: [
            { x: -10, y: -5 },
            { x: 10, y: -5 },
            { x: 0, y: 8 },
          ],
        },
        place: { x: 50 },
      },
    ]);
  });

  test.each(['round', 'slot', 'polygon'])('a new one can be solved as it is, in both units: %s', (kind) => {
    for (const units of ['mm', 'in'] as const)
      expect(read(changed(inUnits(demo, units), ['holes.0.shape.kind', kind])).holes).toHaveLength(1);
  });

  test('one is taken away, and the last takes the list with it', () => {
    const two = changed(demo, ['holes.0.shape.kind', 'round'], ['holes.1.shape.kind', 'slot']);
    const one = changed(two, ['holes.0.shape.kind', 'none']);
    expect(read(one).holes).toMatchObject([{ shape: { kind: 'slot' } }]);
    expect(changed(one, ['holes.0.shape.kind', 'none'])).toEqual(demo);
  });

  test('posted, one may go, one may be changed and one may come at once', () => {
    const two = changed(demo, ['holes.0.shape.kind', 'round'], ['holes.1.shape.kind', 'round']);
    const posted = postedTray(two, [
      ['holes.0.shape.kind', 'none'],
      ['holes.1.shape.kind', 'round'],
      ['holes.1.shape.diameter', '7'],
      ['holes.2.shape.kind', 'slot'],
    ]);
    expect(read(posted).holes).toMatchObject([{ shape: { diameter: 7 } }, { shape: { kind: 'slot' } }]);
  });

  test('corners of a hole go over into the other unit as any length does', () => {
    const typed = changed(
      demo,
      ['holes.0.shape.kind', 'polygon'],
      ['holes.0.shape.points', '-1 in 0; 1 in 0; 0 1 in'],
    );
    expect(read(inUnits(typed, 'in'))).toEqual({ ...read(typed), shownIn: 'in' });
    expect(fieldValue(typed, 'holes.0.shape.points')).toBe('-1 in 0; 1 in 0; 0 1 in');
    expect(fieldValue(inUnits(typed, 'in'), 'holes.0.shape.points')).toBe('-1 0; 1 0; 0 1');
  });

  test('corners that are none are told of, not guessed', () => {
    const typed = changed(demo, ['holes.0.shape.kind', 'polygon'], ['holes.0.shape.points', '-10 -5; 10']);
    expect(() => read(typed)).toThrow(/holes\.0\.shape\.points is "-10 -5; 10"/);
  });
});

test('four radii as they were typed go over into the other unit', () => {
  const typed = changed(demo, ['plan.cornerRadius', '70; 62,5; 55 50']);
  expect(read(inUnits(typed, 'in'))).toEqual({ ...read(typed), shownIn: 'in' });
});

describe('corner by corner', () => {
  test('a corner that is cut out is sharp, and round again when it is gathered', () => {
    const cut = changed(demo, ['forming.corners.1', 'notch']);
    expect(read(cut)).toMatchObject({
      plan: { cornerRadius: [60, 0, 60, 60] },
      forming: { corners: ['gather', 'notch', 'gather', 'gather'] },
    });
    expect(fieldValue(cut, 'forming.corners')).toBe('');
    expect(fieldValue(cut, 'forming.corners.1')).toBe('notch');
    const again = changed(cut, ['forming.corners.1', 'gather']);
    expect(read(again)).toEqual(read(demo));
  });

  test('a side that is open has sharp corners, and round ones when it is closed again', () => {
    const open = changed(demo, ['plan.openEdges', true, 'left']);
    expect(read(open)).toMatchObject({ plan: { cornerRadius: [60, 0, 0, 60], openEdges: [1] } });
    expect(read(changed(open, ['plan.openEdges', false, 'left']))).toEqual(read(demo));
  });

  test('a plan of corner points has its own corners and sides', () => {
    const tray = sample('bench-corner-drip-tray');
    const rows = JSON.stringify(formRows(tray, pageWords(english)));
    const { vertices } = tray.plan as { vertices: readonly unknown[] };
    for (const [i] of vertices.entries()) expect(rows).toContain(`plan.vertices.${i}.radius`);
    expect(rows).toContain(`section.heights.A–B`);
    const other = changed(tray, ['plan.vertices.0.radius', '33']);
    expect(read(other).plan).toHaveProperty('vertices.0.radius', 33);
    expect(fieldValue(other, 'plan.vertices.0.radius')).toBe('33');
  });
});

test.each([
  'bench-corner-drip-tray',
  'bulb-forcing-dish',
  'cold-frame-corner-tray',
  'downpipe-sump',
  'rinsing-tray',
  'splash-back-tray',
  'watering-trough',
])('every field of %s put back as it stands leaves the same tray', (name) => {
  const tray = sample(name);
  const fields = [...JSON.stringify(formRows(tray, pageWords(english))).matchAll(/"name":"([^"]+)"/g)]
    .map(([, field]) => field!)
    .filter((field) => field !== 'plan.openEdges');
  expect(fields.length).toBeGreaterThan(6);
  for (const field of fields) {
    const value = fieldValue(tray, field);
    if (value === '' || value === 'none' || /kind$|\.on$/.test(field)) continue;
    expect(read(withField(tray, field, value)), field).toEqual(read(tray));
  }
});

describe('the way of gathering', () => {
  const field = 'forming.gathering';
  /** The field as the document of the service has it, with its option chosen. */
  const select = (tray: TrayObject): string => {
    const page = withTray(
      emptyPage(fileURLToPath(new URL('../../web', import.meta.url)), english),
      tray,
      english,
    );
    return /<select[^>]*name="forming\.gathering"[^>]*>.*?<\/select>/.exec(page)![0];
  };

  test('is that of the tray file, in tucks where that says nothing', () => {
    expect(fieldValue(demo, field)).toBe('tucks');
    const blows = postedTray(demo, [[field, 'blows']]);
    expect(read(blows).forming.gathering).toBe('blows');
    expect(fieldValue(blows, field)).toBe('blows');
    expect(read(postedTray(blows, [[field, 'tucks']])).forming.gathering).toBe('tucks');
    // Left as it stands, a tray file stays without it.
    expect(postedTray(demo, [[field, 'tucks']])).toEqual(changed(demo, ['cut.compensate', false]));
  });

  test('can be chosen from all there are, and that of the tray is chosen', () => {
    expect([...select(demo).matchAll(/value="(\w+)"/g)].map(([, value]) => value)).toEqual([...GATHERINGS]);
    expect(select(demo)).toContain('<option value="tucks" selected>');
    expect(select(changed(demo, [field, 'blows']))).toContain('<option value="blows" selected>');
  });

  test('that is none is told of, not guessed', () => {
    expect(() => read(changed(demo, [field, 'folds']))).toThrow(
      /forming\.gathering is "folds"; give "tucks" or "blows"/,
    );
  });
});
