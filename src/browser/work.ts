/** Answers what a thread of a page is asked, see `protocol.ts`. */
import { GatherpanError } from '../errors.ts';
import { exportersIn } from '../exporters/builtIn.ts';
import { createRegistry } from '../exporters/registry.ts';
import { theKernel } from '../solve/kernel/kernel.ts';
import { words } from '../words/language.ts';
import { answerTo, type Kept } from './answers.ts';
import type { Answered, Asked, Ready } from './protocol.ts';
import { webFonts } from './webFonts.ts';

/** The little of a thread's surroundings that is used; the library's types are those of Node. */
const thread = globalThis as unknown as {
  postMessage(message: Answered | Ready): void;
  onmessage: (event: { readonly data: Asked }) => void;
};

const registry = createRegistry(
  exportersIn(words(), { fonts: webFonts(new URL('./fonts/', import.meta.url)) }),
);

const kept: Kept = { live: null };

async function answered(asked: Asked): Promise<Answered> {
  const { id } = asked;
  try {
    return { id, ok: true, result: await answerTo(asked, registry, kept) };
  } catch (error) {
    if (error instanceof GatherpanError) return { id, ok: false, code: error.code, faults: error.faults };
    return { id, ok: false, fault: String(error instanceof Error ? error.message : error) };
  }
}

let turn: Promise<void> = Promise.resolve();
thread.onmessage = ({ data }) => {
  turn = turn.then(async () => thread.postMessage(await answered(data)));
};

thread.postMessage({
  ready: true,
  webAssembly: theKernel() !== null,
  language: words().page.language,
  formats: registry.list().map(({ id }) => id),
});
