/** Words of hands and of measurements, which a page seldom needs: the build leaves them out of what is loaded first. */
import { speak, words } from '../words/language.ts';

/** Takes them into the language of this thread, where they are not there yet. */
export async function loadHandWords(): Promise<void> {
  if (words().hand.found !== undefined) return;
  const [{ hand }, { gather }] = await Promise.all([
    import('../words/hand.ts'),
    import('../words/messages/gather.ts'),
  ]);
  speak({ ...words(), hand, messages: { ...words().messages, gather } });
}
