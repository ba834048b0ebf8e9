/**
 * Text of an exchange file: numbers, strings and instances.
 *
 * Source: ISO 10303-21 (exchange structure), clauses on the encoding of REAL, STRING and simple instances. A REAL
 * always has a decimal point, an apostrophe in a STRING is doubled, and characters outside the basic alphabet are
 * written as `\X2\…\X0\` in hexadecimal UTF-16 code units.
 */
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';

/** A number as a REAL with ten decimals at most: 1e-10 mm, or 1e-10 rad, and the same text on every machine. */
export function real(value: number): string {
  if (!Number.isFinite(value) || Math.abs(value) > 1e9) {
    throw new GatherpanError('BAD_INPUT', words().messages.exporters.stepCoordinate(String(value)));
  }
  const text = value.toFixed(10).replace(/0+$/, '');
  return text === '-0.' ? '0.' : text;
}

/** A STRING, quotes included. */
export function text(value: string): string {
  let out = '';
  let wide = '';
  const flush = (): void => {
    if (wide !== '') out += `\\X2\\${wide}\\X0\\`;
    wide = '';
  };
  for (let i = 0; i < value.length; i++) {
    const code = value.charCodeAt(i);
    if (code < 32 || code > 126) {
      wide += code.toString(16).toUpperCase().padStart(4, '0');
      continue;
    }
    flush();
    const letter = value.charAt(i);
    out += letter === "'" ? "''" : letter === '\\' ? '\\\\' : letter;
  }
  flush();
  return `'${out}'`;
}

/** A list of references or values. */
export const list = (items: readonly string[]): string => `(${items.join(',')})`;

/** Collects instances; each gets the next number. */
export class Instances {
  private readonly lines: string[] = [];

  /** Adds an instance such as `CARTESIAN_POINT('',(0.,0.,0.))`. @returns its reference, for example `#12` */
  add(instance: string): string {
    return `#${this.lines.push(instance)}`;
  }

  /** The DATA section's lines. */
  toString(): string {
    return this.lines.map((line, i) => `#${i + 1}=${line};\n`).join('');
  }
}
