/** What the terminal calls the corners and curved edges of a tray. */
import { vertexCount } from '../papers/cornerNames.ts';
import type { TraySpec } from '../tray/spec.ts';
import type { Words } from '../words/english.ts';

/** A corner by its number, a curved edge as such with its own; both count from 0, as in the tray file. */
export function placeName(spec: TraySpec, index: number, words: Words['terminal']): string {
  const count = vertexCount(spec);
  return index < count ? String(index) : words.edge(String(index - count));
}
