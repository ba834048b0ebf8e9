/** Random trays as a person draws them, the same ones on every machine: what a bench or a study of accuracy goes through. */
import { GatherpanError } from '../../errors.ts';
import { plasticLaw } from '../../material/law.ts';
import { resolveSheet } from '../../material/sheets.ts';
import { findSymmetry, symmetryVertices } from '../../mesh/symmetry.ts';
import { neutralSurface } from '../../tray/neutralSurface.ts';
import { readTray } from '../../tray/readTray.ts';
import type { TraySpec } from '../../tray/spec.ts';

/** What part of a tray its symmetry leaves to solve. */
export const PARTS = ['quarter', 'half', 'whole'] as const;
export type Part = (typeof PARTS)[number];

export interface SurveyTray {
  readonly part: Part;
  /** What stands in its file. */
  readonly file: TrayFile;
  readonly spec: TraySpec;
}

type TrayFile = { readonly name?: string } & Readonly<Record<string, unknown>>;

/** Numbers from 0 to 1, evenly spread: mulberry32 (T. Ettinger; public domain; from memory). */
export function randomNumbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t = (t + Math.imul(t ^ (t >>> 7), t | 61)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** How bold the trays are: as they are mostly drawn, or also large, high and round ones up to what is promised. */
export type Reach = 'everyday' | 'promised';

/** The trays of a survey: so many of each part, none trimmed. */
export function surveyTrays(
  wanted: Readonly<Record<Part, number>>,
  seed: number,
  reach: Reach = 'everyday',
): SurveyTray[] {
  const random = randomNumbers(seed);
  const left = { ...wanted };
  const trays: SurveyTray[] = [];
  while (PARTS.some((part) => left[part] > 0)) {
    // Mostly the part that is wanted most: else wholes would be drawn in vain.
    const part = PARTS.reduce((most, each) => (left[each] > left[most] ? each : most));
    const file = drawn(part, random, `${part}-${wanted[part] - left[part] + 1}`, reach);
    const spec = readable(file);
    if (spec === null || partOf(spec) !== part) continue;
    left[part]--;
    trays.push({ part, file, spec });
  }
  return trays.sort((a, b) => PARTS.indexOf(a.part) - PARTS.indexOf(b.part));
}

function readable(file: TrayFile): TraySpec | null {
  try {
    return readTray(file);
  } catch (error) {
    // What does not fit together is drawn again.
    if (error instanceof GatherpanError) return null;
    throw error;
  }
}

function partOf(spec: TraySpec): Part | null {
  const sheet = resolveSheet(spec.sheet);
  const law = plasticLaw(sheet.material, sheet.grain);
  const symmetry = findSymmetry(
    symmetryVertices(spec),
    neutralSurface(spec).loop,
    law.isotropicInPlane ? null : sheet.grain,
  );
  return symmetry === null
    ? 'whole'
    : symmetry.order === 1
      ? 'half'
      : symmetry.order === 2
        ? 'quarter'
        : null;
}

const SHEETS = [
  ['DC04', 1],
  ['DC04', 1.5],
  ['DC01', 0.8],
  ['1050A-O', 1.5],
  ['1.4301', 0.8],
  ['DX51D+Z', 0.8],
  ['Cu-ETP-R220', 1],
] as const;

function drawn(part: Part, random: () => number, name: string, reach: Reach): TrayFile {
  const between = (low: number, high: number, step: number): number =>
    Math.round((low + random() * (high - low)) / step) * step;
  /** Evenly spread over the logarithm. */
  const size = (low: number, high: number, step: number): number =>
    Math.round((low * (high / low) ** random()) / step) * step;
  const chance = (share: number): boolean => random() < share;
  const oneOf = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;

  const length = reach === 'everyday' ? size(100, 800, 10) : size(60, 2000, 1);
  const width = Math.max(60, Math.round((length * (0.4 + 0.6 * random())) / 10) * 10);
  const bottomRadius =
    reach === 'everyday'
      ? oneOf([6, 8, 10, 12, 15, 20, 25, 30].filter((radius) => 5 * radius < width))
      : size(3, Math.min(100, width / 2.5), 0.1);
  const draft = chance(0.35) ? oneOf([3, 5, 8, 12]) : 0;
  const height = between(1, 3, 0.1) * bottomRadius;
  const radius = (): number => between(1, 3, 0.25) * bottomRadius;
  const [material, thickness] = oneOf(SHEETS);
  const [own, other] = [radius(), radius()];
  const tilted = part === 'whole' && chance(0.3);
  const grain = tilted ? oneOf([30, 45]) : oneOf([0, 0, 90]);
  const rolled = Math.round(height);
  const lip = chance(0.25)
    ? {
        kind: 'lip',
        direction: chance(0.8) ? 'out' : 'in',
        bendRadius: oneOf([4, 5, 6, 8]),
        width: between(10, 25, 5),
      }
    : undefined;
  let plan: TrayFile;
  let heights: readonly number[] | TrayFile | undefined;
  const taller = (): number => rolled + between(0.2, 1, 0.1) * rolled;
  const way = random();
  if (part === 'quarter' || tilted) {
    plan = { length, width, cornerRadius: own };
  } else if (part === 'half') {
    if (way < 0.45) plan = { length, width, cornerRadius: [own, other, other, own] };
    else if (way < 0.6) plan = { length, width, cornerRadius: own, openEdges: [oneOf(['left', 'top'])] };
    else if (way < 0.8) {
      plan = { length, width, cornerRadius: own };
      heights = { [oneOf(['left', 'top'])]: Math.round(taller()) };
    } else plan = lShaped(length, length, random, own, other);
  } else if (way < 0.4) {
    plan = { length, width, cornerRadius: [own, other, radius(), radius()] };
  } else if (way < 0.65) {
    plan = { length, width, cornerRadius: own };
    heights = { left: Math.round(taller()), top: Math.round(taller()) };
  } else plan = way < 0.85 ? lShaped(length, width, random, own, other) : uShaped(length, width, random, own);
  return {
    name,
    plan,
    section: {
      bottomRadius,
      height: rolled,
      draft,
      ...(heights === undefined ? {} : { heights }),
      ...(lip === undefined || heights !== undefined ? {} : { rim: lip }),
    },
    sheet: { material, thickness, grain },
    forming: { trim: 0 },
  };
}

interface Corner {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

const polygon = (points: readonly (readonly [number, number, number])[]): { vertices: Corner[] } => ({
  vertices: points.map(([x, y, radius]) => ({ x, y, radius })),
});

/** An L; of equal arms where length and width are one. */
function lShaped(
  length: number,
  width: number,
  random: () => number,
  outer: number,
  inner: number,
): TrayFile {
  const arm = Math.round((0.4 + 0.2 * random()) * 20) / 20;
  const [x, y] = [Math.round(arm * length), Math.round(arm * width)];
  return polygon([
    [0, 0, outer],
    [length, 0, outer],
    [length, y, outer],
    [x, y, 1.5 * inner],
    [x, width, outer],
    [0, width, outer],
  ]);
}

function uShaped(length: number, width: number, random: () => number, radius: number): TrayFile {
  const [left, right, floor] = [0, 1, 2].map(() => 0.25 + 0.1 * random()) as [number, number, number];
  const [a, b, c] = [Math.round(left * length), Math.round((1 - right) * length), Math.round(floor * width)];
  return polygon([
    [0, 0, radius],
    [length, 0, radius],
    [length, width, radius],
    [b, width, radius],
    [b, c, 1.5 * radius],
    [a, c, 1.5 * radius],
    [a, width, radius],
    [0, width, radius],
  ]);
}
