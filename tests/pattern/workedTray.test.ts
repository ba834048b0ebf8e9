/**
 * The trim is worked with the wall: what is solved is the tray with its trim as wall or lip, the blank's edge is the rim of
 * that tray, and the net rim is a line within it.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { slicePath } from '../../src/gather/slicePath.ts';
import { courseOf } from '../../src/gather/workingPlan.ts';
import { ZONE_THRESHOLD } from '../../src/gather/zones.ts';
import { Locator } from '../../src/geometry/locate.ts';
import {
  containsPoint,
  distanceToPath,
  pathArea,
  pathLength,
  pointAlong,
} from '../../src/geometry/measure.ts';
import type { Path } from '../../src/geometry/path.ts';
import { rowReport } from '../../src/jobs/rowReport.ts';
import { markingPages } from '../../src/papers/markingPages.ts';
import { mostRimToLose } from '../../src/pattern/corners.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import { OUTLINE_TOLERANCE } from '../../src/pattern/fittedLines.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import type { SolveOptions } from '../../src/solve/solveTray.ts';
import { readTray } from '../../src/tray/readTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { workedTray } from '../../src/tray/workedTray.ts';
import { english } from '../../src/words/english.ts';
import { closeTo } from '../support/closeTo.ts';
import { formedPointOf, samplesOf } from '../support/flatToFormed.ts';
import { LONG } from '../support/long.ts';
import { said } from '../words/pictureText.ts';

const SEED = 1615;
/** The rule holds on any mesh. */
const COARSE: Partial<SolveOptions> = LONG ? {} : { minimumRefinements: 0, maximumRefinements: 0 };
/** Farthest that two lines fitted through the same points lie apart, mm. */
const FITTED = 2 * OUTLINE_TOLERANCE + 1e-6;

const solved = (spec: TraySpec, solve = COARSE): FlatPattern => flatPatternOf(developTray(spec, { solve }));
const withTrim = (spec: TraySpec, trim: number): TraySpec => ({
  ...spec,
  forming: { ...spec.forming, trim },
});
const noteEntries = ({ notes }: FlatPattern): string[] => notes.map(({ entry }) => entry);

const farthest = (from: Path, to: Path): number =>
  Math.max(...samplesOf(from, 3).map(([x, y]) => distanceToPath({ x, y }, to)));

/** Tray A of the README: 300 × 200 × 25, all radii 25, mild steel of 1 mm. */
const trayA = (trim: number): TraySpec =>
  readTray({
    name: 'tray-a',
    plan: { length: 300, width: 200, cornerRadius: 25 },
    section: { bottomRadius: 25, height: 25 },
    sheet: { material: 'DC01', thickness: 1 },
    forming: { trim },
  });

const trays = fc
  .record({
    length: fc.integer({ min: 180, max: 420 }),
    width: fc.integer({ min: 160, max: 300 }),
    more: fc.integer({ min: 4, max: 30 }),
    bottomRadius: fc.integer({ min: 6, max: 15 }),
    wall: fc.integer({ min: 2, max: 12 }),
    draft: fc.constantFrom(0, 0, 8, 20),
    kind: fc.constantFrom<'plain' | 'out' | 'in' | 'heights' | 'open'>(
      'plain',
      'out',
      'in',
      'heights',
      'open',
    ),
    trim: fc.constantFrom(0, 0.5, 2, 4, 10),
  })
  .map(({ length, width, more, bottomRadius, wall, draft, kind, trim }) => {
    const height = bottomRadius + wall;
    const lip = { kind: 'lip', direction: kind, bendRadius: 4, width: 9 };
    const cornerRadius = bottomRadius + more + (kind === 'in' ? 30 : 0);
    const raised = { heights: { top: height + 8, left: height, bottom: height, right: height }, runOut: 10 };
    return {
      kind,
      file: {
        name: 'worked',
        plan: { length, width, cornerRadius, ...(kind === 'open' ? { openEdges: ['top'] } : {}) },
        section: {
          bottomRadius,
          draft,
          ...(kind === 'heights' ? raised : { height: height + (kind === 'out' || kind === 'in' ? 6 : 0) }),
          ...(kind === 'out' || kind === 'in' ? { rim: lip } : {}),
        },
        sheet: { material: 'DC04', thickness: 1 },
        forming: { trim },
      },
    };
  });

describe('a tray with trim', () => {
  test('is cut along the rim of the tray that is higher by the trim, whatever the tray', () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(trays, ({ kind, file }) => {
        const spec = readTray(file);
        const { trim } = spec.forming;
        const developed = developTray(spec, { solve: COARSE });
        // A wide lip on a small corner has no flat, with the trim or without.
        fc.pre(developed.kind !== 'no flat');
        const pattern = flatPatternOf(developed);
        fc.pre(pattern.spec.forming.trim === trim);
        seen.add(kind);
        const taller = solved(workedTray(spec));
        expect(workedTray(spec).forming.trim).toBe(0);
        if (kind === 'open') {
          if (trim > 0) expect(noteEntries(pattern)).toContain('pattern.trimLaidOn');
        } else {
          expect(pattern.outline).toEqual(taller.rim);
          expect(noteEntries(pattern)).not.toContain('pattern.trimLaidOn');
        }
        expect(pattern.workedRim).toEqual(taller.rim);
        expect(pattern.gather.zones).toEqual(taller.gather.zones);
        expect(pattern.gather.verdict).toEqual(taller.gather.verdict);
        if (trim === 0) {
          expect(pattern.rim).toBe(pattern.outline);
          return;
        }
        for (const [x, y] of samplesOf(pattern.rim, 3))
          expect(containsPoint(pattern.outline, { x, y })).toBe(true);
        expect(pathArea(pattern.rim)).toBeLessThan(pathArea(pattern.outline));
        expect(pattern.scribeLines.some((line) => line.kind === 'net-rim')).toBe(true);
      }),
      { seed: SEED, numRuns: LONG ? 300 : 7, endOnFailure: true },
    );
    expect(seen.size).toBeGreaterThan(3);
  });

  test('has its net rim at the height of the tray file', () => {
    for (const draft of [0, 12]) {
      const spec = readTray({
        name: 'net-rim',
        plan: { length: 240, width: 180, cornerRadius: 30 },
        section: { bottomRadius: 12, height: 24, draft },
        sheet: { material: 'DC04', thickness: 1 },
        forming: { trim: 6 },
      });
      const { rim, field } = solved(spec, {});
      const top = Math.max(...Array.from(field.rimNodes, (node) => field.formed[3 * node + 2]!));
      const rise = 6 * Math.cos((draft * Math.PI) / 180);
      for (const [x, y] of samplesOf(rim, 2))
        closeTo(
          formedPointOf(field, x, y).at[2],
          top - rise,
          { why: 'the fit of the rim', absolute: 2 * OUTLINE_TOLERANCE },
          'height of the net rim',
        );
    }
  });

  test('has the figures of its worked edge', () => {
    const worked = solved(trayA(4), {});
    const net = solved(trayA(0), {});
    // A tray of the same size and a wall of 29 mm, solved by itself, and what the net rim would have: from this program
    // before the trim was solved with the wall, told as 30.3 %, 23.9 mm and 26 %, 18.5 mm.
    const [corner] = worked.report.corners;
    closeTo(corner!.peakGather, 30.3, { why: 'told to a tenth', absolute: 0.1 }, 'gather');
    closeTo(corner!.rimToLose!, 23.9, { why: 'told to a tenth', absolute: 0.1 }, 'rim to lose');
    closeTo(net.report.corners[0]!.rimToLose!, 18.5, { why: 'told to a tenth', absolute: 0.1 }, 'net rim');
    expect(corner!.arcRimToLose).toBeLessThan(corner!.rimToLose!);
    expect(corner!.rimToLoseCorners).toEqual([0]);
    expect(corner!.netFormedRimLength).toBeCloseTo(net.report.corners[0]!.formedRimLength, 9);
  });

  test('has stages whose rims add up to the whole, along the worked edge', () => {
    const pattern = solved(trayA(4), {});
    const { stages } = courseOf(pattern);
    for (const [number, zone] of pattern.gather.zones.entries()) {
      const total = stages.reduce((sum, { zones }) => sum + zones[number]!.rimToLose, 0);
      closeTo(total, zone.rim!.toLose, { why: 'the outline is fitted', absolute: 0.05 }, 'rim to lose');
    }
  });

  test('carries the net rim when its welded edges touch', () => {
    for (const weldGap of [0, 1]) {
      const pattern = solved(withTrim({ ...trayA(0), forming: { trim: 0, corners: 'notch', weldGap } }, 5));
      const taller = solved(workedTray(pattern.spec));
      expect(farthest(pattern.outline, taller.outline)).toBeLessThan(FITTED);
      // As many pieces as what is cut: no row of chords.
      expect(pattern.rim.vertices.length).toBeLessThan(1.5 * pattern.outline.vertices.length);
      expect(pattern.scribeLines.filter(({ kind }) => kind === 'net-rim').length).toBeLessThanOrEqual(4);
    }
  });
});

describe('rim to lose', () => {
  test('is that of the 2 % marks, whatever the drawing shows, and one number everywhere', () => {
    const base = trayA(4);
    const shown = { ...base, forming: { ...base.forming, zoneThreshold: 15 } };
    const [plain, other] = [solved(base), solved(shown)];
    expect(ZONE_THRESHOLD).toBe(2);
    expect(other.gather.threshold).toBe(15);
    expect(other.gather.zones).toEqual(plain.gather.zones);
    for (const pattern of [plain, other]) {
      const most = mostRimToLose(pattern.gather.zones);
      expect(Math.max(...pattern.report.corners.map((corner) => corner.rimToLose!))).toBe(most);
      expect(rowReport(pattern, english).figures.rimToLose).toBe(Number(most.toFixed(2)));
    }
  });

  test('is what a tape finds between the scribed marks, flat and formed', () => {
    const pattern = solved(trayA(4), {});
    const { workedRim, field, gather, scribeLines } = pattern;
    const marks = scribeLines.filter(({ kind }) => kind === 'rim-mark').map(({ path }) => path.vertices[0]!);
    expect(marks).toHaveLength(2 * gather.zones.length);
    const locator = new Locator(field.flat, field.triangles);
    for (const [number, { rim }] of gather.zones.entries()) {
      const [begin, end] = [marks[2 * number]!, marks[2 * number + 1]!];
      const edge = slicePath(workedRim, begin, end);
      const flat = pathLength(edge);
      const along = Array.from({ length: 401 }, (_, i) => pointAlong(edge, (flat * i) / 400));
      const at = along.map(({ x, y }) =>
        locator.interpolate(locator.find(x, y), field.formed, 3, new Float64Array(3)),
      );
      const formed = at.reduce(
        (sum, [x, y, z], i) =>
          i === 0 ? 0 : sum + Math.hypot(x! - at[i - 1]![0]!, y! - at[i - 1]![1]!, z! - at[i - 1]![2]!),
        0,
      );
      closeTo(flat, rim!.flatLength, { why: 'the edge is fitted', absolute: 0.05 }, 'tape on the blank');
      closeTo(
        formed,
        rim!.formedLength,
        { why: 'chords of a fitted edge', absolute: 0.05 },
        'tape on the tray',
      );
      closeTo(flat - formed, rim!.toLose, { why: 'both', absolute: 0.1 }, 'rim to lose');
    }
    const pages = said(markingPages(pattern, { paper: 'A4', unit: 'mm', words: english.papers }));
    for (const { rim } of gather.zones)
      for (const length of [rim!.flatLength, rim!.formedLength]) expect(pages).toContain(length.toFixed(1));
    expect(pages).toContain(english.papers.rimMarks);
  });

  test('of a zone that holds several corners is their total, and says whose', () => {
    const spec = readTray({
      name: 'narrow',
      plan: { length: 420, width: 120, cornerRadius: 45 },
      section: { bottomRadius: 12, height: 40 },
      sheet: { material: 'DC04', thickness: 1 },
    });
    const { report, gather } = solved(spec);
    const shared = gather.zones.find(({ corners }) => corners.length > 1);
    expect(shared).toBeDefined();
    for (const index of shared!.corners) {
      const corner = report.corners.find((each) => each.index === index)!;
      expect(corner.rimToLoseCorners).toEqual(shared!.corners);
      expect(corner.rimToLose).toBe(shared!.rim!.toLose);
    }
  });
});

test('a trim that makes the tray impossible is lessened, with a note', () => {
  // A lip turned in, 26 mm wide with all its trim, gathers more at these corners than the sheet does evenly.
  const spec = readTray({
    name: 'lip-turned-in',
    plan: { length: 200, width: 120, cornerRadius: 30 },
    section: {
      bottomRadius: 10,
      height: 22,
      rim: { kind: 'lip', direction: 'in', bendRadius: 4, width: 6 },
    },
    sheet: { material: 'DC04', thickness: 1 },
    forming: { trim: 20 },
  });
  const pattern = developTray(spec, { solve: COARSE });
  if (pattern.kind === 'no flat') return expect.unreachable('possible without trim');
  expect([10, 5, 2.5]).toContain(pattern.spec.forming.trim);
  expect(noteEntries(pattern)).toContain('pattern.trimLessened');
});
