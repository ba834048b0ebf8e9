/**
 * Random trays as a person draws them: whole sizes, radii from the rack, sheets as sold, walls from low to much too
 * high. Each has passed the reader.
 */
import { GatherpanError } from '../../src/errors.ts';
import { listSheets } from '../../src/material/sheets.ts';
import { readTray } from '../../src/tray/readTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { orRefusal } from './refusal.ts';

/** Even numbers from 0 to 1, the same for a seed: mulberry32 (public domain, T. Ettinger). */
export function randomNumbers(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

const RADII = [3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60];
const HEIGHTS = [10, 12, 15, 20, 25, 30, 35, 40, 50, 60, 80, 100, 120];
const THICKNESSES = [0.5, 0.6, 0.7, 0.8, 1, 1.2, 1.5, 2, 2.5, 3];

/** One try at a tray file; not all of them are accepted. */
function draw(next: () => number, name: string): unknown {
  const pick = <T>(list: readonly T[]): T => list[Math.floor(next() * list.length)]!;
  const whole = (low: number, high: number, step: number): number =>
    Math.round((low * (high / low) ** next()) / step) * step;
  const sheets = listSheets();
  const sheet = pick(sheets);
  const [thin, thick] = sheet.thicknessRange;
  const bottomRadius = pick(RADII);
  const corner = (): number => (next() < 0.35 ? bottomRadius : pick(RADII.filter((r) => r >= bottomRadius)));
  const length = whole(60, 600, 10);
  const width = whole(50, 400, 10);
  const shape = next();
  const plan = ((): object => {
    if (shape < 0.65) return { length, width, cornerRadius: corner() };
    if (shape < 0.75) return { length, width, cornerRadius: [corner(), corner(), corner(), corner()] };
    if (shape < 0.8) return { length: width, width, cornerRadius: width / 2 };
    const radius = corner();
    if (shape < 0.9) {
      // An L
      const [x, y] = [whole(80, 400, 10), whole(80, 400, 10)];
      const inner = Math.max(pick(RADII), bottomRadius);
      return {
        vertices: [
          { x: 0, y: 0, radius },
          { x: 2 * x, y: 0, radius },
          { x: 2 * x, y, radius },
          { x, y, radius: inner },
          { x, y: 2 * y, radius },
          { x: 0, y: 2 * y, radius },
        ],
      };
    }
    const sides = 3 + Math.floor(next() * 4);
    const [size, turn] = [whole(60, 250, 5), next() * 2 * Math.PI];
    return {
      vertices: Array.from({ length: sides }, (_, k) => {
        const angle = turn + ((k + 0.3 * (next() - 0.5)) * 2 * Math.PI) / sides;
        return { x: Math.round(size * Math.cos(angle)), y: Math.round(size * Math.sin(angle)), radius };
      }),
    };
  })();
  const rim =
    next() < 0.8
      ? { kind: 'plain' }
      : {
          kind: 'lip',
          direction: next() < 0.75 ? 'out' : 'in',
          bendRadius: pick(RADII.slice(0, 6)),
          width: pick([8, 10, 12, 15, 20, 25]),
        };
  return {
    name,
    measured: next() < 0.7 ? 'outside' : 'inside',
    plan,
    section: { bottomRadius, height: pick(HEIGHTS), draft: pick([0, 0, 0, 3, 5, 10, 15]), rim },
    sheet: {
      material: sheet.name,
      thickness: pick(THICKNESSES.filter((t) => t >= thin && t <= thick)),
      grain: pick([0, 0, 0, 90, 45, 30]),
    },
    forming: { trim: pick([0, 2, 4]) },
  };
}

/** Corners of plans with inward ones (third number), by the length and width of a wing. */
const WINGED: readonly ((x: number, y: number) => readonly (readonly [number, number, 1?])[])[] = [
  // An L, a T and a U.
  (x, y) => [
    [0, 0],
    [2 * x, 0],
    [2 * x, y],
    [x, y, 1],
    [x, 2 * y],
    [0, 2 * y],
  ],
  (x, y) => [
    [0, 0],
    [3 * x, 0],
    [3 * x, y],
    [2 * x, y, 1],
    [2 * x, 2 * y],
    [x, 2 * y],
    [x, y, 1],
    [0, y],
  ],
  (x, y) => [
    [0, 0],
    [3 * x, 0],
    [3 * x, 2 * y],
    [2 * x, 2 * y],
    [2 * x, y, 1],
    [x, y, 1],
    [x, 2 * y],
    [0, 2 * y],
  ],
];

/** Files of trays with gathered inward corners and mostly with lips, which the reader accepts; the same for a seed. */
export function* wingedTrays(count: number, seed: number): Generator<unknown> {
  const next = randomNumbers(seed);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(next() * list.length)]!;
  for (let made = 0; made < count; ) {
    const [x, y] = [80, 80].map((least) => 10 * Math.round((least * 5 ** next()) / 10)) as [number, number];
    const bottomRadius = pick(RADII.slice(0, 9));
    const radius = pick(RADII.filter((r) => r >= bottomRadius));
    const inward = Math.max(pick(RADII), bottomRadius);
    const lip = {
      kind: 'lip',
      direction: pick(['out', 'out', 'in']),
      bendRadius: pick(RADII.slice(0, 6)),
      width: pick([8, 10, 12, 15, 20, 25]),
    };
    const file = {
      name: `winged-${seed}-${made}`,
      plan: {
        vertices: pick(WINGED)(x, y).map(([u, v, isIn]) => ({ x: u, y: v, radius: isIn ? inward : radius })),
      },
      section: {
        bottomRadius,
        height: pick(HEIGHTS.slice(0, 9)),
        draft: pick([0, 0, 0, 3, 5, 10, 15]),
        rim: next() < 0.85 ? lip : { kind: 'plain' },
      },
      sheet: {
        material: pick(['DC04', '1050A-O', '1050A-H14']),
        thickness: pick([0.5, 0.8, 1, 1.5, 2]),
        grain: pick([0, 0, 90, 45, 30]),
      },
      forming: { trim: pick([0, 2, 4]) },
    };
    if (orRefusal(() => readTray(file)) instanceof GatherpanError) continue;
    made++;
    yield file;
  }
}

/** As many trays as asked for, the same for a seed. */
export function* drawnTrays(count: number, seed: number): Generator<TraySpec> {
  const next = randomNumbers(seed);
  for (let made = 0; made < count; ) {
    const file = draw(next, `drawn-${seed}-${made}`);
    const spec = orRefusal(() => readTray(file));
    if (spec instanceof GatherpanError) continue;
    made++;
    yield spec;
  }
}
