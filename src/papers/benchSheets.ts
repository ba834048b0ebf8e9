/**
 * What is worked by at the bench, from before the first blow to after the last: one sheet for each part of the work, as
 * plain data. The bench view shows a sheet as a screen, the paper as a page.
 */
import { cuttingActs, hasWeldedCorners } from '../gather/acts.ts';
import type { StageShape } from '../gather/stageShapes.ts';
import type { Stage, StageZone } from '../gather/stages.ts';
import type { Course } from '../gather/workingPlan.ts';
import { pathBounds } from '../geometry/measure.ts';
import { largest } from '../largest.ts';
import { type Act, cautionList } from '../material/cautions.ts';
import type { Metal } from '../material/families.ts';
import { cornerName } from '../pattern/cornerName.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { sideLetters } from '../tray/cornerLetter.ts';
import { type LoopSegment, planLoop } from '../tray/planLoop.ts';
import type { BenchWords } from '../words/bench.ts';
import type { Words } from '../words/english.ts';
import { sentences } from '../words/statement.ts';
import { stageBend, usedPercent, workedInTurn, zoneLetters } from './benchStages.ts';
import { FACE, HAMMER_CROWN } from './crowns.ts';
import { short } from './figureRows.ts';
import { dollyCrown, sagitta } from './gauges.ts';
import { givenDecimals, type LengthUnit, lengthText, lengthWriter, sizeText, withUnit } from './lengths.ts';
import { stateOfWork } from './overbends.ts';
import { insideHeight, insideRunAt, isWhole } from './skins.ts';
import { zoneName } from './stageTable.ts';
import { meanThickness } from './strip.ts';
import { tuckPlaces, wayOf } from './tuckWords.ts';

/** A figure to be read at arm's length. */
export interface BenchFigure {
  readonly title: string;
  readonly value: string;
  readonly note?: string;
}

/** What belongs together: figures, and lines to tick off. */
export interface BenchGroup {
  readonly title: string;
  readonly figures: readonly BenchFigure[];
  readonly lines: readonly string[];
  /** Names of the corners that it is about, where it is about some. */
  readonly corners?: readonly string[];
}

/** What is measured and noted down. */
export interface BenchNote {
  readonly id: string;
  readonly title: string;
  /** As it should be, mm or degrees; null where nothing is asked for. */
  readonly wanted: number | null;
  readonly text: string;
  readonly unit: 'mm' | 'degrees';
}

export interface BenchSheet {
  /** Unlike all others of the tray. */
  readonly id: string;
  readonly title: string;
  /** Number of the shape that is shown, the flat blank being 0, and what it shows; null for none. */
  readonly picture: { readonly shape: number; readonly said: string } | null;
  readonly figures: readonly BenchFigure[];
  readonly groups: readonly BenchGroup[];
  /** Names of the corners in the order in which they are worked. */
  readonly turns: readonly string[];
  readonly troubles: readonly string[];
  readonly notes: readonly BenchNote[];
  readonly cautions: readonly string[];
}

export interface BenchOptions {
  readonly unit: LengthUnit;
  readonly words: Words;
  /** What `words.bench` loads. */
  readonly bench: BenchWords;
  /** By how much a trial bend opened, degrees (`madeBend`); 0 where none was made. */
  readonly trialBend?: number;
}

/** What every sheet is made from. */
interface Made extends Required<BenchOptions> {
  readonly pattern: FlatPattern;
  readonly course: Course;
  readonly mm: (length: number, decimals?: number) => string;
  readonly given: (length: number) => string;
  readonly cautions: (acts: readonly Act[]) => string[];
}

/** All sheets of a tray in the order of the work. @param shapes the flat blank and the end of each stage */
export function benchSheets(
  pattern: FlatPattern,
  course: Course,
  shapes: readonly StageShape[],
  options: BenchOptions,
): BenchSheet[] {
  const { unit, words } = options;
  const { material } = pattern.sheet;
  const made: Made = {
    trialBend: 0,
    ...options,
    pattern,
    course,
    mm: (length, decimals = 1) => withUnit(length, unit, decimals),
    given: (length) => withUnit(length, unit, givenDecimals(unit, length)),
    cautions: (acts) => sentences(cautionList(acts, material), words, lengthWriter(unit)),
  };
  return [
    toolSheet(made),
    markingSheet(made, shapes),
    ...course.stages.map((stage, number) => stageSheet(made, stage, number, shapes)),
    trimSheet(made),
    straightenSheet(made),
    weldSheet(made),
  ];
}

const group = (
  title: string,
  lines: readonly string[],
  figures: readonly BenchFigure[] = [],
): BenchGroup => ({ title, figures, lines });

const sheet = (id: string, title: string, more: Partial<BenchSheet>): BenchSheet => ({
  id,
  title,
  picture: null,
  figures: [],
  groups: [],
  turns: [],
  troubles: [],
  notes: [],
  cautions: [],
  ...more,
});

function toolSheet({ pattern, bench: { tools }, mm, given, trialBend, cautions }: Made): BenchSheet {
  const dolly = dollyCrown(pattern, stateOfWork(pattern), FACE, trialBend);
  const crown = (radius: number, face: number): string =>
    tools.sagitta(mm(sagitta(radius, face), 2), mm(face, 0));
  return sheet('tools', tools.title, {
    figures: [
      {
        title: tools.dolly,
        value: mm(dolly.radius),
        note: `${tools.dollyNote}; ${crown(dolly.radius, dolly.face)}`,
      },
      { title: tools.hammer, value: given(HAMMER_CROWN), note: crown(HAMMER_CROWN, FACE) },
      // The face comes out with the radius of the circle it is swung on.
      { title: tools.swing, value: given(HAMMER_CROWN) },
    ],
    groups: [
      group(tools.check, tools.checkList),
      group(tools.grind, tools.grindList(given(HAMMER_CROWN))),
      group(tools.polish, tools.polishList),
    ],
    cautions: cautions(['grind']),
  });
}

function markingSheet(made: Made, shapes: readonly StageShape[]): BenchSheet {
  const { pattern, bench, unit, mm, given, cautions } = made;
  const { marking, stage: said } = bench;
  const { spec, report, gather, scribeLines } = pattern;
  const { length, width } = report.blank;
  const box = pathBounds(pattern.outline);
  const marks = scribeLines.filter(({ kind }) => kind === 'rim-mark').length;
  const tucks = gather.tucks.reduce((sum, { count }) => sum + count, 0);
  const byHand = spec.cut.process === 'hand';
  const { cut, bends, letters } = marking.linesList;
  return sheet('marking', marking.title, {
    picture: { shape: 0, said: said.pictureFlat(pattern.name, most(shapes[0])) },
    figures: [
      { title: marking.size, value: sizeText(length, width, unit) },
      { title: marking.diagonal, value: mm(Math.hypot(box.maxX - box.minX, box.maxY - box.minY)) },
      { title: marking.trim, value: given(spec.forming.trim) },
    ],
    groups: [
      group(marking.visible, seenLines(pattern.sheet.material, marking)),
      group(marking.lines, [
        ...(byHand ? [cut] : []),
        bends,
        ...(marks === 0 ? [] : [marking.linesList.marks(String(marks))]),
        ...(tucks === 0 ? [] : [marking.linesList[wayOf(pattern)](String(tucks))]),
        letters,
      ]),
      group(marking.cutting, [...(byHand ? marking.byHand : marking.byMachine), marking.deburr]),
    ],
    cautions: cautions(cuttingActs(spec)),
  });
}

/** How lines are made seen on a metal. */
function seenLines({ family, coating }: Metal, { seen }: BenchWords['marking']): string[] {
  if (coating !== 'none') return [seen.zinc];
  if (family === 'steel') return [seen.bright, seen.dark];
  return family === 'aluminium' || family === 'copper' || family === 'magnesium'
    ? [seen.soft]
    : [seen.bright];
}

const most = (shape: StageShape | undefined): string =>
  shape === undefined ? '0' : largest(shape.toCome).toFixed(0);

function stageSheet(made: Made, stage: Stage, number: number, shapes: readonly StageShape[]): BenchSheet {
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
          { title: said.toCome, value: signed(zone.rimToCome, gains, mm) },
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

/** What is left to lose; with a sign where a corner first loses and then gains. */
const signed = (left: number, gains: boolean, mm: Made['mm']): string =>
  gains === left < 0 || Math.abs(left) < 0.05 ? mm(Math.abs(left)) : `−${mm(Math.abs(left))}`;

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

/** A place of the rim, and how high it stands above a plate that the tray stands on, mm; null where it runs from one height to another. */
interface Place {
  readonly name: string;
  readonly height: number | null;
}

/** The middles of corners and of sides, all round. */
function placesOf({ spec, sheet: { thickness }, ...pattern }: FlatPattern, bench: BenchWords): Place[] {
  const { segments, vertexCount } = planLoop(spec);
  const above = spec.measured === 'outside' ? 0 : thickness;
  return segments
    .filter(({ wall }) => wall !== false)
    .map((segment): Place => {
      const { index, heightAtStart, heightAtEnd } = segment;
      const isSide = segment.kind === 'side';
      return {
        name: isSide
          ? bench.side(sideLetters(index, vertexCount))
          : bench.corner(cornerName({ ...pattern, spec }, index)),
        height: heightAtStart === heightAtEnd ? heightAtStart + above : null,
      };
    });
}

/** Places at which a rim is measured at most. */
const MOST_PLACES = 8;

function measuredPlaces({ pattern, bench }: Made): Place[] {
  const places = placesOf(pattern, bench);
  const step = Math.ceil(places.length / MOST_PLACES);
  return places.filter((_, i) => i % step === 0);
}

function heightNotes(made: Made, id: string, title: (where: string) => string): BenchNote[] {
  return measuredPlaces(made).map(({ name, height }, i) => ({
    id: `${id}-${i}`,
    title: title(name),
    wanted: height,
    text: height === null ? '' : made.mm(height),
    unit: 'mm',
  }));
}

function trimSheet(made: Made): BenchSheet {
  const { pattern, bench, mm, given, cautions } = made;
  const { trim: said } = bench;
  const { spec } = pattern;
  const { rim } = spec.section;
  const off: BenchFigure = { title: said.off, value: given(spec.forming.trim) };
  if (rim.kind === 'lip') {
    return sheet('trim', said.title, {
      figures: [{ title: said.lip, value: given(rim.width) }, off],
      groups: [group(said.how, [...said.stepsLip(given(rim.width)), ...said.cut])],
      cautions: cautions(['grind', 'handle']),
    });
  }
  const heights = new Map<number, string[]>();
  for (const { name, height } of placesOf(pattern, bench))
    if (height !== null) heights.set(height, [...(heights.get(height) ?? []), name]);
  const all = [...heights];
  const length = rimTape(pattern);
  return sheet('trim', said.title, {
    figures: [
      ...all.map(([height, names]) => ({
        title: all.length === 1 ? said.height : said.heightOf(names.join(', ')),
        value: mm(height),
      })),
      ...(length === null ? [] : [{ title: said.tape, value: mm(length) }]),
      off,
    ],
    groups: [group(said.how, [...said.steps(all.map(([height]) => mm(height)).join(', ')), ...said.cut])],
    notes: [
      ...heightNotes(made, 'trim', said.noteHeight),
      ...(length === null
        ? []
        : [{ id: 'trim-tape', title: said.noteTape, wanted: length, text: mm(length), unit: 'mm' as const }]),
    ],
    cautions: cautions(['grind', 'handle']),
  });
}

/** A tape round the outside of the net rim, mm; null where it is not level, closed and plain. */
export function rimTape(pattern: FlatPattern): number | null {
  const { spec, sheet: own } = pattern;
  const { segments } = planLoop(spec);
  const level =
    new Set(segments.flatMap(({ heightAtStart, heightAtEnd }) => [heightAtStart, heightAtEnd])).size === 1;
  if (spec.section.rim.kind !== 'plain' || !level || !isWhole(segments)) return null;
  const run = insideRunAt(spec, insideHeight(spec));
  const lean = Math.cos((spec.section.draft * Math.PI) / 180);
  const outside = (segment: LoopSegment): number => {
    if (segment.kind === 'side') return segment.length;
    // The inside is held by dolly or former; what the metal thickens by stands outside.
    const through = (own.thickness === 0 ? 0 : meanThickness(pattern, segment.index)) / lean;
    return Math.abs(segment.sweep) * (segment.radius + Math.sign(segment.sweep) * (run + through));
  };
  return segments.reduce((sum, segment) => sum + outside(segment), 0);
}

function straightenSheet(made: Made): BenchSheet {
  const { pattern, bench, mm, cautions, unit } = made;
  const { straighten: said } = bench;
  const notes = heightNotes(made, 'straight', said.noteHeight);
  const zero = (id: string, title: string): BenchNote => ({ id, title, wanted: 0, text: mm(0), unit: 'mm' });
  const wanted = [...new Set(notes.flatMap(({ wanted: each }) => (each === null ? [] : [each])))];
  return sheet('straighten', said.title, {
    figures:
      pattern.spec.section.rim.kind === 'lip'
        ? []
        : [
            {
              title: said.height,
              value: wanted.map((each) => lengthText(each, unit)).join(' / '),
              note: said.places(
                measuredPlaces(made)
                  .map(({ name }) => name)
                  .join(', '),
              ),
            },
          ],
    groups: [
      group(said.wall, said.wallList),
      group(said.wind, said.windList),
      group(said.base, said.baseList),
    ],
    notes: [...notes, zero('twist', said.twist), zero('rock', said.rock)],
    cautions: cautions(['hammer']),
  });
}

/** Stop-drills are as wide as the sheet is thick, twice over, but no finer than drills that a hand holds, mm. Common practice, no source. */
const [DRILL_TIMES, FINEST_DRILL] = [2, 2.5];
/** Bare metal beside a seam, mm. Common practice, no source. */
const CLEAN = 15;

function weldSheet({ pattern, bench, given, mm, cautions }: Made): BenchSheet {
  const { weld: said } = bench;
  const { thickness, material } = pattern.sheet;
  const drill = Math.max(FINEST_DRILL, (Math.round(4 * thickness) / 4) * DRILL_TIMES);
  const thickest = Math.max(
    thickness,
    ...pattern.report.corners.map(({ netRimThickness }) => netRimThickness),
  );
  const step = thickest - thickness;
  return sheet('weld', said.title, {
    figures: [
      { title: said.drill, value: `Ø ${mm(drill)}`, note: said.drillNote },
      { title: said.clean, value: given(CLEAN) },
      { title: said.step, value: mm(step, 2) },
    ],
    groups: [
      group(said.split, said.splitList),
      ...(hasWeldedCorners(pattern.spec) ? [group(said.notch, said.notchList)] : []),
      ...(pattern.spec.section.rim.kind === 'plain' ? [group(said.strip, said.stripList(mm(step, 2)))] : []),
      group(said.test, said.testList),
      group(said.finish, [finishLine(material, said)]),
    ],
    cautions: cautions(['weld']),
  });
}

function finishLine({ family, coating }: Metal, { finishList }: BenchWords['weld']): string {
  if (coating === 'zinc') return finishList.zinc;
  if (family === 'stainless steel') return finishList.stainless;
  return family === 'steel' ? finishList.steel : finishList.bright;
}
