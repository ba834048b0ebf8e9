/**
 * The language that messages are in: what is wrong with the input, what the command says of itself, the page.
 *
 * Papers and drawings are asked for in a language call by call (`DevelopOptions.words`, `exportersIn`), because a
 * paper may be for another reader. A message is for whoever runs the program, and is thrown from places that no
 * option reaches; so its table belongs to the process.
 */
import { english, type Words } from './english.ts';

let spoken: Words = english;

/** The table that messages are taken from now. Ask for it when a message is made, never while a module loads. */
export const words = (): Words => spoken;

/**
 * Takes messages from another table from now on, in this thread.
 *
 * @returns the table spoken before
 */
export function speak(table: Words): Words {
  const before = spoken;
  spoken = table;
  return before;
}
