/**
 * What to change so that the verdict turns: the nearest larger corner radius, smaller bottom radius, lower wall,
 * thicker or softer sheet that would do, each found by coarse solves and settled by finer and full ones. What is offered has been
 * developed and planned like the tray itself, so `make` and `plan` take it.
 */

import { GatherpanError } from '../errors.ts';
import type { VerdictWord } from '../gather/report.ts';
import { solveSpec } from '../gather/solvedTray.ts';
import { hasLip } from '../gather/stageSurface.ts';
import { type Peaks, peaksOf, shrinksTooFar, verdictOf } from '../gather/verdict.ts';
import { workOf } from '../gather/work.ts';
import { workingPlan } from '../gather/workingPlan.ts';
import { listSheets, resolveSheet } from '../material/sheets.ts';
import { workUsed } from '../material/temper.ts';
import { ROUGH } from '../mesh/traySkeleton.ts';
import { type SolveOptions, StructureCache } from '../solve/solveTray.ts';
import { trayFaults } from '../tray/checks.ts';
import type { TraySpec } from '../tray/spec.ts';
import { percentFromLogStrain } from '../units.ts';
import { givenLength, type Statement, statement } from '../words/statement.ts';
import { developTray } from './developTray.ts';

export interface Change {
  readonly about: 'corner radius' | 'bottom radius' | 'height' | 'thickness' | 'sheet';
  /** Field of the tray file. */
  readonly path: string;
  readonly from: number | string;
  readonly to: number | string;
  /** Verdict with the change, from a full solve. */
  readonly verdict: VerdictWord;
  /** Largest shrink (positive) and thickening, per cent; work of the hardest-worked place, logarithmic. */
  readonly shrink: number;
  readonly thickening: number;
  readonly strain: number;
  /** That work as a part of what the sheet takes between anneals, per cent. */
  readonly workUsed: number;
  readonly sentence: Statement;
}

export interface ChangeSearch {
  /** The verdict as the tray stands; nothing is searched when it is the best there is. */
  readonly verdict: VerdictWord;
  readonly changes: readonly Change[];
  /** Changes that were tried and do not turn the verdict by themselves. */
  readonly without: readonly Change['about'][];
  /** Whether the search was ended before everything was tried: what is in neither list was not. */
  readonly cutShort: boolean;
}

/** Thickness of sheet as sold, mm: common practice, no source. */
const THICKNESSES = [0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.2, 1.25, 1.5, 1.75, 2, 2.5, 3];
/** Accuracy of the search alone; a change it finds is solved again in full. */
const SEARCH_SOLVE: Partial<SolveOptions> = {
  accuracy: 0.2,
  density: ROUGH,
  minimumRefinements: 0,
  maximumRefinements: 0,
};
/** The tray itself on its coarsest mesh, at a tenth of the time of a full solve. */
const FAIR_SOLVE: Partial<SolveOptions> = { minimumRefinements: 0, maximumRefinements: 0 };
/** Most fair solves along one measure, and most full ones. */
const MOST_TRIES = 12;
const RANK: readonly VerdictWord[] = ['can be worked', 'can be worked with care', 'not in one piece'];
const rank = (word: VerdictWord): number => RANK.indexOf(word);

/** A change along one measure: candidates from the nearest to the farthest. */
interface Line {
  readonly about: Change['about'];
  readonly path: string;
  readonly from: number | string;
  readonly values: readonly (number | string)[];
  /** Whether a value further on is never worse, so that the nearest can be found by halving. */
  readonly ordered: boolean;
  readonly apply: (value: number | string) => TraySpec;
}

interface Judged {
  readonly word: VerdictWord;
  readonly peaks: Peaks;
  /** Whether a working plan can be made too; null where that was not tried. */
  readonly planned: boolean | null;
}

/** Judges a tray; null where it has no flat. */
type Judge = (spec: TraySpec, how: 'rough' | 'fair' | 'full' | 'planned') => Judged | null;

/**
 * Searches the nearest changes that turn a tray's verdict to a better one.
 *
 * @param known the tray's verdict where it is known already, which saves a solve
 * @param late  whether the time is up; asked before each solve, so that the search ends with what it has
 */
export function searchChanges(
  spec: TraySpec,
  known?: VerdictWord,
  late: () => boolean = () => false,
): ChangeSearch {
  const structures = new StructureCache(32);
  const judge: Judge = (each, how) => {
    if (late()) throw new TimeIsUp();
    if (how === 'rough') return judgedRoughly(hardestCorner(each), { structures, ...SEARCH_SOLVE });
    if (how === 'fair') return judgedRoughly(each, { structures, ...FAIR_SOLVE });
    return judgedInFull(each, { structures }, how === 'planned');
  };
  const changes: Change[] = [];
  const without: Change['about'][] = [];
  let word = known ?? 'not in one piece';
  try {
    // A tray without a flat is one that cannot be made.
    word = known ?? judge(spec, 'full')?.word ?? 'not in one piece';
    if (rank(word) === 0) return { verdict: word, changes, without, cutShort: false };
    for (const line of lines(spec)) {
      const found = nearestChange(line, rank(word), judge);
      if (found === null) without.push(line.about);
      else changes.push(found);
    }
  } catch (error) {
    if (!(error instanceof TimeIsUp)) throw error;
    return { verdict: word, changes, without, cutShort: true };
  }
  return { verdict: word, changes, without, cutShort: false };
}

/** Thrown by the search to itself. */
class TimeIsUp extends Error {}

/**
 * A tray with more symmetry whose verdict is about the same, to search with: a rectangle whose corners are all like
 * its tightest one, with the grain along a side. What the search finds is solved again as it is.
 */
function hardestCorner(spec: TraySpec): TraySpec {
  const { plan, section, forming, sheet } = spec;
  const along = sheet.grain % 90 === 0 ? sheet : { ...sheet, grain: 90 * Math.round(sheet.grain / 90) };
  if ('vertices' in plan || typeof plan.cornerRadius === 'number') return { ...spec, sheet: along };
  const plain =
    plan.openEdges === undefined && forming.corners === undefined && section.heights === undefined;
  if (!plain) return { ...spec, sheet: along };
  return { ...spec, sheet: along, plan: { ...plan, cornerRadius: Math.min(...plan.cornerRadius) } };
}

function judgedRoughly(spec: TraySpec, options: Partial<SolveOptions>): Judged | null {
  try {
    const solved = solveSpec(spec, options);
    const { strains, sheet, surface } = solved;
    // Of a wall the way takes little more work than straight, and a full solve settles it.
    const peaks = peaksOf(strains, sheet, hasLip(surface) ? workOf(solved).work : undefined);
    if (shrinksTooFar(peaks, sheet, spec.forming.hand)) return null;
    return { word: verdictOf(peaks, sheet, surface.section.developed).word, peaks, planned: null };
  } catch (error) {
    if (error instanceof GatherpanError && error.code !== 'TIMEOUT') return null;
    throw error;
  }
}

function judgedInFull(spec: TraySpec, solve: Partial<SolveOptions>, withPlan: boolean): Judged | null {
  try {
    const made = developTray(spec, { solve });
    if (made.kind === 'no flat') return null;
    const { majorStrain: major, minorStrain: minor, thicknessStrain, equivalentStrain } = made.field;
    const strains = { major, minor, thickness: thicknessStrain, equivalent: equivalentStrain };
    const judged = { word: made.gather.verdict.word, peaks: peaksOf(strains, made.sheet, made.gather.work) };
    if (!withPlan) return { ...judged, planned: null };
    try {
      workingPlan(made);
      return { ...judged, planned: true };
    } catch (error) {
      if (error instanceof GatherpanError) return { ...judged, planned: false };
      throw error;
    }
  } catch (error) {
    // Another fault of the changed tray, such as a hole that no longer fits: no way out.
    if (error instanceof GatherpanError) return null;
    throw error;
  }
}

/** The nearest value along a line that turns the verdict and that a plan can be made for. */
function nearestChange(line: Line, worse: number, judge: Judge): Change | null {
  const usable = line.values.filter((value) => trayFaults(line.apply(value), 'mm').length === 0);
  const last = usable.length - 1;
  const turns = (position: number, how: Parameters<Judge>[1]): Judged | null => {
    const result = judge(line.apply(usable[position]!), how);
    return result !== null && rank(result.word) < worse ? result : null;
  };
  const offered = (position: number): Change | null => {
    const result = turns(position, 'planned');
    return result?.planned === true ? change(line, usable[position]!, result) : null;
  };
  if (!line.ordered) {
    for (let position = 0; position <= last; position++) {
      if (turns(position, 'rough') === null) continue;
      const found = offered(position);
      if (found !== null) return found;
    }
    return null;
  }
  if (last < 0 || turns(last, 'rough') === null) return null;
  const rough = firstThat((position) => turns(position, 'rough') !== null, -1, last);
  const fair = settled(rough, last, (position) => turns(position, 'fair') !== null);
  const nearest = settled(fair, last, (position) => turns(position, 'full') !== null);
  // One that turns the verdict but that no plan can be made for is too near.
  for (let step = 1, position = nearest; position <= last; position += step, step *= 2) {
    const found = offered(position);
    if (found !== null) return found;
  }
  return null;
}

/** First position that holds, by halving. @param below does not hold @param above does */
function firstThat(holds: (position: number) => boolean, below: number, above: number): number {
  let [low, high] = [below, above];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** Goes from a rough answer in growing steps until the full solves bracket their own, and halves that. */
function settled(rough: number, last: number, holds: (position: number) => boolean): number {
  let tries = 0;
  const tried = (position: number): boolean => {
    tries++;
    return holds(position);
  };
  let [low, high] = [-1, last];
  if (tried(rough)) {
    high = rough;
    for (let step = 1; high > low + 1 && tries < MOST_TRIES; step *= 2) {
      const nearer = Math.max(low + 1, high - step);
      if (!tried(nearer)) {
        low = nearer;
        break;
      }
      high = nearer;
    }
  } else {
    low = rough;
    for (let step = 1; low < last && tries < MOST_TRIES; step *= 2) {
      const farther = Math.min(last, low + step);
      if (tried(farther)) {
        high = farther;
        break;
      }
      low = farther;
    }
  }
  return firstThat((position) => tries < MOST_TRIES && tried(position), low, high);
}

function change(line: Line, to: number | string, { word, peaks }: Judged): Change {
  const found = {
    about: line.about,
    path: line.path,
    from: line.from,
    to,
    verdict: word,
    shrink: -percentFromLogStrain(-peaks.shrink),
    thickening: percentFromLogStrain(peaks.thickening),
    strain: peaks.work,
    workUsed: workUsed(resolveSheet(line.apply(to).sheet).material, peaks.work),
  };
  return { ...found, sentence: changeStatement(found) };
}

export function changeStatement({
  about,
  from,
  to,
  verdict,
  shrink,
  thickening,
  workUsed: used,
}: Omit<Change, 'sentence'>): Statement {
  return statement(
    'plan.change.sentence',
    changeItself(about, from, to),
    statement(`verdict.words.${verdict}`),
    shrink.toFixed(0),
    thickening.toFixed(0),
    used.toFixed(0),
  );
}

function changeItself(about: Change['about'], from: Change['from'], to: Change['to']): Statement {
  // Only sheets are told by name.
  if (about === 'sheet') return statement('plan.change.sheet', String(to), String(from));
  const [before, after] = [Number(from), Number(to)];
  switch (about) {
    case 'corner radius':
      return statement('plan.change.cornerRadius', givenLength(after, 1), givenLength(before, 1));
    case 'bottom radius':
      return statement('plan.change.bottomRadius', givenLength(after, 1), givenLength(before, 1));
    case 'height': {
      const strip = givenLength(Number((before - after).toFixed(2)), 1);
      return statement('plan.change.height', givenLength(after, 1), givenLength(before, 1), strip);
    }
    case 'thickness':
      return statement('plan.change.thickness', givenLength(after, 2), givenLength(before, 2));
  }
}

/** Steps of at least a sixtieth of the way, on whole or half millimetres. */
function steps(from: number, to: number): number[] {
  const way = Math.abs(to - from);
  const step = [0.5, 1, 2, 5, 10, 20, 50].find((size) => way / size <= 64) ?? 100;
  const out: number[] = [];
  const up = to > from;
  let at = up ? Math.floor(from / step + 1e-9) * step + step : Math.ceil(from / step - 1e-9) * step - step;
  for (; up ? at <= to + 1e-9 : at >= to - 1e-9; at += up ? step : -step) out.push(at);
  return out;
}

/** Down in whole mm, below 20 mm in halves: the largest height that works is to be known to 1 mm or 5 %. */
function finely(from: number, to: number): number[] {
  const out: number[] = [];
  for (let at = Math.ceil(2 * from) / 2 - 0.5; at >= to; at -= 0.5) {
    if (at < from && (at <= 20 || at % 1 === 0)) out.push(at);
  }
  return out;
}

function lines(spec: TraySpec): Line[] {
  // The height first: it is the one that always helps, and a search may run out of time.
  const out = [heightLine(spec), cornerRadiusLine(spec), bottomRadiusLine(spec), thicknessLine(spec)];
  const sheet = sheetLine(spec);
  return sheet === null ? out : [...out, sheet];
}

function cornerRadiusLine(spec: TraySpec): Line {
  const { plan } = spec;
  const radii =
    'vertices' in plan
      ? plan.vertices.map(({ radius }) => radius)
      : typeof plan.cornerRadius === 'number'
        ? [plan.cornerRadius]
        : [...plan.cornerRadius];
  const rounded = radii.filter((radius) => radius > 0);
  const smallest = Math.min(...(rounded.length > 0 ? rounded : [0]));
  const largest = 'vertices' in plan ? 4 * smallest + 100 : Math.floor(Math.min(plan.length, plan.width) / 2);
  // Corners that are tighter than the value get it, the others stay as they are.
  const widened = (radius: number, value: number): number => (radius > 0 ? Math.max(radius, value) : radius);
  return {
    about: 'corner radius',
    path: 'vertices' in plan ? 'plan.vertices' : 'plan.cornerRadius',
    from: smallest,
    values: rounded.length > 0 ? steps(smallest, largest) : [],
    ordered: true,
    apply: (value) => {
      const to = value as number;
      if ('vertices' in plan) {
        const vertices = plan.vertices.map((v) => ({ ...v, radius: widened(v.radius, to) }));
        return { ...spec, plan: { ...plan, vertices } };
      }
      const cornerRadius =
        typeof plan.cornerRadius === 'number'
          ? to
          : (plan.cornerRadius.map((radius) => widened(radius, to)) as unknown as typeof plan.cornerRadius);
      return { ...spec, plan: { ...plan, cornerRadius } };
    },
  };
}

function bottomRadiusLine(spec: TraySpec): Line {
  const { bottomRadius } = spec.section;
  const least = spec.measured === 'outside' ? 2 * spec.sheet.thickness : spec.sheet.thickness;
  return {
    about: 'bottom radius',
    path: 'section.bottomRadius',
    from: bottomRadius,
    values: steps(bottomRadius, least),
    ordered: true,
    apply: (value) => ({ ...spec, section: { ...spec.section, bottomRadius: value as number } }),
  };
}

function heightLine(spec: TraySpec): Line {
  const { height, heights } = spec.section;
  return {
    about: 'height',
    path: 'section.height',
    from: height,
    values: finely(height, spec.section.bottomRadius / 2),
    ordered: true,
    apply: (value) => {
      const to = value as number;
      const section = { ...spec.section, height: to };
      return {
        ...spec,
        section:
          heights === undefined ? section : { ...section, heights: heights.map((h) => Math.min(h, to)) },
      };
    },
  };
}

function thicknessLine(spec: TraySpec): Line {
  const { thickness } = spec.sheet;
  return {
    about: 'thickness',
    path: 'sheet.thickness',
    from: thickness,
    values: THICKNESSES.filter((value) => value > thickness),
    ordered: true,
    apply: (value) => ({ ...spec, sheet: { ...spec.sheet, thickness: value as number } }),
  };
}

/** Sheets of the same metal that take more strain between anneals: the same alloy first, then the nearest. */
function sheetLine(spec: TraySpec): Line | null {
  const { material, thickness } = spec.sheet;
  if (typeof material !== 'string') return null;
  const table = listSheets();
  const own = table.find((each) => each.name === material);
  if (own === undefined) return null;
  // Names of aluminium and copper alloys end in a hyphen and the temper.
  const alloy = (name: string): string => name.replace(/-[^-]*$/, '');
  const softer = table
    .filter((each) => each.family === own.family && each.name !== own.name)
    .filter((each) => each.anneal.strainBudget > own.anneal.strainBudget)
    .filter((each) => each.thicknessRange[0] <= thickness && thickness <= each.thicknessRange[1])
    .sort(
      (a, b) =>
        Number(alloy(b.name) === alloy(own.name)) - Number(alloy(a.name) === alloy(own.name)) ||
        a.anneal.strainBudget - b.anneal.strainBudget,
    );
  return {
    about: 'sheet',
    path: 'sheet.material',
    from: own.name,
    values: softer.map((each) => each.name),
    ordered: false,
    apply: (value) => ({ ...spec, sheet: { ...spec.sheet, material: value as string } }),
  };
}
