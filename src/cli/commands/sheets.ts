/** `gatherpan sheets`: the sheet materials a tray file may name, with their properties and sources. */
import type { SheetMaterial } from '../../material/sheet.ts';
import type { Dependencies } from '../dependencies.ts';

export interface SheetsOptions {
  readonly json?: boolean;
}

/** Properties in the order they are listed: key (as in `sources`), words, unit. */
const PROPERTIES = [
  ['K', 'strength K of flow stress = K (epsilon0 + strain)^n', 'N/mm²'],
  ['epsilon0', 'strain offset epsilon0', ''],
  ['n', 'hardening exponent n', ''],
  ['r0', 'Lankford coefficient along the grain', ''],
  ['r45', 'Lankford coefficient at 45 degrees', ''],
  ['r90', 'Lankford coefficient across the grain', ''],
  ['density', 'density', 'kg/dm³'],
  ['youngsModulus', "Young's modulus", 'N/mm²'],
  ['yieldStrength', 'yield strength', 'N/mm²'],
  ['tensileStrength', 'tensile strength', 'N/mm²'],
  ['uniformElongation', 'uniform elongation', '%'],
] as const satisfies readonly (readonly [keyof SheetMaterial, string, string])[];

/** Runs the command. @returns the exit code, 0 */
export async function sheets(options: SheetsOptions, dependencies: Dependencies): Promise<number> {
  const list = await dependencies.load.sheets();
  dependencies.out(options.json ? `${JSON.stringify(list, null, 2)}\n` : list.map(materialText).join('\n'));
  return 0;
}

function materialText(material: SheetMaterial): string {
  const { anneal, thicknessRange, sources } = material;
  const rows: { what: string; value: string; source: string | undefined }[] = PROPERTIES.map(
    ([key, what, unit]) => ({
      what,
      value: `${shortNumber(material[key])}${unit === '' ? '' : ` ${unit}`}`,
      source: sources[key],
    }),
  );
  rows.push({
    what: 'thickness usually sold',
    value: `${thicknessRange[0]} to ${thicknessRange[1]} mm`,
    source: sources.thicknessRange,
  });
  rows.push({
    what: 'anneal',
    value:
      anneal.temperature === null
        ? 'not in the workshop'
        : `${anneal.temperature[0]} to ${anneal.temperature[1]} °C`,
    source: sources.annealTemperature,
  });
  rows.push({
    what: 'strain between anneals',
    value: shortNumber(anneal.strainBudget),
    source: sources.strainBudget,
  });
  const width = Math.max(...rows.map((row) => row.what.length));
  return [
    `${material.name}  ${material.title} (${material.family})\n`,
    ...rows.map(({ what, value, source }) => `  ${what.padEnd(width)}  ${value}${bracketed(source)}\n`),
    ...(anneal.temperature === null ? [] : [`  cue: ${anneal.cue}${bracketed(sources.annealCue)}\n`]),
    ...(anneal.instead === undefined ? [] : [`  instead: ${anneal.instead}\n`]),
    ...anneal.cautions.map((caution) => `  caution: ${caution}\n`),
  ].join('');
}

const bracketed = (source: string | undefined): string => (source === undefined ? '' : `  [${source}]`);

/** Four figures at most, without zeros that say nothing. */
const shortNumber = (value: number): string => String(Number(value.toPrecision(4)));
