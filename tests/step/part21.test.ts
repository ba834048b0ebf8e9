/** The text of an exchange file, against the syntax of ISO 10303-21. */
import { describe, expect, it } from 'vitest';
import { stepExporter } from '../../src/exporters/step/stepExporter.ts';
import { writeFormedSolid } from '../../src/step/formedSolid.ts';
import { real, text } from '../../src/step/part21.ts';
import { concavePattern, samplePattern } from '../exporters/samplePattern.ts';
import { TRAY_NAMES, tray, VARIED_NAMES } from './trays.ts';

/** ISO 10303-21, 6.4.2: REAL = [SIGN] DIGIT {DIGIT} "." {DIGIT} ["E" [SIGN] DIGIT {DIGIT}]. */
const REAL = /^[+-]?\d+\.\d*(E[+-]?\d+)?$/;

describe('a REAL', () => {
  it('has a decimal point and reads back to 1e-10', () => {
    for (const value of [0, -0, 1, -1, 0.1, 1 / 3, -2e-11, 123456.789, 1e8, Math.PI]) {
      expect(real(value)).toMatch(REAL);
      expect(Math.abs(Number(real(value)) - value)).toBeLessThanOrEqual(1e-10);
    }
    expect(real(-0)).toBe('0.');
  });

  it('is never NaN or endless', () => {
    for (const value of [Number.NaN, Infinity, 1e300]) expect(() => real(value)).toThrow(/finite/);
  });
});

it('a STRING doubles apostrophes and writes other letters as UTF-16', () => {
  // ISO 10303-21, 6.4.3.3: \X2\ four hexadecimal digits each \X0\.
  expect(text("bench's \\ tray")).toBe("'bench''s \\\\ tray'");
  expect(text('Süd')).toBe("'S\\X2\\00FC\\X0\\d'");
  expect(text('a\nb')).toBe("'a\\X2\\000A\\X0\\b'");
});

/** Reads the exchange structure by the grammar; throws at the first thing that does not fit. */
function parse(file: string): Map<number, { keywords: string[]; references: number[] }> {
  const structure =
    /^ISO-10303-21;\nHEADER;\n([\s\S]*?)ENDSEC;\nDATA;\n([\s\S]*)ENDSEC;\nEND-ISO-10303-21;\n$/.exec(file);
  if (structure === null) throw new Error('exchange structure');
  // Clause 8.2: these three, in this order.
  expect(structure[1]!.match(/FILE_\w+/g)).toEqual(['FILE_DESCRIPTION', 'FILE_NAME', 'FILE_SCHEMA']);
  const instances = new Map<number, { keywords: string[]; references: number[] }>();
  for (const line of structure[2]!.trimEnd().split('\n')) {
    const match = /^#(\d+)=(.*);$/.exec(line);
    if (match === null) throw new Error(`instance: ${line}`);
    const tokens = match[2]!.match(
      /'(?:[^']|'')*'|#\d+|\.[A-Z_]+\.|[+-]?\d+\.\d*(?:E[+-]?\d+)?|[+-]?\d+|[A-Z][A-Z0-9_]*|[(),$*]/g,
    )!;
    if (tokens.join('') !== match[2]) throw new Error(`tokens: ${line}`);
    let depth = 0;
    for (const token of tokens) {
      if (token === '(') depth++;
      if (token === ')' && --depth < 0) throw new Error(`brackets: ${line}`);
    }
    if (depth !== 0) throw new Error(`brackets: ${line}`);
    const number = Number(match[1]);
    if (instances.has(number)) throw new Error(`#${number} twice`);
    instances.set(number, {
      keywords: tokens.filter((token) => /^[A-Z]/.test(token)),
      references: tokens.filter((token) => token.startsWith('#')).map((token) => Number(token.slice(1))),
    });
  }
  return instances;
}

describe('the files', () => {
  const files = async (): Promise<string[]> => {
    const decode = (bytes: Uint8Array): string => new TextDecoder('ascii', { fatal: true }).decode(bytes);
    const out: string[] = [];
    for (const protocol of ['AP214', 'AP242']) {
      for (const scribeLines of [false, true]) {
        out.push(decode(await stepExporter.write(samplePattern(), { protocol, scribeLines })));
        out.push(decode(await stepExporter.write(concavePattern(), { protocol, scribeLines })));
      }
    }
    out.push(decode(writeFormedSolid(tray('draft: cones'), "potter's tray", 'AP214', 'Thick, thin.')));
    for (const name of [...TRAY_NAMES, ...VARIED_NAMES])
      out.push(decode(writeFormedSolid(tray(name), 'tray', 'AP242')));
    return out;
  };

  it('keep the grammar, refer only to what is there, and leave nothing unused but the top', async () => {
    for (const file of await files()) {
      const instances = parse(file);
      const used = new Set([...instances.values()].flatMap(({ references }) => references));
      for (const number of used) expect(instances.has(number)).toBe(true);
      const top = [...instances]
        .filter(([number]) => !used.has(number))
        .map(([, { keywords }]) => keywords[0]);
      expect(new Set(top)).toEqual(
        new Set([
          'APPLICATION_PROTOCOL_DEFINITION',
          'PRODUCT_RELATED_PRODUCT_CATEGORY',
          'SHAPE_DEFINITION_REPRESENTATION',
          ...(file.includes('GEOMETRIC_CURVE_SET') ? ['SHAPE_REPRESENTATION_RELATIONSHIP'] : []),
        ]),
      );
    }
  });

  it('use every edge twice, once each way', async () => {
    for (const file of await files()) {
      const uses = [...file.matchAll(/ORIENTED_EDGE\('',\*,\*,(#\d+),(\.[TF]\.)\)/g)];
      const senses = new Map<string, string[]>();
      for (const [, edge, sense] of uses) senses.set(edge!, [...(senses.get(edge!) ?? []), sense!]);
      for (const both of senses.values()) expect(both.sort()).toEqual(['.F.', '.T.']);
    }
  });

  it('name the product and millimetres', async () => {
    const [sample] = await files();
    expect(sample).toContain("PRODUCT('potting-bench-drip-tray','potting-bench-drip-tray'");
    expect(sample).toContain('SI_UNIT(.MILLI.,.METRE.)');
  });
});
