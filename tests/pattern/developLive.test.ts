/** What is shown while figures are typed: soon, and right to what it says. */
import { describe, expect, it } from 'vitest';
import type { Path } from '../../src/geometry/path.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developLive, LIVE_ACCURACY, type Live } from '../../src/pattern/developLive.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import { surveyTrays } from '../../src/tools/bench/survey.ts';
import { readTray } from '../../src/tray/readTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { english } from '../../src/words/english.ts';
import { sentences } from '../../src/words/statement.ts';
import { LONG } from '../support/long.ts';
import { distanceToPolyline, type Point2 } from '../support/measures.ts';
import { OUTLINE_ONLY } from '../support/solved.ts';

const tray = (length: number): TraySpec =>
  readTray({
    name: 'seed tray',
    plan: { length, width: 200, cornerRadius: 35 },
    section: { bottomRadius: 20, height: 40 },
    sheet: { material: 'DC04', thickness: 1 },
    forming: { trim: 0 },
  });

const patternOf = (live: Live | null): FlatPattern => flatPatternOf(live!.developed);

/** Points along a closed path of lines and arcs, arcs cut finely. */
function points({ vertices }: Path): Point2[] {
  const out: Point2[] = [];
  for (const [i, a] of vertices.entries()) {
    const b = vertices[(i + 1) % vertices.length]!;
    out.push([a.x, a.y]);
    if (a.bulge === 0) continue;
    // An arc of half its angle either side of the chord's middle: x and y by the half-angle's tangent.
    const [cx, cy] = [(b.x - a.x) / 2, (b.y - a.y) / 2];
    const sweep = 4 * Math.atan(a.bulge);
    for (let k = 1; k < 32; k++) {
      const [along, across] = onArc(sweep, k / 32);
      out.push([a.x + cx + cx * along + cy * across, a.y + cy + cy * along - cx * across]);
    }
  }
  return [...out, out[0]!];
}

/** A point of an arc over a chord from −1 to 1: along it, and to its right. */
function onArc(sweep: number, share: number): [along: number, across: number] {
  const radius = 1 / Math.sin(sweep / 2);
  const angle = sweep * (share - 0.5);
  return [radius * Math.sin(angle), radius * (Math.cos(angle) - Math.cos(sweep / 2))];
}

const farthest = (from: Path, to: Path): number => {
  const line = points(to);
  return points(from).reduce((most, point) => Math.max(most, distanceToPolyline(point, line)), 0);
};

describe('a live answer', () => {
  const wanted = LONG ? { quarter: 60, half: 40, whole: 30 } : { quarter: 4, half: 2, whole: 1 };
  it.each(surveyTrays(wanted, 3).map((each) => [each.file.name, each.spec] as const))(
    'is within what it says of the full one, with its zones and a verdict: %s',
    (_, spec) => {
      const full = developTray(spec, OUTLINE_ONLY);
      const live = developLive(spec)!;
      expect(live.spec).toBe(spec);
      if (full.kind === 'no flat') return;
      const pattern = patternOf(live);
      expect(farthest(pattern.rim, full.rim)).toBeLessThan(LIVE_ACCURACY);
      // A coarse mesh may miss zones of a few mm².
      const [largest] = [...full.gather.zones].sort((one, other) => other.area - one.area);
      const names = pattern.gather.zones.map(({ kind, corners }) => `${kind} ${corners}`);
      if (largest !== undefined) expect(names).toContain(`${largest.kind} ${largest.corners}`);
      expect(pattern.gather.verdict.word.length).toBeGreaterThan(0);
      expect(pattern.report.solver.triangles).toBeLessThan(full.report.solver.triangles);
    },
  );

  it('says that it is live', () => {
    const live = developLive(tray(300));
    expect(live!.kind).toBe('live');
    expect(sentences(patternOf(live).notes, english)[0]).toContain('live');
    expect(live!.accuracy).toBe(LIVE_ACCURACY);
  });

  it('starts from the one before where the meshes correspond, and is the same within a hundredth', () => {
    const first = developLive(tray(300));
    const next = developLive(tray(301), first);
    const afresh = developLive(tray(301));
    expect(patternOf(next).report.solver.steps).toBeLessThan(patternOf(afresh).report.solver.steps);
    expect(farthest(patternOf(next).rim, patternOf(afresh).rim)).toBeLessThan(0.01);
    expect(next!.spec.plan).toMatchObject({ length: 301 });
  });

  it('serves whatever was before', () => {
    const other = developLive(
      readTray({
        name: 'other tray',
        plan: { length: 120, width: 90, cornerRadius: [20, 12, 12, 20] },
        section: { bottomRadius: 10, height: 20 },
        sheet: { material: '1050A-O', thickness: 1 },
      }),
    );
    const next = developLive(tray(300), other);
    expect(farthest(patternOf(next).rim, patternOf(developLive(tray(300))).rim)).toBeLessThan(0.01);
  });

  it('is given up between two steps when it is not wanted any more', () => {
    let asked = 0;
    expect(developLive(tray(300), null, () => ++asked > 3)).toBeNull();
    expect(asked).toBe(4);
    // Nothing is left of that for what is solved next.
    expect(developTray(tray(300)).kind).toBe('tray');
    expect(developLive(tray(300))).not.toBeNull();
  });

  it('of a tray without a flat is its verdict', () => {
    const spec = readTray({
      name: 'deep tray',
      plan: { length: 100, width: 100, cornerRadius: 10 },
      section: { bottomRadius: 10, height: 90 },
      sheet: { material: 'DC04', thickness: 1 },
    });
    expect(developTray(spec).kind).toBe('no flat');
    expect(developLive(spec)!.developed.kind).toBe('no flat');
  });
});
