/**
 * The blank as a DXF drawing for a cutting service.
 *
 * ASCII DXF of version AC1015 (2000), the oldest that has the LWPOLYLINE and so the most widely read.
 * Millimetres, scale 1:1, origin at the plan's origin, the inside of the tray facing the reader. Every loop to
 * be cut is one closed polyline of lines and true arcs on the layer CUT; `layers.ts` lists the others.
 */
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import type { Exporter, ParameterValues } from '../contract.ts';
import { drawingText } from './drawing.ts';
import { label } from './label.ts';
import { LAYERS } from './layers.ts';

export const dxfExporter: Exporter = {
  id: 'dxf',
  label: 'DXF drawing for laser, plasma or water-jet cutting',
  extension: 'dxf',
  mediaType: 'image/vnd.dxf',
  parameters: [
    {
      name: 'text',
      type: 'choice',
      default: 'inside',
      choices: ['inside', 'outside', 'none'],
      help: 'where the name, the sheet and the size of the blank are written',
    },
    {
      name: 'cutOnly',
      type: 'boolean',
      default: false,
      help: 'only what is cut: no scribe lines, no arrow, no text',
    },
    {
      name: 'contours',
      type: 'boolean',
      default: false,
      help: 'lines of equal gather, on a layer of their own',
    },
    {
      name: 'tucks',
      type: 'boolean',
      default: false,
      help: 'marks where the tucks are set, on a layer of their own',
    },
  ],
  write,
};

/**
 * @param values complete, as `Registry.values` gives them
 * @throws GatherpanError BAD_INPUT when the pattern has a coordinate that is not a finite number
 */
async function write(pattern: FlatPattern, values: ParameterValues): Promise<Uint8Array> {
  const layers = LAYERS.filter(
    ({ cut, option }) =>
      cut || (values.cutOnly === false && (option === undefined || values[option] === true)),
  );
  const drawn = { pattern, values, label: label(pattern, values.text as 'inside' | 'outside' | 'none') };
  return new TextEncoder().encode(drawingText(layers.map((layer) => ({ layer, shapes: layer.fill(drawn) }))));
}
