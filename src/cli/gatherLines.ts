/** What is said of the gather at the terminal: zones, verdict, changes, plan, hand; and the same as plain data. */
import { proposesWeld } from '../gather/acts.ts';
import type { AnnealStep } from '../gather/anneals.ts';
import type { HandFit } from '../gather/handFit.ts';
import type { KeptTrial } from '../gather/keptTrials.ts';
import type { Gather, GatherZone, Verdict, ZoneRim } from '../gather/report.ts';
import type { StageZone } from '../gather/stages.ts';
import type { WorkingPlan } from '../gather/workingPlan.ts';
import { type ActCautions, cautionsOf } from '../material/cautions.ts';
import type { Sheet } from '../material/sheet.ts';
import { leftToDo, type StageBend, stageBend, usedPercent, workedInTurn } from '../papers/benchStages.ts';
import { ownWriter } from '../papers/lengths.ts';
import { edgeWords, tuckWords, wayOf } from '../papers/tuckWords.ts';
import type { ChangeSearch } from '../pattern/changes.ts';
import { cornerCount, cornerName } from '../pattern/cornerName.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { RimMove } from '../pattern/rimMoves.ts';
import type { TraySpec } from '../tray/spec.ts';
import { english, type Words } from '../words/english.ts';
import {
  type InWords,
  inMillimetres,
  inWords,
  type LengthWriter,
  sentences,
  written,
} from '../words/statement.ts';
import { type Lengths, lengthsOf } from './lengths.ts';

/** What `--json` gives of a tray's gather: all figures and sentences, without the lines to draw. */
export type GatherFigures = InWords<Omit<Gather, 'zones' | 'tucks'>> & {
  readonly zones: readonly (Omit<GatherZone, 'boundary'> & { readonly letters: readonly string[] })[];
  readonly tucks: readonly Omit<Gather['tucks'][number], 'marks'>[];
};

export function gatherFigures(pattern: Gathered, table: Words): GatherFigures {
  const { gather } = pattern;
  const { zones: _zones, tucks: _tucks, ...rest } = gather;
  return {
    ...inWords(rest, table),
    zones: gather.zones.map(({ boundary: _boundary, ...rest }) => ({
      ...rest,
      letters: rest.corners.map((index) => cornerName(pattern, index)),
    })),
    tucks: gather.tucks.map(({ marks: _marks, ...rest }) => rest),
  };
}

type Line = readonly [title: string, text: string];

const lineText = (lines: readonly Line[]): string =>
  lines.map(([title, text]) => `  ${title.padEnd(10)} ${text}\n`).join('');

type TerminalWords = Words['terminal'];

/** What a gather is told of. */
type Gathered = Pick<FlatPattern, 'kind' | 'spec' | 'gather'>;

/** Where a zone lies, in words. */
function zonePlace({ corners: all }: GatherZone, pattern: Gathered, words: TerminalWords): string {
  const count = cornerCount(pattern);
  const named = (indices: readonly number[]): string =>
    indices.map((index) => cornerName(pattern, index)).join(', ');
  const [corners, sides] = [all.filter((index) => index < count), all.filter((index) => index >= count)];
  const said = [
    ...(corners.length === 0 ? [] : [(corners.length === 1 ? words.corner : words.corners)(named(corners))]),
    ...(sides.length === 0
      ? []
      : [(sides.length === 1 ? words.curvedSide : words.curvedSides)(named(sides))]),
  ];
  return said.length === 0 ? words.awayFromCorners : said.join(', ');
}

function zoneWords(zone: GatherZone, lengths: Lengths, words: TerminalWords): string {
  const { kind, rim, peak, thickness, depth, area } = zone;
  const { whole } = lengths;
  const percent = peak.percent.toFixed(1);
  const value = whole(thickness.value, 2);
  const said = [
    kind === 'shrink' ? words.shrinks(percent) : words.stretches(percent),
    kind === 'shrink' ? words.thickest(value) : words.thinnest(value),
    words.deep(whole(depth), lengths.zoneArea(area)),
  ];
  if (rim !== null) {
    const change = rim.toLose >= 0 ? words.rimToLose : words.rimToGain;
    said.push(
      change(whole(rim.flatLength), whole(rim.formedLength), whole(Math.abs(rim.toLose))),
      reachWords(rim, lengths, words),
    );
  }
  return said.join(', ');
}

/** The same for mirrored corners. */
function reachWords(
  { reachBefore, reachAfter }: ZoneRim,
  { bare, whole }: Lengths,
  words: TerminalWords,
): string {
  const [less, more] = [Math.min(reachBefore, reachAfter), Math.max(reachBefore, reachAfter)];
  return whole(less) === whole(more)
    ? words.reaches(whole(less))
    : words.reachesBoth(bare(less), whole(more));
}

/** Zones and verdict; equal zones on one line. */
export function gatherLines(pattern: Gathered, table: Words = english): string {
  const { terminal: words } = table;
  const { zones, verdict, tucks, trimBand, hand, spread } = pattern.gather;
  const { titles } = words;
  const lengths = lengthsOf(pattern.spec, words);
  const groups = new Map<string, string[]>();
  for (const zone of zones) {
    const said = zoneWords(zone, lengths, words);
    groups.set(said, [...(groups.get(said) ?? []), zonePlace(zone, pattern, words)]);
  }
  const lines: Line[] = [...groups].map(([said, places]) => [titles.gather, `${places.join('; ')}: ${said}`]);
  const tucksAlike = new Map<string, string[]>();
  for (const tuck of tucks) {
    const said = tuckWords(tuck, lengths.unit, table).replaceAll('\u00a0', ' ');
    tucksAlike.set(said, [...(tucksAlike.get(said) ?? []), zonePlace(zones[tuck.zone]!, pattern, words)]);
  }
  for (const [said, places] of tucksAlike)
    lines.push([titles[wayOf(pattern)], `${places.join('; ')}: ${said}`]);
  for (const said of edgeWords(pattern, lengths.unit, table))
    lines.push(['', said.replaceAll('\u00a0', ' ')]);
  const work = words.hand(hand.toFixed(2), (100 * hand).toFixed(0));
  lines.push([titles.hand, spread === 0 ? work : words.spread(work, String(spread))]);
  if (trimBand !== null) lines.push([titles.trim, trimWords(trimBand, lengths, words)]);
  return lineText(lines) + verdictLines(verdict, lengths.sentence, table);
}

/** The verdict and its reasons. */
export function verdictLines(
  { word, reasons }: Verdict,
  lengths: LengthWriter = inMillimetres,
  table: Words = english,
): string {
  const { terminal: words, verdict: judged } = table;
  return lineText([
    [words.titles.verdict, judged.words[word]],
    ...reasons.map(
      ({ weight, sentence }): Line => [
        '',
        words.marked(words.marks[weight], written(sentence, table, lengths)),
      ],
    ),
  ]);
}

const trimWords = (
  { inwards, outwards, strengths, trim }: NonNullable<Gather['trimBand']>,
  { bare, whole }: Lengths,
  words: TerminalWords,
): string => {
  const hands = [bare(-inwards), whole(outwards)] as const;
  return strengths === null
    ? words.trim(...hands, whole(trim))
    : words.trimOpen(...hands, bare(-strengths.inwards), whole(strengths.outwards), whole(trim));
};

/** What to change. */
export function changeLines(
  { changes, without, verdict, cutShort }: ChangeSearch,
  lengths: LengthWriter = inMillimetres,
  table: Words = english,
): string {
  const { terminal: words, plan } = table;
  const { titles } = words;
  const lines: Line[] = changes.map(({ sentence }) => [titles.change, written(sentence, table, lengths)]);
  if (verdict !== 'can be worked' && without.length > 0) {
    const list = without.map((about) => plan.change.about[about]).join(', ');
    lines.push([titles.change, without.length === 1 ? words.noHelpAlone(list) : words.noHelp(list)]);
  }
  if (cutShort) lines.push([titles.change, plan.change.cutShort]);
  return lineText(lines);
}

/** Cautions, one line an act. */
export const cautionLines = (list: readonly ActCautions[], table: Words = english): string =>
  lineText(
    list.map(({ act, sentences: said }) => [
      table.terminal.titles.caution,
      table.terminal.act(table.cautions.acts[act], sentences(said, table).join(' ')),
    ]),
  );

/** What to change, with the cautions of a strip that would be welded on. */
export const proposalLines = (
  found: ChangeSearch,
  { spec, sheet: { material } }: { readonly spec: TraySpec; readonly sheet: Sheet },
  table: Words = english,
): string =>
  `${changeLines(found, ownWriter(spec), table)}${proposesWeld(found) ? cautionLines(cautionsOf(['weld'], material), table) : ''}`;

/** The working plan. */
export function planLines(plan: WorkingPlan, pattern: FlatPattern, table: Words = english): string {
  const { terminal: words } = table;
  const { titles } = words;
  const lengths = lengthsOf(pattern.spec, words);
  const { whole } = lengths;
  const { steps } = plan.anneals;
  const anneals = sentences(plan.anneals.sentences, table, lengths.sentence);
  const annealing = (wanted: (step: AnnealStep) => boolean): Line[] =>
    steps.flatMap((step, i): Line[] => (wanted(step) ? [[titles.anneal, anneals[i]!]] : []));
  const before: Line[] = sentences(plan.grain.sentences, table, lengths.sentence).map((sentence) => [
    titles.grain,
    sentence,
  ]);
  if (plan.trimBand !== null) before.push([titles.trim, trimWords(plan.trimBand, lengths, words)]);
  before.push(...annealing(({ when }) => when === 'before'));
  const stages = plan.stages.map((stage, number): Line[] => {
    const what = stage.lip ? words.turnLip : words.turnWall(stage.angle.toFixed(0));
    const order = workedInTurn(pattern, stage);
    const groups = new Map<string, string[]>();
    for (const each of stage.zones) {
      const change = each.rimToLose >= 0 ? words.stageLoses : words.stageGains;
      const work = words.stageWork(usedPercent(each, plan), whole(each.thickness, 2));
      const tape = [
        whole(each.tapeBefore),
        whole(each.tapeAfter),
        toComeWords(each, lengths, words),
      ] as const;
      const taped = pattern.gather.zones[each.zone]!.rim !== null;
      const said = taped ? `${change(whole(Math.abs(each.rimToLose)), ...tape)}, ${work}` : work;
      groups.set(said, [
        ...(groups.get(said) ?? []),
        zonePlace(pattern.gather.zones[each.zone]!, pattern, words),
      ]);
    }
    return [
      [titles.stage, `${number + 1}: ${order.length < 2 ? what : words.inTurn(what, order.join(', '))}`],
      ['', sidesWords(stageBend(pattern, stage, 0), lengths, words)],
      ...[...groups].map(([said, places]): Line => ['', `${places.join('; ')}: ${said}`]),
      ...annealing((step) => step.when !== 'before' && step.stage === number),
    ];
  });
  // What holds for all anneals, or that there are none.
  const after = anneals.slice(steps.length).map((sentence): Line => [titles.anneal, sentence]);
  const paragraphs = [before, ...stages, after].filter((lines) => lines.length > 0).map(lineText);
  return `${paragraphs.join('\n')}${cautionLines(plan.cautions, table)}`;
}

function toComeWords(zone: StageZone, { whole }: Lengths, { left }: TerminalWords): string {
  const wanted = leftToDo(zone);
  return wanted === null ? left.nothing : left[wanted](whole(Math.abs(zone.rimToCome)));
}

/** How the sides are bent in a stage, so that they are left at its angle. */
const sidesWords = (
  { insideRadius, held, left }: StageBend,
  { whole }: Lengths,
  words: TerminalWords,
): string => words.sides(whole(insideRadius), held.toFixed(0), left.toFixed(0));

/** The hand found. */
export function handLines(fit: HandFit, spec: TraySpec, table: Words = english): string {
  const { terminal: words } = table;
  const { titles } = words;
  const { bare, whole, sentence: lengths } = lengthsOf(spec, words);
  return lineText([
    ...fit.measurements.map(
      ({ what, measured, predicted, error }): Line => [
        titles.measured,
        words.measured(what, bare(measured, 2), whole(error, 2), whole(predicted, 2)),
      ],
    ),
    ...sentences(fit.sentences, table, lengths).map((sentence): Line => [titles.hand, sentence]),
  ]);
}

/** How the cut line moves. @param blankHand the hand that the blank was cut for before */
export function moveLines(
  blankHand: number,
  moves: readonly RimMove[],
  spec: TraySpec,
  table: Words = english,
): string {
  const { terminal: words } = table;
  const { whole } = lengthsOf(spec, words);
  const { blank } = words.titles;
  return lineText([
    [blank, words.cutForHand(blankHand.toFixed(2))],
    ...groupedMoves(moves, whole).map(
      ({ letters, move }): Line => [
        blank,
        move >= 0 ? words.movesOut(letters, whole(move)) : words.movesIn(letters, whole(-move)),
      ],
    ),
  ]);
}

/** Trials that are kept, one a line. */
export function trialLines(trials: readonly KeptTrial[], { terminal: words }: Words = english): string {
  const percent = (share: number): string => (100 * share).toFixed(0);
  const lines = trials.map(
    ({ name, person, sheet, hand }): Line => [
      words.titles.trial,
      words.trial(
        name,
        person ?? words.nobody,
        trialSheet(sheet, words),
        words.trialHand(hand.value.toFixed(2), percent(hand.low), percent(hand.high)),
      ),
    ],
  );
  return lineText(lines.length > 0 ? lines : [[words.titles.trial, words.noTrials]]);
}

const trialSheet = ({ material, thickness }: KeptTrial['sheet'], words: Words['terminal']): string =>
  words.trialSheet(material, `${thickness.toFixed(2)} mm`);

/** That a trial was worked of another sheet than a tray is of. */
export const otherSheetLine = (
  { trial, otherSheet }: { readonly trial: KeptTrial; readonly otherSheet: boolean },
  { terminal: words }: Words = english,
): string => {
  const { name, sheet } = trial;
  const said = words.otherSheet(name, trialSheet(sheet, words));
  return otherSheet ? lineText([[words.titles.caution, said]]) : '';
};

export const keptLine = (name: string, file: string, { terminal: words }: Words = english): string =>
  lineText([[words.titles.kept, words.kept(name, file)]]);

/** Corners whose rim moves alike. */
function groupedMoves(
  moves: readonly RimMove[],
  whole: Lengths['whole'],
): { letters: string; move: number }[] {
  const groups = new Map<string, { letters: string[]; move: number }>();
  for (const { letter, move } of moves) {
    const key = whole(move);
    const known = groups.get(key);
    if (known === undefined) groups.set(key, { letters: [letter], move });
    else known.letters.push(letter);
  }
  return [...groups.values()].map(({ letters, move }) => ({ letters: letters.join(', '), move }));
}
