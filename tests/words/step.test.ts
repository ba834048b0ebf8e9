/**
 * What is wrong with a STEP file and with the part in it is said in the words of the table: another table in its place
 * leaves no English behind, and every sentence is said by some input. The kernel's thread has a table of its own, so
 * what is found in a part is asked for in this one.
 */
import { EventEmitter } from 'node:events';
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import type { PlasticLaw } from '../../src/material/law.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import type { NewtonResult } from '../../src/solve/newton.ts';
import type { PartGiven } from '../../src/step/freeForm/partGiven.ts';
import type { Bound } from '../../src/step/occt/instance.ts';
import { occtThread } from '../../src/step/occt/occtThread.ts';
import { withPart } from '../../src/step/occt/readShape.ts';
import type { OcctReply, OcctTask } from '../../src/step/occt/tasks.ts';
import { work } from '../../src/step/occt/work.ts';
import { readStepTray } from '../../src/step/readStepTray.ts';
import { english, type Words } from '../../src/words/english.ts';
import { speak } from '../../src/words/language.ts';
import { inMetres } from '../step/foreignFiles.ts';
import { box, compound, cut, cylinder, shelledBox } from '../step/foreignParts.ts';
import { GIVEN } from '../step/given.ts';
import { occt } from '../step/occt.ts';
import { SMALL_PLAN, SMALL_SECTION, surfacePart, writtenPart } from '../step/parts.ts';
import { trayFile } from '../step/trays.ts';
import { occtThatSees, SOUND_FILE, stepFiles } from './faulty/stepFiles.ts';
import { stepSkins } from './faulty/stepSkins.ts';
import { complaints, type Work } from './faulty/work.ts';
import { sentencesIn } from './sentenceScan.ts';
import { entriesOf, telling } from './telling.ts';

/** What the thread answers, which here is none: it ends, fails, or leaves a task unanswered. */
let answers: (task: OcctTask) => OcctReply | 'ends' | Error | null;
vi.mock('node:worker_threads', async (original) => ({
  ...(await original<object>()),
  Worker: class extends EventEmitter {
    postMessage(task: OcctTask): void {
      const answer = answers(task);
      if (answer === 'ends') this.emit('exit');
      else if (answer instanceof Error) this.emit('error', answer);
      else if (answer !== null) this.emit('message', answer);
    }
    ref(): void {}
    unref(): void {}
    async terminate(): Promise<void> {}
  },
}));

/** Whether the solver finds a balance for a law: no part that is small enough for a test is without one. */
let steady: (law: PlasticLaw) => boolean = () => true;
vi.mock('../../src/solve/newton.ts', async (original) => {
  const { newton } = await original<typeof import('../../src/solve/newton.ts')>();
  return {
    newton: (...all: Parameters<typeof newton>): NewtonResult => ({
      ...newton(...all),
      ...(steady(all[1]) ? {} : { converged: false }),
    }),
  };
});

const said = new Set<string>();
let before: Words;
beforeAll(() => {
  before = speak(telling(english, '', said) as Words);
});
afterAll(() => {
  speak(before);
});

/** What is left in Latin letters: keywords of the standard (ISO 10303-42) and axes apart. */
const left = (sentence: string): string[] =>
  sentence.match(/(?<!\d)[A-Za-z][A-Za-z_]*/g)?.filter((word) => !KEYWORDS.test(word)) ?? [];
const KEYWORDS = /^(?:LINE|EDGE_LOOP|CARTESIAN_POINT|VECTOR|DIRECTION|TRAY|END|ISO)$/;

async function expectNoEnglish(works: readonly Work[]): Promise<void> {
  for (const each of works) {
    const sentences = await complaints(each);
    expect(sentences).toHaveLength(1);
    expect(left(sentences[0]!), sentences[0]!).toEqual([]);
  }
}

const PART: PartGiven = { ...GIVEN, name: '1', thickness: 1 };
const taken = (path: 'recognise' | 'as it is', bytes: Uint8Array, surfaceOnly = false): OcctTask => ({
  kind: 'tray',
  bytes,
  given: PART,
  path,
  surfaceOnly,
});

/** Sentences that no input of a test says, and where they stand in the sources. */
const UNSAID: readonly (readonly [entry: string, file: string, why: string])[] = [
  [
    '.messages.step.part.tooManyDetails',
    'src/step/occt/readShape.ts',
    'the kernel takes minutes for a net of 400,000 points',
  ],
];

describe('in another language', () => {
  test('files that are none', () => expectNoEnglish(stepFiles));

  test('parts that are no one sheet', () => expectNoEnglish(stepSkins));

  test('a kernel that does not answer', async () => {
    const loaded: OcctReply = { ok: true, answer: { kind: 'warm' }, memory: 0 };
    const afterLoading =
      (then: ReturnType<typeof answers>): typeof answers =>
      ({ kind }) =>
        kind === 'warm' ? loaded : then;
    const thread = (behaviour: typeof answers): Work => {
      return () => {
        answers = behaviour;
        return occtThread({ timeLimit: 5 }).run({ kind: 'read', bytes: SOUND_FILE });
      };
    };
    await expectNoEnglish([
      thread(() => new Error('1')),
      thread(() => 'ends'),
      thread(() => ({ ok: false, fault: '1', outOfMemory: false })),
      thread(() => Object.assign(new Error('1'), { code: 'ERR_WORKER_OUT_OF_MEMORY' })),
      thread(afterLoading('ends')),
      thread(afterLoading({ ok: false, fault: '1', outOfMemory: true })),
      thread(afterLoading({ ok: false, fault: '1', outOfMemory: false })),
      thread(afterLoading(null)),
    ]);
  });

  test('files with something else than one part', async () => {
    const k = await occt();
    const block = (at: number): Bound => box(k, [at, 0, 0], [100, 80, 40]);
    const plate = (at: number): Bound => {
      const plane = new k.gp_Pln_3(new k.gp_Pnt_3(0, 0, at), new k.gp_Dir_4(0, 0, 1));
      return new k.BRepBuilderAPI_MakeFace_9(plane, 0, 50, 0, 40).Shape();
    };
    const [one, sheet, surface] = [
      await writtenPart(() => block(0)),
      await writtenPart(() => box(k, [0, 0, 0], [100, 80, 1])),
      await surfacePart(SMALL_SECTION, SMALL_PLAN),
    ];
    const read = (bytes: Uint8Array, by: Bound = k): Work => {
      return () => withPart(by, bytes, { angle: 0.35 }, () => null);
    };
    /** The kernel with something in place of some of its classes. */
    const but = (others: object): Bound => Object.create(k, Object.getOwnPropertyDescriptors(others));
    const nothing = class {
      delete(): void {}
    };
    // No file that is read has such a box about it.
    const endless = class extends nothing {
      IsVoid(): boolean {
        return false;
      }
      CornerMin(): unknown {
        const end = (): number => Number.NaN;
        return Object.assign(new nothing(), { X: end, Y: end, Z: end });
      }
      CornerMax(): unknown {
        return this.CornerMin();
      }
    };
    await expectNoEnglish([
      read(new TextEncoder().encode('ISO-10303-21')),
      read(SOUND_FILE),
      read(await writtenPart(() => compound(k, [block(0), block(200)]))),
      read(await writtenPart(() => compound(k, [plate(0), plate(20)]))),
      read(await writtenPart(() => cut(k, block(0), box(k, [1, 1, 1], [98, 78, 38])))),
      read(
        await writtenPart(() =>
          new k.BRepBuilderAPI_MakeEdge_3(new k.gp_Pnt_3(0, 0, 0), new k.gp_Pnt_3(9, 0, 0)).Edge(),
        ),
      ),
      read(inMetres(one)),
      read(await writtenPart(() => box(k, [0, 0, 0], [19e3, 19e3, 19e3]))),
      read(one, but({ BRepMesh_IncrementalMesh_2: nothing })),
      read(one, but({ Bnd_Box_1: endless, BRepBndLib: { Add: () => {} } })),
      () => work(k, taken('as it is', one)),
      () => work(k, taken('as it is', sheet, true)),
      () => work(k, taken('recognise', surface)),
    ]);
  });

  test('a part without a steady shape', async () => {
    const [k, surface] = [await occt(), await surfacePart(SMALL_SECTION, SMALL_PLAN)];
    const tub = shelledBox(k, [60, 50, 15], 16, 6, 1);
    // Over the point where a straight wall, a corner and their bends meet.
    const pierced = await writtenPart(() => cut(k, tub, cylinder(k, [44, 20, 6], [0, 1, 0], 2.5, 40)));
    const unfolded = (bytes: Uint8Array, thickness: number | null): Work => {
      const given = { ...PART, thickness };
      return () => {
        const answer = work(k, { ...(taken('as it is', bytes) as OcctTask & { kind: 'tray' }), given });
        if (answer.kind === 'pattern') flatPatternOf(answer.pattern);
      };
    };
    try {
      steady = () => false;
      await expectNoEnglish([unfolded(surface, 1), unfolded(pierced, null)]);
      steady = ({ n }) => n === 1;
      await expectNoEnglish([unfolded(surface, 1)]);
    } finally {
      steady = () => true;
    }
  });

  test('what is noted of a part that is made in another way', async () => {
    const file = trayFile('draft: cones');
    const found = await readStepTray(SOUND_FILE, {}, occtThatSees({ file, rimSquared: true }));
    if (found.kind !== 'tray') throw new Error(found.kind);
    expect(found.notes).toHaveLength(1);
    expect(found.notes.flatMap(left)).toEqual([]);
  });

  test('every sentence of the table is said by something', () => {
    const entries = entriesOf(english.messages.step, '.messages.step');
    expect(entries.length).toBeGreaterThan(60);
    expect(entries.filter((entry) => !said.has(entry))).toEqual(UNSAID.map(([entry]) => entry));
    for (const [entry, file] of UNSAID) {
      expect(readFileSync(new URL(`../../${file}`, import.meta.url), 'utf8')).toContain(`words()${entry}`);
    }
  });
});

describe('the sources', () => {
  /** Text that reads like a sentence and is none that a person is told, and why. */
  const EXCEPTIONS: readonly (readonly [file: RegExp, text: RegExp, why: string])[] = [
    [/step.(?:occt.\w+|readStepTray)\.ts$/, /^as it is$/, 'a value of the task for the kernel'],
    [/step.product\.ts$/, /^(?:core data for|managed model based)/, 'names of protocols in ISO 10303'],
  ];

  test('have no sentence of their own', () => {
    const needed = new Set<string>();
    const own = sentencesIn(['src/step']).filter(({ file, text }) => {
      const exception = EXCEPTIONS.find(([files, texts]) => files.test(file) && texts.test(text));
      if (exception !== undefined) needed.add(exception[2]);
      return exception === undefined;
    });
    expect(own.map(({ file, line, text }) => `${file}:${line} ${text}`)).toEqual([]);
    expect(EXCEPTIONS.map(([, , why]) => why).filter((why) => !needed.has(why))).toEqual([]);
  });
});
