/** `gatherpan sheets`: the sheet materials a tray file may name, with their properties and sources. */
import { cautionList } from '../../material/cautions.ts';
import type { SheetMaterial } from '../../material/sheet.ts';
import { sheetDocument, titleOf } from '../../material/sheets.ts';
import { words } from '../../words/language.ts';
import { sentences, written } from '../../words/statement.ts';
import type { Dependencies } from '../dependencies.ts';

export interface SheetsOptions {
  readonly json?: boolean;
}

/** Properties in the order they are listed: key (as in `sources` and in the table of words), unit. */
const PROPERTIES = [
  ['K', 'N/mm²'],
  ['epsilon0', ''],
  ['n', ''],
  ['r0', ''],
  ['r45', ''],
  ['r90', ''],
  ['density', 'kg/dm³'],
  ['youngsModulus', 'N/mm²'],
  ['yieldStrength', 'N/mm²'],
  ['tensileStrength', 'N/mm²'],
  ['uniformElongation', '%'],
] as const satisfies readonly (readonly [keyof SheetMaterial, string])[];

/** Runs the command. @returns the exit code, 0 */
export async function sheets(options: SheetsOptions, dependencies: Dependencies): Promise<number> {
  const list = await dependencies.load.sheets();
  dependencies.out(
    options.json
      ? `${JSON.stringify(
          list.map((material) => sheetDocument(material, words())),
          null,
          2,
        )}\n`
      : list.map(materialText).join('\n'),
  );
  return 0;
}

function materialText(material: SheetMaterial): string {
  const { anneal, thicknessRange, sources, strengths } = material;
  const said = words().command.output.sheets;
  const { families, coatings } = words().material;
  const rows: { what: string; value: string; source: string | undefined }[] = PROPERTIES.map(
    ([key, unit]) => ({
      what: said[key],
      value: `${shortNumber(material[key])}${unit === '' ? '' : ` ${unit}`}`,
      source: sources[key],
    }),
  );
  if (strengths !== undefined) {
    const { at45, at90, biaxial } = strengths;
    const last = biaxial === undefined ? said.hosford : shortNumber(biaxial);
    rows.push({
      what: said.strengths,
      value: said.strengthsOver(shortNumber(at45), shortNumber(at90), last),
      source: sources.strengths,
    });
  }
  rows.push({
    what: said.thicknessRange,
    value: said.thicknesses(String(thicknessRange[0]), String(thicknessRange[1])),
    source: sources.thicknessRange,
  });
  rows.push({
    what: said.anneal,
    value:
      anneal.temperature === null
        ? said.noAnneal
        : said.temperatures(String(anneal.temperature[0]), String(anneal.temperature[1])),
    source: sources.annealTemperature,
  });
  rows.push({
    what: said.strainBudget,
    value: shortNumber(anneal.strainBudget),
    source: sources.strainBudget,
  });
  const width = Math.max(...rows.map((row) => row.what.length));
  return [
    `${material.name}  ${titleOf(material, words())} (${said.metal(families[material.family], coatings[material.coating])})\n`,
    ...rows.map(({ what, value, source }) => `  ${what.padEnd(width)}  ${value}${bracketed(source)}\n`),
    ...(anneal.temperature === null
      ? []
      : [`  ${said.cue(written(anneal.cue, words()))}${bracketed(sources.annealCue)}\n`]),
    ...(anneal.instead === undefined ? [] : [`  ${said.instead(written(anneal.instead, words()))}\n`]),
    ...sentences(cautionList(['anneal'], material), words()).map((caution) => `  ${said.caution(caution)}\n`),
  ].join('');
}

const bracketed = (source: string | undefined): string => (source === undefined ? '' : `  [${source}]`);

/** Four figures at most, without zeros that say nothing. */
const shortNumber = (value: number): string => String(Number(value.toPrecision(4)));
