/**
 * The blank as a DXF drawing for a cutting service: what is cut and nothing else, unless marks are asked for.
 *
 * ASCII DXF. Version AC1015 (2000) is the oldest that has the LWPOLYLINE and so the most widely read; AC1009 (R12)
 * is there for old controllers. Millimetres, scale 1:1, origin at the plan's origin, the inside of the tray facing
 * the reader. Every loop to be cut is one closed polyline of lines and true arcs on the layer CUT, and nothing else
 * in the file is closed; `layers.ts` lists the marks.
 */
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import { english, type Words } from '../../words/english.ts';
import { CONTRACT_VERSION, type Exporter, type ParameterValues } from '../contract.ts';
import { DXF_VERSIONS, type DxfVersion, MARKS, USUAL_MARKS } from './choices.ts';
import { earlierIn, marksOf } from './earlier.ts';

/** Part of the name of a drawing with marks. */
const DO_NOT_CUT = 'marks-do-not-cut';

export const dxfExporterIn = (words: Words): Exporter => {
  const said = words.exporters.dxf;
  return {
    contract: CONTRACT_VERSION,
    id: 'dxf',
    label: said.label,
    extension: 'dxf',
    mediaType: 'image/vnd.dxf',
    parameters: [
      {
        name: 'marks',
        type: 'list',
        default: '',
        usual: USUAL_MARKS.join(','),
        choices: MARKS,
        help: said.marks,
      },
      {
        name: 'version',
        type: 'choice',
        default: DXF_VERSIONS[0],
        choices: DXF_VERSIONS,
        help: said.version,
      },
    ],
    earlier: earlierIn(words),
    // Whoever is sent the file sees by its name that it is not the one to cut.
    extensionFor: ({ marks = '' }) => (marks === '' ? 'dxf' : `${DO_NOT_CUT}.dxf`),
    write: (pattern, values) => write(pattern, values, words),
  };
};

export const dxfExporter = dxfExporterIn(english);

/**
 * @param values complete, as `Registry.values` gives them
 * @throws GatherpanError BAD_INPUT when the pattern has a coordinate that is not a finite number
 */
async function write(pattern: FlatPattern, values: ParameterValues, words: Words): Promise<Uint8Array> {
  const [{ drawingText }, { filledLayers }] = await Promise.all([
    import('./drawing.ts'),
    import('./layers.ts'),
  ]);
  const layers = filledLayers(
    pattern,
    marksOf(values),
    words,
    values.text === 'outside' ? 'outside' : 'inside',
  );
  return new TextEncoder().encode(drawingText(layers, { version: values.version as DxfVersion | undefined }));
}
