/** The unit of an exchange file is that of its geometry, whatever other units it names. */
import { expect, it } from 'vitest';
import { writeFormedSolid } from '../../src/step/formedSolid.ts';
import { lengthUnitOf } from '../../src/step/lengthUnit.ts';
import { inInches, inMetres } from './foreignFiles.ts';
import { tray } from './trays.ts';

const plain = writeFormedSolid(tray('draft: cones'), 'tray', 'AP214');
const changed = (file: Uint8Array, from: string, to: string): Uint8Array => {
  const text = new TextDecoder().decode(file);
  expect(text).toContain(from);
  return new TextEncoder().encode(text.replace(from, to));
};

it.each<[string, Uint8Array, string]>([
  ['millimetres', plain, 'mm'],
  ['metres', inMetres(plain), 'mm'],
  ['inches, beside the millimetres that they are counted in', inInches(plain), 'in'],
  ['feet', changed(inInches(plain), "'INCH'", "'FOOT'"), 'in'],
  [
    'millimetres, beside an inch that no geometry has',
    changed(
      plain,
      'ENDSEC;\nEND-ISO',
      "#90001=(CONVERSION_BASED_UNIT('INCH',#1)LENGTH_UNIT()NAMED_UNIT(#2));\nENDSEC;\nEND-ISO",
    ),
    'mm',
  ],
  [
    'both, in one geometry each',
    changed(
      inInches(plain),
      'ENDSEC;\nEND-ISO',
      "#90004=(GLOBAL_UNIT_ASSIGNED_CONTEXT((#90003))REPRESENTATION_CONTEXT('','3D'));\nENDSEC;\nEND-ISO",
    ),
    'mm',
  ],
])('%s', (_, file, unit) => {
  expect(lengthUnitOf(file)).toBe(unit);
});
