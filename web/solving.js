/** Answers what the page asks about a tray: in threads of the page, or from the service where the browser cannot. */
import { Failure, postTray } from './api.js';
import { words } from './words.js';

/** Longest search for changes, ms; the service has a limit of its own. */
const SEARCH = 10_000;

let solver = null;

/** Starts the threads. @returns {Promise<string>} what to say where the service has to solve; nothing where it has not */
export async function startSolving() {
  try {
    const { startSolver } = await import('./solver/solver.js');
    const found = await startSolver(words.language);
    if (typeof found === 'string') return words.lacking[found];
    solver = found;
    return '';
  } catch {
    return words.lacking.files;
  }
}

/** @returns what a thread answers; null when somebody else has to */
async function here(answer) {
  if (solver === null) return null;
  try {
    return await answer(solver);
  } catch (error) {
    if (error.name === 'AbortError') throw error;
    // A refusal is an answer; a thread that failed is none.
    if (error.faults === undefined) return null;
    const faults = error.faults.map(({ path, message }) => ({ path, detail: message }));
    throw new Failure(faults, error.code);
  }
}

const textOf = (tray) => JSON.stringify(tray);

export const preview = async (tray, signal) =>
  (await here(({ ask }) => ask({ kind: 'preview', tray: textOf(tray) }, signal))) ??
  (await postTray('api/preview', tray, signal)).json();

export const changes = async (tray, signal) =>
  (await here(({ askBeside }) =>
    askBeside({ kind: 'changes', tray: textOf(tray), milliseconds: SEARCH }, signal),
  )) ?? (await postTray('api/changes', tray, signal)).json();

/**
 * What is saved of a tray, as the service would send it.
 *
 * @param {string} path as the service has it: `files/dxf?marks=text`, `archive?quantity=3`
 * @returns {Promise<Response>}
 */
export async function made(path, tray) {
  const [address, query = ''] = path.split('?');
  const [kind, format] = address.split('/');
  const file =
    kind === 'files' && solver?.formats.includes(format)
      ? await here(({ ask }) =>
          ask({
            kind: 'file',
            tray: textOf(tray),
            format,
            values: Object.fromEntries(new URLSearchParams(query)),
          }),
        )
      : null;
  if (file === null) return postTray(`api/${path}`, tray);
  const { name, mediaType, bytes } = file;
  return new Response(bytes, {
    headers: {
      'Content-Type': mediaType,
      'Content-Disposition': `attachment; filename*=UTF-8''${encodeURIComponent(name)}`,
    },
  });
}
