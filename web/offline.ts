/** The page without network: kept by a service worker, where browsers allow one, and said where they do not. */
import { button, byId, say, sentence } from './page.ts';
import { scriptAddress } from './solver.ts';
import { words } from './words.js';

const CACHES = 'gatherpan-page-';

export async function keepPage(): Promise<void> {
  const text = byId('offline-text');
  const remove = button('offline-remove');
  if (!('serviceWorker' in navigator)) {
    say(text, words.offlineNot);
    return;
  }
  const { serviceWorker } = navigator;
  const ready = (): void => {
    say(text, words.offlineReady);
    remove.hidden = false;
  };
  remove.addEventListener('click', async () => {
    const found = await serviceWorker.getRegistrations();
    await Promise.all(found.map((each) => each.unregister()));
    const names = await caches.keys();
    await Promise.all(names.filter((name) => name.startsWith(CACHES)).map((name) => caches.delete(name)));
    say(text, words.offlineRemoved);
    remove.hidden = true;
  });
  try {
    say(text, words.offlineComing);
    const registration = await serviceWorker.register(scriptAddress('sw.js'));
    const watch = (worker: ServiceWorker | null): void => {
      if (worker === null) return;
      const look = (): void => {
        // Without one that is active it is the first one; with one, a newer version that waits.
        if (worker.state === 'installed' && registration.active !== null) offer(worker);
        if (worker.state === 'activated') ready();
        if (worker.state === 'redundant' && registration.active === null)
          say(text, sentence(words.offlineFailed, { fault: worker.state }));
      };
      worker.addEventListener('statechange', look);
      look();
    };
    if (registration.active !== null) ready();
    if (wasTaken()) takeOver(registration.waiting);
    watch(registration.waiting ?? registration.installing);
    registration.addEventListener('updatefound', () => watch(registration.installing));
  } catch (error) {
    say(text, sentence(words.offlineFailed, { fault: (error as Error).name }));
  }
}

/** A person decides when: the page that is open goes on with the files that it began with. */
function offer(worker: ServiceWorker): void {
  byId('newer-text').textContent = words.offlineNewer;
  byId('newer').hidden = false;
  button('newer-take').onclick = () => {
    takeOver(worker);
    setTimeout(() => {
      window.name = TAKEN;
      location.reload();
    }, PATIENCE);
  };
}

/**
 * Opens the page anew as soon as a worker no longer waits. Another tab may have made it take over before, or a still newer
 * one has taken its place: then nothing more will come of it.
 */
function takeOver(worker: ServiceWorker | null): void {
  const look = (): void => {
    if (worker?.state !== 'installed') location.reload();
  };
  worker?.addEventListener('statechange', look);
  worker?.postMessage('take over');
  look();
}

/**
 * After so many ms the page is opened anew even though the newer worker still waits. A browser lets it wait as long as the
 * old one is asked for files, and half a minute longer; with the page goes who asks. What opens may still be the old page,
 * so that it is opened once more.
 */
const PATIENCE = 3000;
const TAKEN = 'newer taken';

/** Noted in the tab's name, which outlives a reload, is no other tab's, and is there where a browser keeps nothing. */
function wasTaken(): boolean {
  const noted = window.name === TAKEN;
  window.name = '';
  return noted;
}
