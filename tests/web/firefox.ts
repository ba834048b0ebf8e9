/**
 * Firefox as it is installed, driven by WebDriver BiDi (W3C working draft), which it speaks itself: the driver of the other
 * tests wants a Firefox of its own.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { WebSocket } from 'ws';

interface Answer {
  readonly id?: number;
  readonly result?: unknown;
  readonly error?: string;
  readonly message?: string;
  readonly method?: string;
  readonly params?: { readonly level?: string; readonly text?: string | null };
}

export class Firefox {
  readonly #process: ChildProcess;
  readonly #profile: string;
  readonly #socket: WebSocket;
  readonly #waiting = new Map<number, (answer: Answer) => void>();
  #ids = 0;
  #page = '';
  /** Errors that its console has shown. */
  readonly problems: string[] = [];

  private constructor(process: ChildProcess, profile: string, socket: WebSocket) {
    this.#process = process;
    this.#profile = profile;
    this.#socket = socket;
    socket.on('message', (data) => {
      const answer = JSON.parse(String(data)) as Answer;
      if (answer.id !== undefined) this.#waiting.get(answer.id)?.(answer);
      else if (answer.method === 'log.entryAdded' && answer.params?.level === 'error')
        this.problems.push(answer.params.text ?? '');
    });
  }

  static async start(command: string): Promise<Firefox> {
    const profile = mkdtempSync(join(tmpdir(), 'gatherpan-firefox-'));
    const process = spawn(
      command,
      ['--headless', '--no-remote', '--profile', profile, '--remote-debugging-port', '0', 'about:blank'],
      { stdio: ['ignore', 'ignore', 'pipe'] },
    );
    const address = await new Promise<string>((resolve, reject) => {
      let said = '';
      process.on('close', () => reject(new Error(`Firefox ended: ${said}`)));
      process.stderr!.on('data', (chunk) => {
        said += chunk;
        const [, found] = /WebDriver BiDi listening on (ws:\/\/\S+)/.exec(said) ?? [];
        if (found !== undefined) resolve(found);
      });
    });
    const socket = new WebSocket(`${address}/session`);
    await once(socket, 'open');
    const firefox = new Firefox(process, profile, socket);
    await firefox.#send('session.new', { capabilities: {} });
    await firefox.#send('session.subscribe', { events: ['log.entryAdded'] });
    const { context } = (await firefox.#send('browsingContext.create', { type: 'tab' })) as {
      context: string;
    };
    firefox.#page = context;
    return firefox;
  }

  async #send(method: string, params: object): Promise<unknown> {
    const id = ++this.#ids;
    const answer = await new Promise<Answer>((resolve) => {
      this.#waiting.set(id, resolve);
      this.#socket.send(JSON.stringify({ id, method, params }));
    });
    this.#waiting.delete(id);
    if (answer.error !== undefined) throw new Error(`${method}: ${answer.error}: ${answer.message}`);
    return answer.result;
  }

  async goto(url: string): Promise<void> {
    await this.#send('browsingContext.navigate', { context: this.#page, url, wait: 'complete' });
  }

  /** @param script an expression; what it comes to has to be JSON */
  async evaluate<T>(script: string): Promise<T> {
    const { type, result, exceptionDetails } = (await this.#send('script.evaluate', {
      expression: `(async () => JSON.stringify((await (${script})) ?? null))()`,
      target: { context: this.#page },
      awaitPromise: true,
    })) as { type: string; result?: { value: string }; exceptionDetails?: { text: string } };
    if (type !== 'success') throw new Error(exceptionDetails?.text);
    return JSON.parse(result!.value) as T;
  }

  /** Types in the place of what stands in a field, key by key. */
  async type(id: string, text: string): Promise<void> {
    await this.evaluate(`document.getElementById('${id}').select()`);
    const actions = [...text].flatMap((value) => [
      { type: 'keyDown', value },
      { type: 'keyUp', value },
    ]);
    await this.#send('input.performActions', {
      context: this.#page,
      actions: [{ type: 'key', id: 'keyboard', actions }],
    });
  }

  async close(): Promise<void> {
    this.#socket.close();
    const ended = once(this.#process, 'close');
    this.#process.kill();
    await ended;
    rmSync(this.#profile, { recursive: true, force: true });
  }
}
