/** The forward judge's section: one step against many. */
import {
  type Fineness,
  JUDGED_SHEET,
  JUDGED_TRAYS,
  judgeTray,
  keptLevel,
  type Sizes,
  type Verdict,
} from '../forward/trays.ts';
import { chart, type Section, STROKES, shown, signed } from './section.ts';

export interface Judged {
  readonly tray: Sizes;
  readonly verdict: Verdict;
  /** The same where what is not yet wall is kept level; null where there is a lip. */
  readonly level: Verdict | null;
}

export const judgeAll = (fineness: (tray: Sizes) => Fineness): Judged[] =>
  JUDGED_TRAYS.map((tray) => ({
    tray,
    verdict: judgeTray(tray, fineness(tray)),
    level: tray.lip === undefined ? judgeTray(tray, fineness(tray), JUDGED_SHEET, keptLevel) : null,
  }));

const sizesOf = ({ length, width, cornerRadius, bottomRadius, height, lip }: Sizes): string =>
  `${length} × ${width}, R ${cornerRadius}, r ${bottomRadius}, H ${height}${lip === undefined ? '' : `, lip ${lip.width}, radius ${lip.bendRadius}`}`;

/** Share of the way along the rim, per cent, with what the path adds there. */
function along({ verdict }: Judged): (readonly [number, number])[] {
  const way = [0];
  for (let i = 1; i < verdict.rim.length; i++) {
    const [[ax, ay], [bx, by]] = [verdict.rim[i - 1]!, verdict.rim[i]!];
    way.push(way[i - 1]! + Math.hypot(bx - ax, by - ay));
  }
  return verdict.path.map((value, i) => [(100 * way[i]!) / way.at(-1)!, value] as const);
}

export function path(judged: readonly Judged[]): Section {
  return {
    id: 'path',
    title: 'One step or many: the forward judge',
    about: [
      'The program goes from the flat to the tray in one step. A second program, which shares nothing with its solver, lays the solved blank on the tray with its walls swung up little by little (and the lip turned after them): nine-node quadrilaterals whose nodes slide without friction on each stage’s surface, each step the positions of least plastic work given the strain that is behind every point. Trays on their neutral surface, DC04, grain along the length.',
      'The judge itself was judged first (tests/forward): in one step a round pan is that of the one-dimensional shell, in many that of rings worked step by step in one dimension, a strip that only bends is not strained, and where nothing moves no work is done.',
    ],
    tables: [
      {
        caption:
          'Length of the section from base to rim against the tray as it was asked for, mm: the most that the two programs differ by in one step; what many steps change with the walls swung up, in the middle of the corner, most and least along the rim; and in the middle of the corner where the wall grows from below and the rest is kept level',
        head: ['tray', 'one step, two programs', 'many: corner', 'most', 'least', 'kept level: corner'],
        rows: judged.map(({ tray, verdict, level }) => [
          `${tray.name}: ${sizesOf(tray)}`,
          shown(Math.max(...verdict.oneStep.map(Math.abs)), 2),
          signed(verdict.path[verdict.middle]!, 2),
          signed(Math.max(...verdict.path), 2),
          signed(Math.min(...verdict.path), 2),
          level === null ? '–' : signed(level.path[level.middle]!, 2),
        ]),
      },
      {
        caption:
          'Thickness over the blank’s where it is most, and strain of the hardest-worked point (logarithmic)',
        head: [
          'tray',
          'program',
          'judge, one step',
          'many',
          'apart in the corner, mean',
          'strain, one step',
          'many',
        ],
        rows: judged.map(({ tray, verdict: { thickness, hardest } }) => [
          tray.name,
          shown(thickness.program, 3),
          shown(thickness.oneStep, 3),
          shown(thickness.manySteps, 3),
          shown(thickness.apart, 3),
          shown(hardest.oneStep, 2),
          shown(hardest.manySteps, 2),
        ]),
      },
    ],
    pictures: [
      chart(
        'What many steps add to the length of the section, along the rim',
        { name: 'per cent of the rim from the length’s middle to the width’s', from: 0, to: 100, every: 10 },
        'mm',
        judged.map((one, i) => ({ name: one.tray.name, points: along(one), line: STROKES[i]! })),
      ),
    ],
    verdict: [
      'Agrees: in one step two programs of different kinds find the same rim. Thicknesses hardly depend on the path where walls are only swung up.',
      'Does not: the rim’s height. On the way the wall is a cone, and the hoop compression of a cone pulls on the metal below it as a drawn flange does; the finished upright wall, which is all that one step sees, carries no such pull. So metal goes up the wall at corners, and the blank of one step is a little too large there and a little small beside it. A hand that works a corner from the rim down, or in tucks, goes another way again, and so does a press or a sheet that is kept level outside the wall, in which the pull is stronger: the figures are the size of what the way can do, not a correction to be added.',
      'A lip turned out is shrunk first and stretched back, which one step does not see: it ends short at the corner, its hardest-worked point has about twice the strain. The working plan counts that work stage by stage; the blank does not.',
    ],
    sources: ['None: computed.'],
  };
}
