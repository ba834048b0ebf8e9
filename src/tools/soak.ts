/** A service at saturation for minutes: what it is asked, what it answers, and what it holds. */

/** More than run and wait at one time, so that some are always refused. */
const CLIENTS = 48;
/** Longest time that an answer may take, ms. */
const LONGEST = 60_000;

const contents = (i: number) => ({
  name: `tray-${i}`,
  plan: { length: 300 + (i % 200), width: 200 + (i % 170), cornerRadius: 50 },
  section: { bottomRadius: 18, height: 25 + (i % 50) / 10 },
  sheet: { material: 'DC04', thickness: 1 },
});

interface Asked {
  readonly path: string;
  readonly body: string | FormData;
}

/** Every kind of request, in turn. */
function requests(solid: Blob): readonly ((i: number) => Asked)[] {
  const tray = (path: string) => (i: number) => ({ path, body: JSON.stringify(contents(i)) });
  const upload = (path: string, name: string, content: (i: number) => Blob) => (i: number) => {
    const body = new FormData();
    body.append('base', JSON.stringify(contents(i)));
    body.append('file', content(i), name);
    return { path, body };
  };
  const table = (i: number): Blob => new Blob([`name,plan.length\na-${i},310\nb-${i},320\n`]);
  const circle = (i: number): Blob =>
    new Blob([
      `0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n8\n0\n10\n0\n20\n0\n40\n${120 + (i % 50)}\n0\nENDSEC\n0\nEOF\n`,
    ]);
  return [
    tray('/api/preview'),
    tray('/api/check'),
    tray('/api/files/dxf'),
    tray('/api/archive?formats=dxf,json'),
    upload('/api/upload', 'tray.json', (i) => new Blob([JSON.stringify(contents(i))])),
    upload('/api/upload', 'sizes.csv', table),
    upload('/api/upload', 'plan.dxf', circle),
    upload('/api/upload', 'part.step', () => solid),
    upload('/api/table', 'sizes.csv', table),
    upload('/api/table/archive?formats=dxf', 'sizes.csv', table),
  ];
}

/**
 * Asks for so many minutes and prints what came.
 *
 * @param memory resident memory of the service, as text
 * @returns whether every answer was a success or a 503 that says when to come again, and none took too long
 */
export async function soak(url: URL, minutes: number, memory: () => string): Promise<boolean> {
  const json = { 'Content-Type': 'application/json' };
  const made = await fetch(new URL('/api/files/formed-step', url), {
    method: 'POST',
    headers: json,
    body: JSON.stringify(contents(0)),
  });
  const kinds = requests(await made.blob());
  const counts = new Map<string, Map<string, number>>();
  let longest = 0;
  let sound = true;
  const end = performance.now() + 60_000 * minutes;
  let next = 0;
  const client = async (): Promise<void> => {
    while (performance.now() < end) {
      const i = next++;
      const { path, body } = kinds[i % kinds.length]!(i);
      const began = performance.now();
      let found: string;
      let wait = 0;
      try {
        const response = await fetch(new URL(path, url), {
          method: 'POST',
          body,
          ...(typeof body === 'string' ? { headers: json } : {}),
          signal: AbortSignal.timeout(LONGEST),
        });
        await response.arrayBuffer();
        wait = Number(response.headers.get('retry-after') ?? 0);
        found = response.status === 503 ? (wait > 0 ? '503' : '503 without a time') : String(response.status);
      } catch (error) {
        found = error instanceof Error ? error.name : 'no answer';
      }
      longest = Math.max(longest, performance.now() - began);
      sound &&= found === '200' || found === '503';
      const kind = `${path} ${typeof body === 'string' ? '' : (body.get('file') as File).name}`;
      const own = counts.get(kind) ?? new Map<string, number>();
      own.set(found, (own.get(found) ?? 0) + 1);
      counts.set(kind, own);
      // Sooner than it says, so that the queue stays full.
      if (wait > 0) await new Promise((resolve) => setTimeout(resolve, 200));
    }
  };
  const clock = setInterval(() => console.log(`memory  ${memory()}, ${next} requests`), 30_000);
  await Promise.all(Array.from({ length: CLIENTS }, client));
  clearInterval(clock);
  console.log(`memory  ${memory()}, ${next} requests by ${CLIENTS} clients in ${minutes} min`);
  for (const [kind, own] of [...counts].sort()) {
    console.log(`${kind.padEnd(48)} ${[...own].map(([found, count]) => `${count} × ${found}`).join(', ')}`);
  }
  console.log(
    `longest answer ${(longest / 1000).toFixed(1)} s; ${sound ? 'all accounted for' : 'NOT all accounted for'}`,
  );
  return sound;
}
