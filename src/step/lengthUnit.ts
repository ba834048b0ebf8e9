/** The unit that an exchange file has its lengths in: whoever drew the part thinks in it. */
import type { Units } from '../tray/fields.ts';

/** One instance that is a unit of length: its number and its text. */
const LENGTH_UNIT = /#(\d+)\s*=([^;]*\bLENGTH_UNIT\b[^;]*);/g;
const ASSIGNED = /\bGLOBAL_UNIT_ASSIGNED_CONTEXT\s*\(\s*\(([^()]*)\)/g;
/** Units that are told by the inch (ISO 10303-41, conversion based units; their names by convention, from memory). */
const INCHES = /\bCONVERSION_BASED_UNIT\s*\(\s*'\s*(?:INCH|INCHES|IN|FOOT|FEET|FT)\s*'/i;

/** @param bytes a file that `checkExchangeFile` accepts; of one that mixes units it is mm */
export function lengthUnitOf(bytes: Uint8Array): Units {
  const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length).toString('latin1');
  const assigned = new Set([...text.matchAll(ASSIGNED)].flatMap(([, list]) => list!.match(/\d+/g) ?? []));
  const units = [...text.matchAll(LENGTH_UNIT)].filter(([, number]) => assigned.has(number!));
  return units.length > 0 && units.every(([, , unit]) => INCHES.test(unit!)) ? 'in' : 'mm';
}
