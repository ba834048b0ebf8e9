/** Arimo from files beside the bundle, fetched when a PDF is made: small ones for most texts, and those in full. */
import type { Fonts, Typeface } from '../drawing/fonts.ts';
import { hasCommonOnly } from './commonLetters.ts';

/** @param folder address of the font files, with a slash at its end */
export function webFonts(folder: URL): Fonts {
  const known = new Map<string, Promise<Typeface>>();
  const bytesOf = async (file: string): Promise<Uint8Array> => {
    const response = await fetch(new URL(file, folder));
    if (!response.ok) throw new Error(`${file}: ${response.status}`);
    return new Uint8Array(await response.arrayBuffer());
  };
  const loaded = async (name: string): Promise<Typeface> => {
    const [regular, bold] = await Promise.all([bytesOf(`${name}-regular.ttf`), bytesOf(`${name}-bold.ttf`)]);
    return { name, regular, bold };
  };
  return (text) => {
    const name = hasCommonOnly(text) ? 'arimo-common' : 'arimo';
    const typeface = known.get(name) ?? loaded(name);
    known.set(name, typeface);
    // A file that did not come is asked for again the next time.
    typeface.catch(() => known.delete(name));
    return typeface;
  };
}
