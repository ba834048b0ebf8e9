/** Talks to the service. Every failure becomes a `Failure` with sentences and the paths of their fields. */
import { sentence } from './page.ts';
import { words } from './words.js';

export interface Fault {
  readonly path: string;
  readonly detail: string;
}

export class Failure extends Error {
  readonly faults: readonly Fault[];
  readonly code: string;
  /** Seconds; 0 when trying again does not help. */
  readonly retryAfter: number;

  constructor(faults: readonly Fault[], code: string, retryAfter = 0) {
    super(faults.map((fault) => fault.detail).join('\n'));
    this.faults = faults;
    this.code = code;
    this.retryAfter = retryAfter;
  }
}

/** One sentence that belongs to no field. */
export const failure = (detail: string, code = 'BAD_INPUT'): Failure =>
  new Failure([{ path: '', detail }], code);

export const isAbort = (error: unknown): boolean => (error as Error | null)?.name === 'AbortError';

/** @returns an answer that is good */
async function ask(path: string, options: RequestInit): Promise<Response> {
  let response: Response;
  try {
    response = await fetch(path, options);
  } catch (error) {
    if (isAbort(error)) throw error;
    throw new Failure([{ path: '', detail: words.unreachable }], 'UNREACHABLE', 2);
  }
  if (response.ok) return response;
  const problem = (await response.json().catch(() => null)) as { errors?: Fault[]; code?: string } | null;
  const faults = problem?.errors ?? [
    { path: '', detail: sentence(words.status, { status: response.status }) },
  ];
  const retryAfter = [429, 503].includes(response.status)
    ? Number(response.headers.get('Retry-After') ?? 1)
    : 0;
  throw new Failure(faults, problem?.code ?? 'UNKNOWN', retryAfter);
}

/** @param tray as JSON */
export const postTray = (path: string, tray: string, signal?: AbortSignal): Promise<Response> =>
  ask(path, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: tray,
    ...(signal === undefined ? {} : { signal }),
  });

/** A file, the tray that it starts from, and what else is said of it. */
export function postFile(
  path: string,
  file: File,
  base: unknown,
  signal?: AbortSignal,
  said: Readonly<Record<string, string>> = {},
): Promise<Response> {
  const form = new FormData();
  for (const [name, value] of Object.entries(said)) form.append(name, value);
  if (base !== undefined) form.append('base', JSON.stringify(base));
  form.append('file', file);
  return ask(path, { method: 'POST', body: form, ...(signal === undefined ? {} : { signal }) });
}

/** Gives the bytes of an answer to the person as a file, under the name the answer carries. */
export const saveAnswer = async (response: Response): Promise<void> =>
  saveBlob(await response.blob(), nameFrom(response.headers.get('Content-Disposition') ?? ''));

/** The name of RFC 6266: the extended one where there is one. */
function nameFrom(header: string): string {
  const extended = /filename\*=UTF-8''([^;]+)/i.exec(header)?.[1];
  if (extended !== undefined) return decodeURIComponent(extended);
  return /filename="?([^";]+)"?/i.exec(header)?.[1] ?? 'download';
}

export function saveBlob(blob: Blob, name: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(blob);
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  // The browser has taken the address by then.
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
