/** Talks to the service. Every failure becomes a `Failure` with sentences and the paths of their fields. */

import { sentence } from './sentence.js';
import { words } from './words.js';

/** @typedef {{ path: string, detail: string }} Fault */

export class Failure extends Error {
  /**
   * @param {readonly Fault[]} faults
   * @param {string} code
   * @param {number} retryAfter seconds; 0 when trying again does not help
   */
  constructor(faults, code, retryAfter = 0) {
    super(faults.map((fault) => fault.detail).join('\n'));
    this.faults = faults;
    this.code = code;
    this.retryAfter = retryAfter;
  }
}

/** @returns {Promise<Response>} an answer that is good */
export async function ask(path, options = {}) {
  let response;
  try {
    response = await fetch(path, options);
  } catch (error) {
    if (error.name === 'AbortError') throw error;
    throw new Failure([{ path: '', detail: words.unreachable }], 'UNREACHABLE', 2);
  }
  if (response.ok) return response;
  const problem = await response.json().catch(() => null);
  const faults = problem?.errors ?? [
    { path: '', detail: sentence(words.status, { status: response.status }) },
  ];
  const retryAfter =
    response.status === 503 || response.status === 429 ? Number(response.headers.get('Retry-After') ?? 1) : 0;
  throw new Failure(faults, problem?.code ?? 'UNKNOWN', retryAfter);
}

export const getJson = async (path) => (await ask(path)).json();

export const postTray = (path, tray, signal) =>
  ask(path, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify(tray),
    signal,
  });

/** A file, the tray that it starts from, and what else is said of it. */
export function postFile(path, file, base, signal, said = {}) {
  const form = new FormData();
  for (const [name, value] of Object.entries(said)) form.append(name, value);
  if (base !== undefined) form.append('base', JSON.stringify(base));
  form.append('file', file);
  return ask(path, { method: 'POST', body: form, signal });
}

/** Gives the bytes of an answer to the person as a file, under the name the answer carries. */
export async function saveAnswer(response) {
  saveBlob(await response.blob(), nameFrom(response.headers.get('Content-Disposition') ?? ''));
}

/** The name of RFC 6266: the extended one where there is one. */
function nameFrom(header) {
  const extended = /filename\*=UTF-8''([^;]+)/i.exec(header);
  if (extended) return decodeURIComponent(extended[1]);
  const plain = /filename="?([^";]+)"?/i.exec(header);
  return plain ? plain[1] : 'download';
}

export function saveBlob(blob, name) {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(blob);
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  // The browser has taken the address by then.
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
