/**
 * The blank as a DXF drawing for a cutting service.
 *
 * ASCII DXF of version AC1015 (2000), the oldest that has the LWPOLYLINE and so the most widely read.
 * Millimetres, scale 1:1, origin at the plan's origin, the inside of the tray facing the reader. Every loop to
 * be cut is one closed polyline of lines and true arcs on the layer CUT; `layers.ts` lists the others.
 */
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import { english, type Words } from '../../words/english.ts';
import type { Exporter, ParameterValues } from '../contract.ts';
import { drawingText } from './drawing.ts';
import { label } from './label.ts';
import { layersIn } from './layers.ts';

export const dxfExporterIn = (words: Words): Exporter => {
  const said = words.exporters.dxf;
  return {
    id: 'dxf',
    label: said.label,
    extension: 'dxf',
    mediaType: 'image/vnd.dxf',
    parameters: [
      {
        name: 'text',
        type: 'choice',
        default: 'inside',
        choices: ['inside', 'outside', 'none'],
        help: said.text,
      },
      {
        name: 'cutOnly',
        type: 'boolean',
        default: false,
        help: said.cutOnly,
      },
      {
        name: 'contours',
        type: 'boolean',
        default: false,
        help: said.contours,
      },
      {
        name: 'tucks',
        type: 'boolean',
        default: false,
        help: said.tucks,
      },
    ],
    write: (pattern, values) => write(pattern, values, words),
  };
};

export const dxfExporter = dxfExporterIn(english);

/**
 * @param values complete, as `Registry.values` gives them
 * @throws GatherpanError BAD_INPUT when the pattern has a coordinate that is not a finite number
 */
async function write(pattern: FlatPattern, values: ParameterValues, words: Words): Promise<Uint8Array> {
  const layers = layersIn(words).filter(
    ({ cut, option }) =>
      cut || (values.cutOnly === false && (option === undefined || values[option] === true)),
  );
  const drawn = {
    pattern,
    values,
    label: label(pattern, values.text as 'inside' | 'outside' | 'none', words),
  };
  return new TextEncoder().encode(drawingText(layers.map((layer) => ({ layer, shapes: layer.fill(drawn) }))));
}
