/** Where the font files of PDF and PNG are. Node only. */
import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);

/** Paths of the font Arimo (SIL Open Font License 1.1), as the package brings them. */
export const fontFiles = (): { readonly regular: string; readonly bold: string } => ({
  regular: require.resolve('@expo-google-fonts/arimo/400Regular/Arimo_400Regular.ttf'),
  bold: require.resolve('@expo-google-fonts/arimo/700Bold/Arimo_700Bold.ttf'),
});
