/** Words that a page seldom needs: the build leaves them out of what is loaded first. */
import { speak, words } from '../words/language.ts';

/** Takes those of hands and of measurements into the language of this thread, where they are not there yet. */
export async function loadHandWords(): Promise<void> {
  if (words().hand.found !== undefined) return;
  const [{ hand }, { gather }] = await Promise.all([
    import('../words/hand.ts'),
    import('../words/messages/gather.ts'),
  ]);
  speak({ ...words(), hand, messages: { ...words().messages, gather } });
}

/** The same with those of uploads and of tables. */
export async function loadUploadWords(): Promise<void> {
  if (words().messages.server.upload !== undefined) return;
  const [{ batch }, { server }] = await Promise.all([
    import('../words/messages/batch.ts'),
    import('../words/messages/server.ts'),
  ]);
  speak({ ...words(), messages: { ...words().messages, batch, server } });
}
