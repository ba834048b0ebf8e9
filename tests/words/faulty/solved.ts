/** Measurements that no hand gives, and trays that cannot be made: work that solves. */
import { fitHand } from '../../../src/gather/handFit.ts';
import { MOST_TRIALS, readTrials, trialNamed, withTrial } from '../../../src/gather/keptTrials.ts';
import { readMeasurements } from '../../../src/gather/measurements.ts';
import { TrialCorner } from '../../../src/gather/trial.ts';
import { courseOf } from '../../../src/gather/workingPlan.ts';
import { flatPatternOf } from '../../../src/pattern/developed.ts';
import { developTray } from '../../../src/pattern/developTray.ts';
import { withinTimeLimit } from '../../../src/solve/timeLimit.ts';
import { readTray } from '../../../src/tray/readTray.ts';
import { changed } from '../../tray/trayFiles.ts';
import { ell, mouth, withPlan } from './plans.ts';
import type { Work } from './work.ts';

const MARKS = { direction: 'along', inset: 5, before: 20, after: 18 };
const measuring = [
  null,
  [],
  {},
  { corner: 'two', rimHeight: { middle: 50 } },
  { corner: '2', rimHeight: { middle: '50' } },
  { corner: -1, rimHeight: 5, rimThickness: 'thin', marks: 7 },
  { rimHeight: { middle: 0, start: 'x', end: [] }, rimThickness: { middle: 99, error: 0 } },
  { marks: [7, { ...MARKS, direction: 'round' }, { ...MARKS, inset: -1, before: 0, after: 0 }] },
  { marks: Array.from({ length: 30 }, () => MARKS) },
  { rimHieght: { middle: 5 } },
].map((value) => () => readMeasurements(value));

const TRIAL = {
  name: 'June',
  tray: 'bench',
  sheet: { material: 'DC04', thickness: 1 },
  hand: { value: 0.5, low: 0.4, high: 0.6 },
  measurements: {},
};
const KEPT = readTrials({
  trials: Array.from({ length: MOST_TRIALS }, (_, i) => ({ ...TRIAL, name: `${i}` })),
});
const kept: readonly Work[] = [
  ...[
    null,
    { trials: 7 },
    { trials: [7, { ...TRIAL, name: '', person: 5, date: [], tray: 1 }, { ...TRIAL, sheet: 1, hand: 2 }] },
    {
      trials: [
        {
          ...TRIAL,
          sheet: { material: '', thickness: 99 },
          hand: { value: 2, low: -1, high: 3 },
          spread: 99,
        },
      ],
    },
    { trials: [TRIAL, TRIAL] },
    { trials: [...KEPT, TRIAL] },
  ].map((value) => () => readTrials(value)),
  () => withTrial(KEPT, TRIAL),
  () => trialNamed(KEPT.slice(0, 2), '9'),
  () => trialNamed([], '9'),
];

/** Sheets and trays that solve quickly. */
const bench = readTray(
  changed({
    plan: { length: 240, width: 180, cornerRadius: 30 },
    section: { bottomRadius: 12, height: 35 },
    'sheet.thickness': 1,
  }),
);
export const measured: readonly Work[] = [
  ...measuring,
  ...kept,
  () => new TrialCorner(bench, 7),
  () => fitHand(bench, { corner: 0, rimHeight: { middle: 80, error: 0.3 } }),
  () => fitHand(bench, { corner: 0, rimHeight: { middle: 38, start: 36, end: 46, error: 0.05 } }),
];

const develops =
  (file: unknown): Work =>
  () =>
    flatPatternOf(developTray(readTray(file)));
/** An L whose inward corner is a little out of the middle. */
const unlike = (outer: number, inner: number): object => ({
  vertices: ell(outer, inner).vertices.map((v, i) => (i === 2 || i === 3 ? { ...v, y: 140 } : v)),
});

/** A sheet that grows so much that no stage of it is found. */
const GROWN = { growth: 3 };

/** Trays that cannot be made, or not so high. */
export const unmakeable: readonly Work[] = [
  // A clock that is over the limit at its second look
  () => {
    let looks = 0;
    return withinTimeLimit({ seconds: 5, now: () => 6000 * looks++ }, async () => developTray(bench));
  },
  develops(withPlan(unlike(40, 60), { 'section.height': 120 })),
  () =>
    courseOf(
      flatPatternOf(developTray({ ...bench, forming: { ...bench.forming, stages: [45] } })),
      {},
      GROWN,
    ),
  develops(withPlan(unlike(40, 5), { section: { bottomRadius: 40, height: 45 } })),
  // Walls that reach across each other in the mouth of a cleft
  develops(withPlan(mouth, { section: { bottomRadius: 4, height: 12 } })),
];
