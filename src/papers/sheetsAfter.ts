/** What is done after the last stage: trim, straighten, mend and weld. */
import { hasWeldedCorners } from '../gather/acts.ts';
import type { Metal } from '../material/families.ts';
import { cornerName } from '../pattern/cornerName.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { sideLetters } from '../tray/cornerLetter.ts';
import { type LoopSegment, planLoop } from '../tray/planLoop.ts';
import type { BenchWords } from '../words/bench.ts';
import { type BenchFigure, type BenchNote, type BenchSheet, group, type Made, sheet } from './benchSheet.ts';
import { lengthText } from './lengths.ts';
import { insideHeight, insideRunAt, isWhole } from './skins.ts';
import { meanThickness } from './strip.ts';

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

/** Where a rim is cut, outside its line, and how much its height may be off, mm. Common practice, no source. */
const [OUTSIDE, OFF] = [1, 0.5];

export function trimSheet(made: Made): BenchSheet {
  const { pattern, bench, mm, given, round, cautions } = made;
  const { trim: said } = bench;
  const { spec } = pattern;
  const { rim } = spec.section;
  const cut = said.cut(round(OUTSIDE), round(OFF));
  const off: BenchFigure = { title: said.off, value: given(spec.forming.trim) };
  if (rim.kind === 'lip') {
    return sheet('trim', said.title, {
      figures: [{ title: said.lip, value: given(rim.width) }, off],
      groups: [group(said.how, [...said.stepsLip(given(rim.width)), ...cut])],
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
    groups: [group(said.how, [...said.steps(all.map(([height]) => mm(height)).join(', ')), ...cut])],
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

export function straightenSheet(made: Made): BenchSheet {
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
/** Bare metal beside a seam, the longest gap between tacks, paint beyond a bare spot, mm. Common practice, no source. */
const [CLEAN, TACKS_APART, PAINT] = [15, 40, 20];

export function weldSheet({ pattern, bench, round, mm, cautions }: Made): BenchSheet {
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
      { title: said.clean, value: round(CLEAN) },
      { title: said.step, value: mm(step, 2) },
    ],
    groups: [
      group(said.split, said.splitList),
      ...(hasWeldedCorners(pattern.spec) ? [group(said.notch, said.notchList)] : []),
      ...(pattern.spec.section.rim.kind === 'plain'
        ? [group(said.strip, said.stripList(mm(step, 2), round(TACKS_APART)))]
        : []),
      group(said.test, said.testList),
      group(said.finish, [finishLine(material, said, round(PAINT))]),
    ],
    cautions: cautions(['weld']),
  });
}

function finishLine({ family, coating }: Metal, { finishList }: BenchWords['weld'], paint: string): string {
  if (coating === 'zinc') return finishList.zinc(paint);
  if (family === 'stainless steel') return finishList.stainless;
  return family === 'steel' ? finishList.steel : finishList.bright;
}
