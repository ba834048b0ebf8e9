/** Rows of CSV files. The rules of quoting: RFC 4180, section 2. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { csvRows } from '../../src/batch/csvRows.ts';
import { type BadRow, isTray, type TrayRow } from '../../src/batch/rows.ts';
import { inUnits } from '../../src/tray/writtenTray.ts';
import { refusal } from '../support/refusal.ts';
import { BASE } from './batches.ts';

const rows = (text: string, base: Record<string, unknown> = BASE) => csvRows(text, base, 'tray');
const trays = (text: string) => rows(text) as TrayRow[];

const sentence = (text: string): string => refusal(() => rows(text)).message;

describe('what is understood', () => {
  const expected = [
    { name: 'a', length: 300, width: 200.5 },
    { name: 'b', length: 320, width: 210 },
  ];
  const table: [string, string][] = [
    ['commas', 'name,plan.length,plan.width\na,300,200.5\nb,320,210\n'],
    ['semicolons and decimal commas', 'name;plan.length;plan.width\na;300;200,5\nb;320;210\n'],
    ['semicolons and decimal points', 'name;plan.length;plan.width\na;300;200.5\nb;320;210\n'],
    ['tabs and decimal commas', 'name\tplan.length\tplan.width\na\t300\t200,5\nb\t320\t210\n'],
    ['a byte order mark', '\uFEFFname,plan.length,plan.width\na,300,200.5\nb,320,210\n'],
    ['CRLF and no line end at the end', 'name,plan.length,plan.width\r\na,300,200.5\r\nb,320,210'],
    ['quotation marks', '"name","plan.length","plan.width"\n"a","300","200.5"\n"b",320,210\n'],
    ['blank lines', '\nname,plan.length,plan.width\n\na,300,200.5\n\n,,\nb,320,210\n\n'],
    ['comment lines', '# sizes\nname,plan.length,plan.width\n# small; ones\na,300,200.5\nb,320,210\n'],
    ['spaces around cells', 'name , plan.length, plan.width\n a , 300 , 200.5\nb,320,210\n'],
    ['another order of columns', 'plan.width,name,plan.length\n200.5,a,300\n210,b,320\n'],
    ['1e2 and signs', 'name,plan.length,plan.width\na,3e2,+200.5\nb,3.2E+2,210.0\n'],
  ];
  it.each(table)('%s', (_what, text) => {
    expect(
      trays(text).map(({ spec }) => {
        const plan = spec.plan as { length: number; width: number };
        return { name: spec.name, length: plan.length, width: plan.width };
      }),
    ).toEqual(expected);
  });

  it('an empty cell leaves what the base says', () => {
    const [one, two] = trays('name,plan.length,plan.width,sheet.thickness\na,300,200,\nb,300,200,2\n');
    expect([one!.spec.sheet.thickness, two!.spec.sheet.thickness]).toEqual([1.2, 2]);
  });

  it('lists by place, truth values, text that looks like a number, quantities', () => {
    const [row] = trays(
      'name,plan.length,plan.width,plan.cornerRadius.0,plan.cornerRadius.1,plan.cornerRadius.2,plan.cornerRadius.3,cut.compensate,quantity\n2024,300,200,40,41,42,43,TRUE,7\n',
    );
    expect(row!.spec.name).toBe('2024');
    expect(row!.spec.plan).toMatchObject({ cornerRadius: [40, 41, 42, 43] });
    expect(row!.spec.cut.compensate).toBe(true);
    expect(row!.quantity).toBe(7);
  });

  it('sizes with their unit, fractions and gauges, whatever the unit of the tray', () => {
    const header = 'plan.length,plan.width,section.height,sheet.thickness,section.draft';
    const line = '12 in,"8 1/2""",3 cm,18 ga,5°';
    const said = {
      plan: { length: 304.8, width: 215.9 },
      section: { height: 30, draft: 5 },
      sheet: { thickness: 1.21 },
    };
    const read = (text: string, base = BASE): unknown => {
      const { plan, section, sheet } = (rows(text, base) as TrayRow[])[0]!.spec;
      return {
        plan,
        section,
        sheet: { thickness: Math.round(sheet.thickness * 100) / 100 },
      };
    };
    expect(read(`${header}\n${line}\n`)).toMatchObject(said);
    const inInches = inUnits(BASE, 'in') as typeof BASE;
    expect(read(`${header}\n${line}\n`, inInches)).toMatchObject(said);
    expect(read('plan.length,plan.width\n12,8.5\n', inInches)).toMatchObject({ plan: said.plan });
    expect(read('plan.length;plan.width;section.height\n30,48 cm;200;1 1/4 in\n')).toMatchObject({
      plan: { length: 304.8 },
      section: { height: 31.75 },
    });
  });

  it('a comma in figures alone, which may part thousands, is not guessed at', () => {
    const [row] = rows('plan.length,plan.width\n"1,234",200\n') as BadRow[];
    expect(row!.error.message).toContain('plan.length is "1,234"');
  });

  it('rows without a name are called by their number', () => {
    expect(trays('plan.length,plan.width\n300,200\n310,200\n').map((row) => row.spec.name)).toEqual([
      'tray-1',
      'tray-2',
    ]);
  });

  it('the base is not changed', () => {
    const base = structuredClone(BASE);
    rows('name,plan.length,plan.width,plan.cornerRadius\na,300,200,30\n', base);
    expect(base).toEqual(BASE);
  });
});

describe('bad rows', () => {
  it('are told by line and column, and the others go on', () => {
    const text = [
      '# a comment takes a line', // 1
      'name,plan.length,plan.width,sheet.thickness', // 2
      'a,300,200,1', // 3
      '', // 4
      'b,3o0,200,1', // 5
      'c,300,2,1', // 6
      '"d",300,200,1', // 7
      'e,300,200,"1,5"', // 8
      'f,300,200,1,9', // 9
    ].join('\n');
    const found = rows(text);
    expect(found.map((row) => (isTray(row) ? row.spec.name : null))).toEqual([
      'a',
      null,
      null,
      'd',
      null,
      null,
    ]);
    const messages = found.filter((row) => !isTray(row)).map((row) => (row as BadRow).error.message);
    expect(messages[0]).toMatch(/^Line 5, column 2: plan\.length is "3o0"/);
    expect(messages[1]).toMatch(/^Line 6, column 3: plan\.width is 2;/);
    expect(messages[2]).toMatch(/^Line 8, column 4: sheet\.thickness is "1,5"/);
    expect(messages[3]).toMatch(/^Line 9, column 5: /);
  });

  it('count the lines inside a quoted cell', () => {
    const found = rows('name,plan.length,plan.width\n"a\nb",300,200\nc,x,200\n');
    expect((found[0] as BadRow).place).toBe('line 2');
    expect((found[1] as BadRow).error.message).toMatch(/^Line 4, column 2: /);
  });

  it('one fault for each bad cell', () => {
    const [row] = rows('name,plan.length,plan.width\na,x,y\n');
    expect((row as BadRow).error.faults).toHaveLength(2);
  });

  it('a fault of the base names the line only', () => {
    const [row] = rows('name,plan.length,plan.width\na,300,200\n', {
      ...BASE,
      section: { bottomRadius: 22 },
    });
    expect((row as BadRow).error.message).toMatch(/^Line 2: section\.height is missing/);
  });

  it.each(['0', '-1', '1.5', 'many', '10001'])('a quantity of %s', (quantity) => {
    const [row] = rows(`name,plan.length,plan.width,quantity\na,300,200,${quantity}\n`);
    expect((row as BadRow).error.message).toMatch(/^Line 2, column 4: quantity is /);
  });

  it('a cell cannot reach what is not a field', () => {
    expect(sentence('name,__proto__.polluted\na,1\n')).toMatch(
      /column 2: "__proto__\.polluted" is not a field/,
    );
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });
});

describe('files that cannot be used', () => {
  it.each([
    ['', 'empty'],
    ['\n\n', 'empty'],
    ['name,plan.length\n', 'no rows'],
    ['name,plan.lenght\na,1\n', 'did you mean "plan.length"?'],
    // Without the part of the tray that it is of, and misspelt besides.
    ['name,length\na,1\n', 'did you mean "plan.length"?'],
    ['name,Hight\na,1\n', 'did you mean "section.height"?'],
    ['name,weight of it\na,1\n', '"weight of it" is not a field of the tray file.'],
    ['name,plan.length,plan.length\na,1,1\n', 'also column 2'],
    ['name,,plan.length\na,1,1\n', 'column 2: the header has no name'],
    ['name,plan.length\n"a,300\n', 'quotation mark'],
    ['name,plan\na,1\n', '"plan" is not a field'],
  ])('%j', (text, says) => {
    expect(sentence(text)).toContain(says);
  });

  it.each([
    ['a header without separators', 'x'.repeat(1e6)],
    ['a cell in quotation marks', `name,"${'x'.repeat(1e6)}"`],
    ['a quotation mark within a long cell', `${'x'.repeat(1e6)}"y`],
    ['text behind a long cell in quotation marks', `"${'x'.repeat(1e6)}"y`],
    ['many wrong columns', 'x,'.repeat(1e5)],
  ])('quotes no more of it than a person reads: %s', (_, header) => {
    const error = refusal(() => rows(`${header}\na,1\n`));
    expect(error.faults.length).toBeLessThanOrEqual(20);
    for (const { path, message } of error.faults) {
      expect(path.length).toBeLessThanOrEqual(80);
      expect(message.length).toBeLessThan(150);
      expect(message).toMatch(
        /^(?:Line 1, column \d+: "x{1,40}(?:\.\.\.)?" is not a field|The CSV file cannot be read)/,
      );
    }
  });
});

it('the sample table is sound over its base tray', () => {
  const sample = (name: string): string =>
    readFileSync(new URL(`../../samples/${name}`, import.meta.url), 'utf8');
  const base = JSON.parse(sample('propagator-drip-tray.json'));
  const read = csvRows(sample('propagator-sizes.csv'), base, 'tray');
  expect(read.every(isTray)).toBe(true);
  expect(read.filter(isTray).map(({ spec, quantity }) => [spec.section.height, quantity])).toEqual([
    [30, 12],
    [30, 6],
    [37.5, 2],
    [30, 3],
  ]);
});
