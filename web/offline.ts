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
        // Without a worker that is in charge it is the first one; with one, a newer version that waits.
        if (worker.state === 'installed' && serviceWorker.controller !== null) offer(worker);
        if (worker.state === 'activated') ready();
        if (worker.state === 'redundant' && registration.active === null)
          say(text, sentence(words.offlineFailed, { fault: worker.state }));
      };
      worker.addEventListener('statechange', look);
      look();
    };
    if (registration.active !== null) ready();
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
    navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true });
    worker.postMessage('take over');
  };
}
