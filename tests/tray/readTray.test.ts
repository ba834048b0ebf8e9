import { describe, expect, test } from 'vitest';
import { readTray } from '../../src/tray/readTray.ts';
import { refusal } from '../support/refusal.ts';
import { changed, customMaterial, goodFile, onlyFault } from './trayFiles.ts';

describe('a sound tray file', () => {
  test('is completed with the defaults', () => {
    expect(readTray(goodFile())).toEqual({
      name: 'bench-drip-tray',
      measured: 'outside',
      plan: { length: 420, width: 280, cornerRadius: 45 },
      section: { bottomRadius: 22, height: 60, draft: 0, rim: { kind: 'plain' } },
      sheet: { material: 'DC04', thickness: 1.2, grain: 0 },
      forming: { trim: 4 },
      cut: { process: 'laser', kerf: 0.2, compensate: false },
    });
  });

  test('keeps everything that is given', () => {
    const file = changed({
      $schema: './tray.schema.json',
      units: 'mm',
      measured: 'inside',
      'plan.cornerRadius': [45, 30, 60, 22],
      'section.draft': 12.5,
      'section.rim': { kind: 'plain' },
      'sheet.material': { ...customMaterial, strainBudget: 0.3, annealTemperature: [600, 700] },
      'sheet.grain': -90,
      'forming.trim': 0,
      cut: { process: 'water jet', kerf: 1, compensate: true },
    });
    expect(readTray(file)).toEqual({
      name: 'bench-drip-tray',
      measured: 'inside',
      plan: { length: 420, width: 280, cornerRadius: [45, 30, 60, 22] },
      section: { bottomRadius: 22, height: 60, draft: 12.5, rim: { kind: 'plain' } },
      sheet: {
        material: { ...customMaterial, strainBudget: 0.3, annealTemperature: [600, 700] },
        thickness: 1.2,
        grain: -90,
      },
      forming: { trim: 0 },
      cut: { process: 'water jet', kerf: 1, compensate: true },
    });
  });

  test('does not change the value it is given', () => {
    const file = goodFile();
    readTray(file);
    expect(file).toEqual(goodFile());
  });

  test('takes its name from the caller only when it has none', () => {
    expect(readTray(changed({ name: undefined }), { name: 'from-file' }).name).toBe('from-file');
    expect(readTray(goodFile(), { name: 'from-file' }).name).toBe('bench-drip-tray');
  });

  test('leaves optional properties of a material out when they are not given', () => {
    const { material } = readTray(changed({ 'sheet.material': customMaterial })).sheet;
    expect(Object.keys(material)).toEqual(Object.keys(customMaterial));
  });
});

describe('inches', () => {
  // An inch is 25.4 mm exactly (international yard and pound agreement, 1959).
  const inMillimetres = changed({
    'plan.length': 406.4,
    'plan.width': 254,
    'plan.cornerRadius': [50.8, 25.4, 38.1, 63.5],
    'section.bottomRadius': 19.05,
    'section.height': 50.8,
    'sheet.thickness': 1.27,
    'forming.trim': 3.175,
    'cut.kerf': 0.254,
  });
  const inInches = changed({
    units: 'in',
    'plan.length': 16,
    'plan.width': 10,
    'plan.cornerRadius': [2, 1, 1.5, 2.5],
    'section.bottomRadius': 0.75,
    'section.height': 2,
    'sheet.thickness': 0.05,
    'forming.trim': 0.125,
    'cut.kerf': 0.01,
  });

  test('give the same tray as millimetres', () => {
    const { shownIn, ...read } = readTray(inInches);
    expect(shownIn).toBe('in');
    expect(close(read, readTray(inMillimetres))).toBe(true);
    // and the comparison can fail
    expect(close(read, readTray(changed({ 'section.height': 50.8001 }, inMillimetres as object)))).toBe(
      false,
    );
  });

  test('are what is shown unless the file says otherwise, and a complete tray reads as itself', () => {
    const shown = (file: unknown) => readTray(file).shownIn;
    expect(shown(changed({ shownIn: 'mm' }, inInches as object))).toBeUndefined();
    expect(shown(changed({ shownIn: 'in' }, inMillimetres as object))).toBe('in');
    expect(shown(inMillimetres)).toBeUndefined();
    expect(() => readTray(changed({ shownIn: 'ft' }, inInches as object))).toThrow(/shownIn|"ft"/);
    const spec = readTray(inInches);
    expect(readTray(spec)).toEqual(spec);
  });

  test('convert the vertices of a polygon', () => {
    const vertices = [
      { x: 0, y: 0, radius: 2 },
      { x: 12, y: 0, radius: 1 },
      { x: 6, y: 10, radius: 1.5 },
    ];
    const spec = readTray(changed({ ...(inInches as object), plan: { vertices } }, {}));
    // Decimal mm, without what binary fractions leave behind.
    expect(spec.plan).toEqual({
      vertices: [
        { x: 0, y: 0, radius: 50.8 },
        { x: 304.8, y: 0, radius: 25.4 },
        { x: 152.4, y: 254, radius: 38.1 },
      ],
    });
  });

  test('leave trim and kerf at their metric defaults', () => {
    const spec = readTray(changed({ forming: undefined, cut: undefined }, inInches as object));
    expect([spec.forming.trim, spec.cut.kerf]).toEqual([4, 0.2]);
  });

  test('are named in the sentences, with limits in inches', () => {
    expect(onlyFault(changed({ 'plan.length': 420 }, inInches as object)).message).toBe(
      'plan.length is 420; give a number from 0.3938 to 196.8 in.',
    );
    expect(onlyFault(changed({ 'section.height': 0.5 }, inInches as object)).message).toContain('0.75 in');
  });

  /** Same shape, and numbers equal to 1e-9. */
  function close(a: unknown, b: unknown): boolean {
    if (typeof a === 'number' && typeof b === 'number') return Math.abs(a - b) <= 1e-9;
    if (typeof a !== 'object' || a === null) return a === b;
    const keys = Object.keys(a);
    return (
      keys.length === Object.keys(b as object).length &&
      keys.every((key) => close((a as Record<string, unknown>)[key], (b as Record<string, unknown>)[key]))
    );
  }
});

describe('a bad value gets one sentence with field, value and what is accepted', () => {
  const cases: readonly [field: string, value: unknown, message: string][] = [
    // missing
    [
      'plan',
      undefined,
      'plan is missing; give an object with length, width and cornerRadius, with vertices, or with dxf.',
    ],
    ['plan.width', undefined, 'plan.width is missing; give a number from 10 to 5000 mm.'],
    [
      'plan.cornerRadius',
      undefined,
      'plan.cornerRadius is missing; give one radius, a list of four, or an object with A, B, C and D.',
    ],
    ['section', undefined, 'section is missing; give an object with bottomRadius and height.'],
    ['section.height', undefined, 'section.height is missing; give a number from 1 to 2000 mm.'],
    ['sheet', undefined, 'sheet is missing; give an object with material and thickness.'],
    [
      'sheet.material',
      undefined,
      'sheet.material is missing; give the name of a material, or an object with its properties.',
    ],
    [
      'sheet.thickness',
      undefined,
      'sheet.thickness is missing; give a number in mm, or an object with gauge and system.',
    ],
    // the wrong kind
    [
      'plan.length',
      '420',
      'plan.length is "420"; give a number from 10 to 5000 mm, without quotation marks.',
    ],
    [
      'plan.length',
      '42,5',
      'plan.length is "42,5"; give a number from 10 to 5000 mm, with a decimal point and without quotation marks.',
    ],
    ['plan.length', 'long', 'plan.length is "long"; give a number from 10 to 5000 mm.'],
    ['plan.length', null, 'plan.length is null; give a number from 10 to 5000 mm.'],
    ['plan.length', true, 'plan.length is true; give a number from 10 to 5000 mm.'],
    ['plan.length', [420], 'plan.length is a list of 1; give a number from 10 to 5000 mm.'],
    [
      'plan',
      'square',
      'plan is "square"; give an object with length, width and cornerRadius, with vertices, or with dxf.',
    ],
    ['section', [], 'section is a list of 0; give an object with bottomRadius and height.'],
    ['cut.compensate', 'no', 'cut.compensate is "no"; give true or false.'],
    [
      'sheet.material',
      4,
      'sheet.material is 4; give the name of a material, or an object with its properties.',
    ],
    [
      'sheet.material',
      '',
      'sheet.material is ""; give the name of a material, or an object with its properties.',
    ],
    // what would end up in a drawing as something else
    [
      'sheet.material',
      'DC04\n0\nSECTION',
      'sheet.material is "DC04\\n0\\nSECTION"; give the name of a material, or an object with its properties, in characters that show.',
    ],
    [
      'sheet.material',
      '  ',
      'sheet.material is "  "; give the name of a material, or an object with its properties, in characters that show.',
    ],
    // numbers out of range
    ['plan.length', Number.NaN, 'plan.length is NaN; give a number from 10 to 5000 mm.'],
    ['plan.length', Number.POSITIVE_INFINITY, 'plan.length is Infinity; give a number from 10 to 5000 mm.'],
    ['plan.length', -420, 'plan.length is -420; give a number from 10 to 5000 mm.'],
    ['plan.length', 0, 'plan.length is 0; give a number from 10 to 5000 mm.'],
    ['plan.length', 9.99, 'plan.length is 9.99; give a number from 10 to 5000 mm.'],
    ['plan.length', 1e308, 'plan.length is 1e+308; give a number from 10 to 5000 mm.'],
    ['plan.width', 5000.1, 'plan.width is 5000.1; give a number from 10 to 5000 mm.'],
    ['plan.cornerRadius', 0, 'plan.cornerRadius is 0; give a number from 0.5 to 2500 mm.'],
    ['section.bottomRadius', -22, 'section.bottomRadius is -22; give a number from 0.5 to 2500 mm.'],
    ['section.height', 1e308, 'section.height is 1e+308; give a number from 1 to 2000 mm.'],
    ['section.draft', 31, 'section.draft is 31; give a number from 0 to 30 degrees.'],
    ['section.draft', -1, 'section.draft is -1; give a number from 0 to 30 degrees.'],
    ['sheet.thickness', 0, 'sheet.thickness is 0; give a number from 0.2 to 10 mm.'],
    ['sheet.thickness', 10.5, 'sheet.thickness is 10.5; give a number from 0.2 to 10 mm.'],
    ['sheet.grain', 400, 'sheet.grain is 400; give a number from -360 to 360 degrees.'],
    ['forming.trim', -4, 'forming.trim is -4; give a number from 0 to 100 mm.'],
    ['cut.kerf', 20, 'cut.kerf is 20; give a number from 0 to 10 mm.'],
    // choices
    ['units', 'cm', 'units is "cm"; give "mm" or "in".'],
    ['measured', 'middle', 'measured is "middle"; give "outside" or "inside".'],
    ['section.rim.kind', 'rolled', 'section.rim.kind is "rolled"; give "plain" or "lip".'],
    ['cut.process', 'waterjet', 'cut.process is "waterjet"; give "laser", "plasma", "water jet" or "hand".'],
    // lists
    ['plan.cornerRadius', [45, 45, 45], 'plan.cornerRadius is a list of 3; give a list of four radii.'],
    [
      'plan.cornerRadius',
      'round',
      'plan.cornerRadius is "round"; give one radius, a list of four, or an object with A, B, C and D.',
    ],
    ['plan.cornerRadius', [], 'plan.cornerRadius is a list of 0; give a list of four radii.'],
    // unknown fields
    [
      'plan.depth',
      30,
      'plan.depth is not known; the fields known here are length, width, cornerRadius, openEdges, vertices, dxf, layer, loop, units.',
    ],
    ['Measured', 'inside', 'Measured is not known; the nearest known field is measured.'],
    ['thickness', 1, 'thickness is not known here; the known field of that name is sheet.thickness.'],
    ['plan.vertices', [], 'plan.vertices does not go together with length, width; give one or the other.'],
    [
      'section.rim',
      { kind: 'plain', width: 10 },
      'section.rim.width does not go together with section.rim.kind "plain"; leave it out.',
    ],
    // gauges
    [
      'sheet.thickness',
      { gauge: 18 },
      'sheet.thickness.system is missing; give "Manufacturers Standard", "Galvanized Sheet", "US Standard", "Brown and Sharpe", "SWG" or "BG".',
    ],
    [
      'sheet.thickness',
      { gauge: 18.5, system: 'SWG' },
      'sheet.thickness.gauge is 18.5; give a whole gauge number from 0 to 36.',
    ],
    [
      'sheet.thickness',
      { gauge: 36, system: 'SWG' },
      'sheet.thickness.gauge is 36; give a whole number from 0 to 35 for the system "SWG".',
    ],
    [
      'sheet.thickness',
      '1.2',
      'sheet.thickness is "1.2"; give a number in mm, or an object with gauge and system, without quotation marks.',
    ],
  ];

  test.each(cases)('%s = %j', (field, value, message) => {
    expect(onlyFault(changed({ [field]: value })).message).toBe(message);
  });

  test.each(cases)('%s = %j: the path leads to the field', (field, value) => {
    const { path } = onlyFault(changed({ [field]: value }));
    expect(path === field || path.startsWith(`${field}.`)).toBe(true);
  });

  test.each([
    ['a list of four', { 'plan.cornerRadius': [45, 45, 45, '45'] }, 'plan.cornerRadius.3'],
    [
      'vertices',
      {
        plan: {
          vertices: [
            { x: 0, y: 0, radius: 30 },
            { x: 9, radius: 30 },
            { x: 0, y: 9, radius: 30 },
          ],
        },
      },
      'plan.vertices.1.y',
    ],
    [
      'two vertices',
      {
        plan: {
          vertices: [
            { x: 0, y: 0, radius: 30 },
            { x: 9, y: 0, radius: 30 },
          ],
        },
      },
      'plan.vertices',
    ],
    ['a material', { 'sheet.material': { ...customMaterial, n: 0 } }, 'sheet.material.n'],
    [
      'a range of temperatures',
      { 'sheet.material': { ...customMaterial, annealTemperature: [600] } },
      'sheet.material.annealTemperature',
    ],
    [
      'temperatures the wrong way round',
      { 'sheet.material': { ...customMaterial, annealTemperature: [700, 600] } },
      'sheet.material.annealTemperature',
    ],
    [
      'strengths without one',
      { 'sheet.material': { ...customMaterial, family: 'steel', strengths: { at45: 1 } } },
      'sheet.material.strengths.at90',
    ],
    [
      'a strength in N/mm²',
      { 'sheet.material': { ...customMaterial, family: 'steel', strengths: { at45: 170, at90: 1 } } },
      'sheet.material.strengths.at45',
    ],
    [
      'strengths of a metal that may be either',
      { 'sheet.material': { ...customMaterial, family: 'stainless steel', strengths: { at45: 1, at90: 1 } } },
      'sheet.material.strengths.crystal',
    ],
    [
      'strengths of a hexagonal metal',
      { 'sheet.material': { ...customMaterial, family: 'titanium', strengths: { at45: 1, at90: 1 } } },
      'sheet.material.strengths',
    ],
    [
      'strengths that no law has',
      { 'sheet.material': { ...customMaterial, family: 'steel', strengths: { at45: 0.5, at90: 2 } } },
      'sheet.material.strengths',
    ],
    [
      'strengths the wrong way round',
      { 'sheet.material': { ...customMaterial, tensileStrength: 100 } },
      'sheet.material.tensileStrength',
    ],
  ])('inside %s', (_, changes, path) => {
    expect(onlyFault(changed(changes)).path).toBe(path);
  });

  test('strengths that no law has are told with the nearest that one has', () => {
    const strengths = { at45: 0.5, at90: 2, biaxial: 1.1 };
    const { message } = onlyFault(
      changed({ 'sheet.material': { ...customMaterial, family: 'aluminium', strengths } }),
    );
    expect(message).toMatch(
      /no convex law gives back strengths of 1\.000, 0\.500, 2\.000, 1\.100 with r of 1\.50, 1\.20, 1\.80, 0\.83/,
    );
    expect(message).toMatch(
      /as near as one comes from an even sheet it has [\d., ]+ with r of [\d., ]+; check these figures/,
    );
  });

  test('a misspelt field gives one sentence, not a second for the field it stands for', () => {
    const fault = onlyFault(changed({ 'plan.length': undefined, 'plan.lenght': 420 }));
    expect(fault.message).toBe('plan.lenght is not known; the nearest known field is plan.length.');
    expect(onlyFault(changed({ plan: { vertecies: [] } })).message).toContain('plan.vertices');
  });

  test.each([[''], [' '], ['x'.repeat(81)], ['a\nb'], ['a\0b']])('a name that cannot be read: %j', (name) => {
    const { path, message } = onlyFault(changed({ name }));
    expect(path).toBe('name');
    expect(message).toContain('a name of up to 80 characters on one line');
  });

  test.each([
    ['a'],
    ['A-1_b.c'],
    ['x'.repeat(80)],
    ['0.5mm'],
    ['Große Schale für Anna'],
    ['苗床 2'],
    ['../up'],
    ['con'],
    ['"left" tray, 2nd try'],
  ])('any other name, as it is: %j', (name) => {
    expect(readTray(changed({ name })).name).toBe(name);
  });

  test('no name anywhere', () => {
    expect(onlyFault(changed({ name: undefined })).message).toMatch(
      /^name is missing; give a name of up to 80 characters/,
    );
  });

  test.each([[null], [undefined], [5], ['tray'], [[]], [() => 1], [Symbol('x')], [10n]])(
    'instead of an object: %s',
    (value) => {
      expect(onlyFault(value).message).toMatch(
        /^The tray file is .+; give an object with name, plan, section and sheet\.$/,
      );
    },
  );

  test('several bad values give one sentence each', () => {
    const error = refusal(() =>
      readTray(changed({ 'plan.length': 'x', 'section.height': -1, color: 'red' })),
    );
    expect(error.faults.map((fault) => fault.path)).toEqual(['plan.length', 'section.height', 'color']);
    expect(error.path).toBe('plan.length');
  });

  test('a flood of unknown fields is cut off', () => {
    const many = Object.fromEntries(Array.from({ length: 5000 }, (_, i) => [`field${i}`, i]));
    const error = refusal(() => readTray({ ...goodFile(), ...many }));
    expect(error.faults.length).toBeLessThanOrEqual(20);
  });

  test('characters that do not show are escaped', () => {
    const message = refusal(() => readTray(changed({ name: 'a\u001b[2J\u202e\u009b' }))).message;
    for (const hidden of ['\u001b', '\u202e', '\u009b']) expect(message).not.toContain(hidden);
    const key = refusal(() => readTray({ ...goodFile(), '\u001b[2J': 1 })).message;
    expect(key).not.toContain('\u001b');
  });
});
