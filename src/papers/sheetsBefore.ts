/** What is done before the first blow: the tools made ready, the blank marked and cut. */
import { cuttingActs } from '../gather/acts.ts';
import type { StageShape } from '../gather/stageShapes.ts';
import { pathBounds } from '../geometry/measure.ts';
import type { Metal } from '../material/families.ts';
import type { BenchWords } from '../words/bench.ts';
import { type BenchSheet, group, type Made, most, sheet } from './benchSheet.ts';
import { FACE, HAMMER_CROWN } from './crowns.ts';
import { dollyCrown, sagitta } from './gauges.ts';
import { sizeText } from './lengths.ts';
import { stateOfWork } from './overbends.ts';
import { wayOf } from './tuckWords.ts';

/** Lengths of rules of thumb, mm. Common practice, no source. */
const FACE_EDGE = [2, 3] as const;
const PUNCHED_APART = 20;
const ROUGH_CUT = [3, 5] as const;
const LEFT_TO_FILE = 0.5;

export function toolSheet({
  pattern,
  bench: { tools },
  mm,
  given,
  round,
  trialBend,
  cautions,
}: Made): BenchSheet {
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
      group(tools.check, tools.checkList(round(FACE_EDGE[0]), round(FACE_EDGE[1]))),
      group(tools.grind, tools.grindList(given(HAMMER_CROWN))),
      group(tools.polish, tools.polishList),
    ],
    cautions: cautions(['grind']),
  });
}

export function markingSheet(made: Made, shapes: readonly StageShape[]): BenchSheet {
  const { pattern, bench, unit, mm, given, round, cautions } = made;
  const { marking, stage: said } = bench;
  const { spec, report, gather, scribeLines } = pattern;
  const { length, width } = report.blank;
  const box = pathBounds(pattern.outline);
  const marks = scribeLines.filter(({ kind }) => kind === 'rim-mark').length;
  const tucks = gather.tucks.reduce((sum, { count }) => sum + count, 0);
  const byHand = spec.cut.process === 'hand';
  const { cut, bends, letters } = marking.linesList;
  const handCut = marking.byHand(round(ROUGH_CUT[0]), round(ROUGH_CUT[1]), round(LEFT_TO_FILE));
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
        ...(byHand ? [cut(round(PUNCHED_APART))] : []),
        bends,
        ...(marks === 0 ? [] : [marking.linesList.marks(String(marks))]),
        ...(tucks === 0 ? [] : [marking.linesList[wayOf(pattern)](String(tucks))]),
        letters,
      ]),
      group(marking.cutting, [...(byHand ? handCut : marking.byMachine), marking.deburr]),
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
