/** The fonts of PDF and PNG, from the package that brings them. Node only. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { once } from '../once.ts';
import type { Fonts, Typeface } from './fonts.ts';

const require = createRequire(import.meta.url);

/** Paths of the font Arimo (SIL Open Font License 1.1), as the package brings them. */
export const fontFiles = (): { readonly regular: string; readonly bold: string } => ({
  regular: require.resolve('@expo-google-fonts/arimo/400Regular/Arimo_400Regular.ttf'),
  bold: require.resolve('@expo-google-fonts/arimo/700Bold/Arimo_700Bold.ttf'),
});

const arimo = once((): Typeface => {
  const { regular, bold } = fontFiles();
  return { name: 'arimo', regular: readFileSync(regular), bold: readFileSync(bold) };
});

/** Arimo in full, whatever the text. */
export const nodeFonts: Fonts = async () => arimo();
