/** How what is shown stands to what is in the form: its answer, an answer that comes soon, or none. */
import { Later } from './later.ts';
import { byId, say, sentence } from './page.ts';
import { words } from './words.js';

/** After so long a person is told that an answer is being worked on; and after so long, for how long, ms. */
const SOON = 200;
const LONG = 2000;

/** The sentence over the result; its button stops what is worked on. */
export function tell(text: string, canStop = false): void {
  byId('stale').hidden = text === '';
  byId('stale-text').textContent = text;
  byId('stop').hidden = !canStop;
}

/** The element that shows the result. */
const result = (): HTMLElement => byId('result');

function look(as: '' | 'old' | 'live'): void {
  for (const each of ['old', 'live']) result().classList.toggle(each, each === as);
}

/** Others read `busy` and `good`; only the methods set them. */
export class Standing {
  /** Whether the answer to what is in the form is still to come. */
  busy = false;
  /** Whether what is shown is that answer. */
  good = false;
  #live = '';
  readonly #ticking = new Later();
  /** Those who wait for the full answer. */
  #waiting: (() => void)[] = [];

  /** Whether a live answer is shown. */
  get isLive(): boolean {
    return this.#live !== '';
  }

  /** What is shown is not, or no longer, the answer to what is in the form. */
  outdated(): void {
    if (!this.busy) {
      const began = performance.now();
      const tick = (): void => {
        const time = performance.now() - began;
        const seconds = Math.round(time / 1000);
        if (time >= LONG) tell(`${this.#live} ${sentence(words.workingFor, { seconds })}`.trim(), true);
        else if (!this.isLive) tell(words.working);
        this.#ticking.after(time < LONG ? LONG - time : 1000, tick);
      };
      this.#ticking.after(SOON, tick);
    }
    this.busy = true;
    this.good = false;
    this.#live = '';
    look('old');
    result().setAttribute('aria-busy', 'true');
    byId('phone-code').hidden = true;
  }

  /** A live answer is shown. @param text what it says of itself */
  live(text: string): void {
    this.#live = text;
    look('live');
    tell(text);
  }

  /** @param isGood whether what is shown answers what is in the form */
  answered(isGood: boolean, text = ''): void {
    this.busy = false;
    this.good = isGood;
    this.#ticking.drop();
    tell(text);
    // What could not be saved was another tray.
    if (isGood) say(byId('take-error'), '');
    this.#live = '';
    look(isGood ? '' : 'old');
    result().removeAttribute('aria-busy');
    const waited = this.#waiting;
    this.#waiting = [];
    for (const resolve of waited) resolve();
  }

  /** As soon as nothing is still to come. */
  async settled(): Promise<void> {
    while (this.busy) await new Promise<void>((resolve) => this.#waiting.push(resolve));
  }
}
