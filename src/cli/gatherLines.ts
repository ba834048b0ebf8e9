/** What is said of the gather at the terminal: zones, verdict, changes, plan, hand; and the same as plain data. */
import type { ChangeSearch } from '../gather/changes.ts';
import type { HandFit } from '../gather/handFit.ts';
import type { Gather, GatherZone, Reason, ZoneRim } from '../gather/report.ts';
import type { WorkingPlan } from '../gather/workingPlan.ts';

/** What `--json` gives of a tray's gather: all figures and sentences, without the lines to draw. */
export type GatherFigures = Omit<Gather, 'zones' | 'tucks'> & {
  readonly zones: readonly Omit<GatherZone, 'boundary' | 'contours'>[];
  readonly tucks: readonly Omit<Gather['tucks'][number], 'marks'>[];
};

export function gatherFigures(gather: Gather): GatherFigures {
  return {
    ...gather,
    zones: gather.zones.map(({ boundary: _boundary, contours: _contours, ...rest }) => rest),
    tucks: gather.tucks.map(({ marks: _marks, ...rest }) => rest),
  };
}

type Line = readonly [title: string, text: string];

const written = (lines: readonly Line[]): string =>
  lines.map(([title, text]) => `  ${title.padEnd(10)} ${text}\n`).join('');

const mm = (length: number): string => `${length.toFixed(1)} mm`;

/** Where a zone lies, in words. */
function zonePlace({ corners }: GatherZone): string {
  if (corners.length === 0) return 'away from the corners';
  return `${corners.length === 1 ? 'corner' : 'corners'} ${corners.join(', ')}`;
}

function zoneWords(zone: GatherZone): string {
  const { kind, rim, peak, thickness, depth, area } = zone;
  const words = [
    `${kind === 'shrink' ? 'shrinks' : 'stretches'} by up to ${peak.percent.toFixed(1)} %`,
    `${kind === 'shrink' ? 'thickest' : 'thinnest'} ${thickness.value.toFixed(2)} mm`,
    `${mm(depth)} deep, ${(area / 100).toFixed(1)} cm²`,
  ];
  if (rim !== null) {
    words.push(
      `rim ${mm(rim.flatLength)} flat, ${mm(rim.formedLength)} formed: ${mm(Math.abs(rim.toLose))} to ${rim.toLose >= 0 ? 'lose' : 'gain'}`,
      reachWords(rim),
    );
  }
  return words.join(', ');
}

/** The same for mirrored corners. */
function reachWords({ reachBefore, reachAfter }: ZoneRim): string {
  const [less, more] = [Math.min(reachBefore, reachAfter), Math.max(reachBefore, reachAfter)];
  const both = less.toFixed(1) === more.toFixed(1) ? mm(less) : `${less.toFixed(1)} and ${mm(more)}`;
  return `reaches ${both} beyond the corner`;
}

const MARKS: Readonly<Record<Reason['weight'], string>> = { refuse: 'no', care: 'care', good: 'good' };

/** Zones and verdict; equal zones on one line. */
export function gatherLines({ zones, verdict, tucks, trimBand, hand, spread }: Gather): string {
  const groups = new Map<string, string[]>();
  for (const zone of zones) {
    const words = zoneWords(zone);
    groups.set(words, [...(groups.get(words) ?? []), zonePlace(zone)]);
  }
  const lines: Line[] = [...groups].map(([words, places]) => ['gather', `${places.join('; ')}: ${words}`]);
  const tuckWords = new Map<string, number>();
  for (const { count, pitch, takeUp, rounds } of tucks) {
    const words = `${count} tucks, one every ${mm(pitch)} of flat rim, each to take up ${mm(takeUp)} in ${rounds} rounds`;
    tuckWords.set(words, (tuckWords.get(words) ?? 0) + 1);
  }
  for (const [words, zoneCount] of tuckWords)
    lines.push(['tucks', `${zoneCount === 1 ? 'one zone' : `${zoneCount} zones`}: ${words}`]);
  lines.push(['hand', `${hand.toFixed(2)}${spread === 0 ? '' : `, spread ${spread} % of area`}`]);
  if (trimBand !== null) lines.push(['trim', trimWords(trimBand)]);
  lines.push(['verdict', verdict.word]);
  for (const { weight, sentence } of verdict.reasons) lines.push(['', `${MARKS[weight]}: ${sentence}`]);
  return written(lines);
}

const trimWords = (band: NonNullable<Gather['trimBand']>): string =>
  `rims of hands ${band.hands[0]} to ${band.hands[1]} lie from ${mm(-band.inwards)} to ${mm(band.outwards)} off this one: a trim of ${mm(band.trim)} covers them`;

/** What to change. */
export function changeLines({ changes, without, verdict }: ChangeSearch): string {
  const lines: Line[] = changes.map(({ sentence }) => ['change', sentence]);
  if (verdict !== 'can be worked' && without.length > 0)
    lines.push([
      'change',
      `No help by ${without.length === 1 ? 'itself' : 'themselves'}: ${without.join(', ')}.`,
    ]);
  return written(lines);
}

/** The working plan. */
export function planLines(plan: WorkingPlan, zones: readonly GatherZone[]): string {
  const lines: Line[] = [];
  for (const [number, stage] of plan.stages.entries()) {
    const what = stage.lip ? 'turn the lip' : `turn the wall up to ${stage.angle.toFixed(0)} degrees`;
    lines.push(['stage', `${number + 1}: ${what}`]);
    const groups = new Map<string, string[]>();
    for (const each of stage.zones) {
      const rim = each.rimToLose >= 0 ? 'to lose' : 'to gain';
      const words = `${mm(Math.abs(each.rimToLose))} of rim ${rim} (${mm(Math.abs(each.rimLost))} so far), strain added ${each.strainAdded.toFixed(2)}, then ${each.thickness.toFixed(2)} mm thick`;
      groups.set(words, [...(groups.get(words) ?? []), zonePlace(zones[each.zone]!)]);
    }
    for (const [words, places] of groups) lines.push(['', `${places.join('; ')}: ${words}`]);
  }
  for (const sentence of plan.anneals.sentences) lines.push(['anneal', sentence]);
  const heats = plan.anneals.steps.length > 0 || plan.anneals.temperature === null;
  if (heats) for (const caution of plan.anneals.cautions) lines.push(['caution', caution]);
  for (const caution of BENCH_CAUTIONS) lines.push(['caution', caution]);
  for (const sentence of plan.grain.sentences) lines.push(['grain', sentence]);
  lines.push(['trim', trimWords(plan.trimBand)]);
  return `${written(lines)}${plan.changes === null ? '' : changeLines(plan.changes)}`;
}

/** Of every gathered tray; common practice, no source. */
const BENCH_CAUTIONS = [
  'Cut edges and puckers are sharp: deburr the blank and wear gloves that resist cuts.',
  'Hammering on a stake is loud enough to harm: wear ear and eye protection.',
];

/** The hand found. */
export function handLines(fit: HandFit): string {
  return written([
    ...fit.measurements.map(
      ({ what, measured, predicted, error }): Line => [
        'measured',
        `${what} ${measured.toFixed(2)} ± ${error} mm, the fit gives ${predicted.toFixed(2)} mm`,
      ],
    ),
    ...fit.sentences.map((sentence): Line => ['hand', sentence]),
    ['blank', `cut for the hand ${fit.blankHand.toFixed(2)}`],
  ]);
}
