/** A stage at the bench: what each corner loses, the sides, anneals, what goes wrong, what to note. */
import type { StageShape } from '../gather/stageShapes.ts';
import type { Stage, StageZone } from '../gather/stages.ts';
import type { Act } from '../material/cautions.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { sideLetters } from '../tray/cornerLetter.ts';
import { planLoop } from '../tray/planLoop.ts';
import { sentences } from '../words/statement.ts';
import {
  type BenchFigure,
  type BenchGroup,
  type BenchNote,
  type BenchSheet,
  group,
  type Made,
  most,
  sheet,
} from './benchSheet.ts';
import { leftToDo, stageBend, usedPercent, workedInTurn, zoneLetters } from './benchStages.ts';
import { short } from './figureRows.ts';
import { lengthWriter } from './lengths.ts';
import { zoneName } from './stageTable.ts';
import { tuckPlaces, wayOf } from './tuckWords.ts';

export function stageSheet(
  made: Made,
  stage: Stage,
  number: number,
  shapes: readonly StageShape[],
): BenchSheet {
  const { pattern, course, bench, words, cautions } = made;
  const { stage: said } = bench;
  const angle = short(stage.angle);
  const steps = course.anneals.steps.filter((step) => step.stage === number);
  const corners = cornerGroups(made, stage);
  const brief = words.papers.gaugeBrief;
  const gauges = stage.lip
    ? said.gauge(brief.sideLip, brief.cornerLip)
    : said.gauge(`${brief.side(angle)}, ${brief.held(angle)}`, brief.corner(angle));
  const order = orderOf(made, stage);
  const acts: Act[] = [
    'hammer',
    ...(steps.length > 0 || course.anneals.temperature === null ? (['anneal'] as const) : []),
  ];
  const what = stage.lip ? said.lip : said.wall(angle);
  return sheet(`stage-${number + 1}`, said.title(String(number + 1), String(course.stages.length), what), {
    picture: {
      shape: number + 1,
      said: stage.lip
        ? said.pictureLip(pattern.name)
        : said.picture(pattern.name, angle, most(shapes[number + 1])),
    },
    figures: [
      stage.lip
        ? { title: said.lipAngle, value: said.level, note: gauges }
        : { title: said.angle, value: `${angle}°`, note: gauges },
      ...(order === null ? [] : [order]),
    ],
    turns: workedInTurn(pattern, stage),
    groups: [
      ...annealGroups(made, number, ['before']),
      sideGroup(made, stage),
      ...corners,
      ...(gathers(pattern, stage) ? [howGroup(made)] : []),
      ...annealGroups(made, number, ['within', 'after']),
    ],
    troubles: troublesOf(made, stage),
    notes: stageNotes(made, stage, number),
    cautions: cautions(acts),
  });
}

/** What each corner that gathers or stretches loses in a stage; alike ones share a group. */
function cornerGroups(made: Made, stage: Stage): BenchGroup[] {
  const { pattern, course, bench, words, mm } = made;
  const { stage: said } = bench;
  const groups = new Map<string, { own: Omit<BenchGroup, 'title'>; zones: number[] }>();
  for (const zone of stage.zones) {
    const { kind, rim } = pattern.gather.zones[zone.zone]!;
    const taped = rim !== null;
    const thickness: BenchFigure = {
      title: kind === 'shrink' ? said.thickness : said.thinnest,
      value: mm(zone.thickness, 2),
      note: said.used(usedPercent(zone, course)),
    };
    const gains = zone.rimToLose < 0;
    const length = (value: number): string => mm(Math.abs(value));
    const figures: BenchFigure[] = taped
      ? [
          { title: said.tapeBefore, value: mm(zone.tapeBefore) },
          { title: said.tapeAfter, value: mm(zone.tapeAfter) },
          { title: gains ? said.toGain : said.toLose, value: length(zone.rimToLose) },
          { title: said.left[leftToDo(zone) ?? 'nothing'], value: length(zone.rimToCome) },
          thickness,
        ]
      : [thickness];
    const lines = [workLine(pattern, zone, made)];
    const key = JSON.stringify([figures, lines]);
    const known = groups.get(key);
    if (known === undefined) groups.set(key, { own: { figures, lines }, zones: [zone.zone] });
    else known.zones.push(zone.zone);
  }
  return [...groups.values()].map(({ own, zones }) => ({
    title: zoneName(pattern, zones, words.papers),
    corners: zones.map((zone) => zoneLetters(pattern, zone)),
    ...own,
  }));
}

/** How a zone is worked in a stage. */
function workLine(
  { gather }: FlatPattern,
  { zone, rimToLose, tapeAfter }: StageZone,
  { bench: { stage: said }, mm, unit, words }: Made,
): string {
  if (gather.zones[zone]!.rim === null) return said.away;
  const plan = gather.tucks.find((each) => each.zone === zone);
  if (plan === undefined || rimToLose <= 0) return said.gain(mm(tapeAfter));
  const { way, count, depth, height } = plan;
  const where = tuckPlaces(plan, unit, words);
  return said[way](String(count), where, mm(rimToLose / count), mm(depth, 0), mm(height));
}

/** Whether some corner is gathered in a stage: a lip may only stretch. */
const gathers = ({ gather }: FlatPattern, { zones }: Stage): boolean =>
  zones.some(({ zone, rimToLose }) => rimToLose > 0 && gather.tucks.some((tuck) => tuck.zone === zone));

/** The blows by which corners are gathered. */
const howGroup = ({ pattern, bench: { stage: said } }: Made): BenchGroup =>
  group(said.how, [wayOf(pattern) === 'tucks' ? said.knockDown : said.offDolly, said.stop]);

/** The corners in the order in which they are worked. */
function orderOf({ pattern, bench: { stage: said } }: Made, stage: Stage): BenchFigure | null {
  const names = workedInTurn(pattern, stage);
  if (names.length < 2) return null;
  return { title: said.order, value: names.join(', '), note: said.orderNote };
}

function sideGroup(made: Made, stage: Stage): BenchGroup {
  const { pattern, bench, mm, trialBend } = made;
  const { stage: said } = bench;
  const bend = stageBend(pattern, stage, trialBend);
  return group(
    said.sides,
    stage.lip ? [said.lipHow, said.sideCheck] : [said.sideFirst, said.sideHow, said.sideCheck],
    [
      { title: said.sideRadius, value: mm(bend.insideRadius) },
      { title: said.sideHeld, value: `${bend.held.toFixed(0)}°`, note: said.sideLeft(short(bend.left)) },
    ],
  );
}

/** The anneals of a stage at these times, each with its sentence and what to look for. */
function annealGroups(
  { course: { anneals }, bench: { stage: said }, words, unit }: Made,
  number: number,
  times: readonly string[],
): BenchGroup[] {
  const { temperature } = anneals;
  if (temperature === null) return [];
  const all = sentences(anneals.sentences, words, lengthWriter(unit));
  // The sentences after those of the anneals hold for all of them: first what to look for.
  const cue = all[anneals.steps.length]!;
  return anneals.steps.flatMap((step, i): BenchGroup[] =>
    step.stage === number && times.includes(step.when)
      ? [
          group(
            said.anneal,
            [all[i]!, cue],
            [{ title: said.annealNow, value: said.degrees(String(temperature[0]), String(temperature[1])) }],
          ),
        ]
      : [],
  );
}

function troublesOf({ pattern, course, bench }: Made, stage: Stage): string[] {
  const { zones } = stage;
  const { trouble: found } = bench.stage;
  const stretches = zones.some(
    ({ zone, rimToLose }) => rimToLose < 0 || pattern.gather.zones[zone]!.kind === 'stretch',
  );
  const blows = wayOf(pattern) === 'blows';
  const list = [
    ...(gathers(pattern, stage) ? [found.kick, ...(blows ? [found.wave] : [])] : []),
    found.crease,
    course.anneals.temperature === null ? found.splitCold : found.split,
    ...(stretches ? [found.tear] : []),
    found.bow,
  ];
  return list.map(([seen = '', act = '']) => bench.trouble(seen, act));
}

function stageNotes({ pattern, bench, mm, words }: Made, stage: Stage, number: number): BenchNote[] {
  const { stage: said } = bench;
  const { spec } = pattern;
  const [side] = planLoop(spec).segments.filter(({ kind, wall }) => kind === 'side' && wall !== false);
  const where =
    side === undefined
      ? words.papers.allRound
      : bench.side(sideLetters(side.index, planLoop(spec).vertexCount));
  const wall: BenchNote = {
    id: `wall-${number + 1}`,
    title: said.noteWall(where),
    wanted: stage.angle,
    text: `${short(stage.angle)}°`,
    unit: 'degrees',
  };
  const tapes = stage.zones.flatMap(({ zone, tapeAfter }): BenchNote[] =>
    pattern.gather.zones[zone]!.rim === null
      ? []
      : [
          {
            id: `tape-${number + 1}-${zone}`,
            title: said.noteTape(zoneName(pattern, [zone], words.papers)),
            wanted: tapeAfter,
            text: mm(tapeAfter),
            unit: 'mm',
          },
        ],
  );
  return [...(stage.lip ? [] : [wall]), ...tapes];
}
