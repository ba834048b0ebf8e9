/**
 * What is kept: the tray in the address behind `#`, which no server sees, every step of it in the browser's history, and
 * the last trays with their pictures in the browser's own storage.
 */
import type { TrayObject } from '../src/tray/writtenTray.ts';
import { button, byId, element, picture, say, sentence } from './page.ts';
import { words } from './words.js';

/** Longest address that is read or written behind `#`, in characters: what messengers still take. */
const LONGEST = 4000;
const PREFIX = '#tray=';

/** A tray as a part of an address: its JSON, in the letters of base64url (RFC 4648, 5). */
export function linkOf(tray: TrayObject): string | null {
  const bytes = new TextEncoder().encode(JSON.stringify(tray));
  const text = btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(''));
  const link = PREFIX + text.replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
  return link.length > LONGEST ? null : link;
}

/** @returns what an address holds, not yet checked as a tray; null for one without, undefined for one that is broken */
export function trayOf(link: string): TrayObject | null | undefined {
  if (!link.startsWith(PREFIX)) return null;
  if (link.length > LONGEST) return undefined;
  try {
    const letters = atob(link.slice(PREFIX.length).replaceAll('-', '+').replaceAll('_', '/'));
    const bytes = Uint8Array.from(letters, (letter) => letter.charCodeAt(0));
    const value: unknown = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
    return typeof value === 'object' && value !== null && !Array.isArray(value)
      ? (value as TrayObject)
      : undefined;
  } catch {
    return undefined;
  }
}

interface Step {
  readonly step: number;
  readonly tray: TrayObject;
}

export interface Steps {
  /** Makes a tray the newest step, unless it is where one stands. */
  add(tray: TrayObject): void;
}

/** Every settled tray is a step of the browser's history: back, forward, undo and redo are the same thing. */
export function steps(show: (tray: TrayObject) => void): Steps {
  const [undo, redo] = [button('undo'), button('redo')];
  let at = 0;
  let last = 0;
  let shown = '';
  const buttons = (): void => {
    undo.disabled = at === 0;
    redo.disabled = at >= last;
  };
  undo.addEventListener('click', () => history.back());
  redo.addEventListener('click', () => history.forward());
  addEventListener('popstate', ({ state }) => {
    const step = state as Step | null;
    const tray = step?.tray ?? trayOf(location.hash);
    say(byId('file-error'), tray === undefined ? words.linkWrong : undefined);
    if (tray === null || tray === undefined) return;
    at = step?.step ?? 0;
    shown = JSON.stringify(tray);
    buttons();
    show(tray);
  });
  return {
    add(tray) {
      const text = JSON.stringify(tray);
      if (text === shown) return;
      const first = shown === '';
      shown = text;
      const link = linkOf(tray);
      say(byId('take-note'), link === null ? words.linkTooLong : undefined);
      const before = history.state as Step | null;
      if (first) at = before?.step ?? 0;
      else at += 1;
      last = first ? Math.max(last, at) : at;
      const state: Step = { step: at, tray };
      // A browser limits how often an address may change; the step then goes without.
      try {
        if (first) history.replaceState(state, '', link ?? location.pathname);
        else history.pushState(state, '', link ?? location.pathname);
      } catch {
        at = before?.step ?? 0;
      }
      buttons();
    },
  };
}

const KEY = 'gatherpan:trays';
const MOST = 20;
const PICTURE_WIDTH = 240;
/** Longest picture that is kept, in characters. */
const LONGEST_PICTURE = 60_000;

interface Kept {
  readonly name: string;
  readonly size: string;
  readonly tray: TrayObject;
  /** PNG as base64. */
  readonly picture: string;
}

const isKept = (value: unknown): value is Kept => {
  const { name, size, tray, picture: drawn } = (value ?? {}) as Partial<Kept>;
  return (
    typeof name === 'string' &&
    typeof size === 'string' &&
    typeof drawn === 'string' &&
    typeof tray === 'object'
  );
};

/** What storage holds; another tab, an older page or a person may have written it. */
function stored(): Kept[] {
  const value: unknown = JSON.parse(localStorage.getItem(KEY) ?? '[]');
  return Array.isArray(value) ? value.filter(isKept).slice(0, MOST) : [];
}

const isFull = (error: unknown): boolean => (error as Error).name === 'QuotaExceededError';

/** A setting of the page, or nothing where the browser keeps none. */
export function setting(name: string): string | null {
  try {
    return localStorage.getItem(`gatherpan:${name}`);
  } catch {
    return null;
  }
}

export function keepSetting(name: string, value: string): void {
  try {
    localStorage.setItem(`gatherpan:${name}`, value);
  } catch {
    // Said where the last trays stand; the page works without.
  }
}

export interface LastTrays {
  /** Puts a tray first, with the picture that is shown of it. */
  add(tray: TrayObject, size: string, shown: HTMLImageElement): void;
}

function showPicture(image: HTMLImageElement, drawn: string): void {
  try {
    const bytes = Uint8Array.from(atob(drawn), (letter) => letter.charCodeAt(0));
    picture(image, bytes, 'image/png');
  } catch {
    // A tray without its picture is still a tray.
  }
}

export function lastTrays(open: (tray: TrayObject) => void): LastTrays {
  const note = byId('kept-note');
  const place = byId('last-trays');
  const fold = byId<HTMLDetailsElement>('last');

  /** Pictures that are made once somebody looks: many at once keep a phone busy. */
  let unseen: (() => void)[] = [];
  function look(): void {
    if (!fold.open) return;
    for (const make of unseen.splice(0)) make();
  }

  function show(): void {
    unseen = [];
    let trays: Kept[] = [];
    try {
      trays = stored();
      say(note, trays.length === 0 ? words.keptNone : undefined);
    } catch (error) {
      say(note, sentence(words.keptNot, { fault: (error as Error).name }));
    }
    place.replaceChildren(
      ...trays.map(({ name, size, tray, picture: drawn }) => {
        const image = element('img', { alt: '' });
        unseen.push(() => showPicture(image, drawn));
        const button = element(
          'button',
          { type: 'button' },
          image,
          element('span', {}, name),
          element('small', {}, size),
        );
        button.addEventListener('click', () => open(tray));
        return element('li', {}, button);
      }),
    );
    look();
  }

  byId('forget').addEventListener('click', () => {
    try {
      localStorage.removeItem(KEY);
    } catch {
      // Nothing is there then.
    }
    show();
  });
  fold.addEventListener('toggle', look);
  // Another tab has kept or forgotten one.
  addEventListener('storage', ({ key }) => {
    if (key === KEY || key === null) show();
  });
  show();

  return {
    add(tray, size, shown) {
      try {
        const text = JSON.stringify(tray);
        const kept: Kept = { name: String(tray.name ?? ''), size, tray, picture: small(shown) };
        // Read anew, since another tab may have written.
        let trays = [kept, ...stored().filter((each) => JSON.stringify(each.tray) !== text)].slice(0, MOST);
        let full = false;
        for (;;) {
          try {
            localStorage.setItem(KEY, JSON.stringify(trays));
            break;
          } catch (error) {
            if (!isFull(error) || trays.length <= 1) throw error;
            full = true;
            trays = trays.slice(0, -1);
          }
        }
        show();
        if (full) say(note, words.keptFull);
      } catch (error) {
        say(note, sentence(words.keptNot, { fault: (error as Error).name }));
      }
    },
  };
}

/** A picture, small; nothing where the browser does not let it be read. */
function small(shown: HTMLImageElement): string {
  try {
    const canvas = element('canvas');
    canvas.width = PICTURE_WIDTH;
    canvas.height = Math.round((PICTURE_WIDTH * shown.naturalHeight) / Math.max(1, shown.naturalWidth));
    canvas.getContext('2d')?.drawImage(shown, 0, 0, canvas.width, canvas.height);
    const [, text = ''] = canvas.toDataURL('image/png').split(',');
    return text.length > LONGEST_PICTURE ? '' : text;
  } catch {
    return '';
  }
}
