/** A picture as PNG, drawn from its SVG by the library resvg. Node only. */
import { MILLIMETRES_PER_INCH } from '../units.ts';
import { fontFiles } from './nodeFonts.ts';
import type { Picture } from './picture.ts';
import { svgText } from './svg.ts';

/**
 * The file's bytes.
 *
 * @param dotsPerInch resolution; 300 is what a printer needs, 96 what a screen shows at life size
 */
export async function pngBytes(picture: Picture, dotsPerInch: number): Promise<Uint8Array> {
  const { Resvg } = await import('@resvg/resvg-js');
  const files = fontFiles();
  const image = new Resvg(svgText(picture), {
    fitTo: {
      mode: 'width',
      value: Math.max(1, Math.round((picture.width / MILLIMETRES_PER_INCH) * dotsPerInch)),
    },
    font: {
      loadSystemFonts: false,
      fontFiles: [files.regular, files.bold],
      defaultFontFamily: 'Arimo',
      sansSerifFamily: 'Arimo',
    },
  }).render();
  return new Uint8Array(image.asPng());
}
