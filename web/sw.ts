/**
 * Keeps the page's own files for use without network: all of one version or none. Answers of the service, uploads and
 * trays are never kept.
 *
 * `VERSION` and `FILES` (each file's address and the SHA-256 of its bytes) are put before this text when it is made.
 */
declare const VERSION: string;
declare const FILES: Readonly<Record<string, string>>;

interface Waiting extends Event {
  waitUntil(work: Promise<unknown>): void;
}
interface Fetching extends Event {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}
const worker = self as unknown as {
  skipWaiting(): Promise<void>;
  readonly registration: { readonly scope: string };
  readonly clients: { claim(): Promise<void> };
  addEventListener(name: 'install' | 'activate', listen: (event: Waiting) => void): void;
  addEventListener(name: 'fetch', listen: (event: Fetching) => void): void;
  addEventListener(name: 'message', listen: (event: MessageEvent) => void): void;
};

const CACHES = 'gatherpan-page-';
const own = CACHES + VERSION;
const address = (file: string): string => new URL(file, worker.registration.scope).href;

async function digest(bytes: ArrayBuffer): Promise<string> {
  const hash = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return [...hash].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** A file of this version and of no other: while a new one is being put on the server, both may be met. */
async function fetched(file: string, sum: string): Promise<Response> {
  const response = await fetch(address(file), { cache: 'no-store' });
  if (!response.ok) throw new Error(file);
  const bytes = await response.clone().arrayBuffer();
  if ((await digest(bytes)) !== sum) throw new Error(file);
  return response;
}

worker.addEventListener('install', (event) =>
  event.waitUntil(
    (async () => {
      const cache = await caches.open(own);
      try {
        for (const [file, sum] of Object.entries(FILES))
          await cache.put(address(file), await fetched(file, sum));
      } catch (error) {
        await caches.delete(own);
        throw error;
      }
    })(),
  ),
);

worker.addEventListener('activate', (event) =>
  event.waitUntil(
    (async () => {
      const names = await caches.keys();
      const others = names.filter((name) => name.startsWith(CACHES) && name !== own);
      await Promise.all(others.map((name) => caches.delete(name)));
      await worker.clients.claim();
    })(),
  ),
);

worker.addEventListener('message', ({ data }) => {
  if (data === 'take over') void worker.skipWaiting();
});

worker.addEventListener('fetch', (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  const scope = new URL(worker.registration.scope);
  if (request.method !== 'GET' || origin !== scope.origin || !pathname.startsWith(scope.pathname)) return;
  const file = pathname.slice(scope.pathname.length) || './';
  if (!Object.hasOwn(FILES, file)) return;
  event.respondWith((async () => (await (await caches.open(own)).match(address(file))) ?? fetch(request))());
});
