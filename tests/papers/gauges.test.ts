/** Gauges, formers and the strip against the solved tray and closed forms. */

import { parseString } from 'dxf';
import { describe, expect, it } from 'vitest';
import { textWidth } from '../../src/drawing/textWidth.ts';
import { TEXT } from '../../src/drawing/weights.ts';
import { nodeExporters } from '../../src/exporters/nodeExporters.ts';
import { createRegistry } from '../../src/exporters/registry.ts';
import { arcOf, pieceCount, pieceEnd } from '../../src/geometry/arc.ts';
import { selfIntersections } from '../../src/geometry/intersect.ts';
import { Locator } from '../../src/geometry/locate.ts';
import {
  containsPoint,
  distanceToPath,
  pathArea,
  pathBounds,
  pathLength,
} from '../../src/geometry/measure.ts';
import type { Path, Point } from '../../src/geometry/path.ts';
import { neutralFactor } from '../../src/material/neutralFactor.ts';
import { fibreLaw, overbend } from '../../src/material/springback.ts';
import { former, formerPlates } from '../../src/papers/formers.ts';
import { crownGauge, type GaugeOptions, gauges, planCorners, sagitta } from '../../src/papers/gauges.ts';
import { PAGE_SIZES } from '../../src/papers/pageSizes.ts';
import { platePages } from '../../src/papers/platePages.ts';
import { skinOffset } from '../../src/papers/skins.ts';
import { type StripOptions, strip, stripPlates } from '../../src/papers/strip.ts';
import { stripPages } from '../../src/papers/stripPages.ts';
import { tilingOf } from '../../src/papers/tilePage.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import { formedShape } from '../../src/pattern/formedShape.ts';
import { cornerLetter } from '../../src/tray/cornerLetter.ts';
import { type CornerSegment, planLoop } from '../../src/tray/planLoop.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { english } from '../../src/words/english.ts';
import { samplesOf } from '../support/flatToFormed.ts';
import { solved } from '../support/solved.ts';
import { said } from '../words/pictureText.ts';
import { readPages, readPaths, readText } from './poppler.ts';
import { textOverlaps } from './textOverlaps.ts';
import { NESTING, UPRIGHT } from './trays.ts';

const stageEnds = ({ section }: TraySpec): number[] =>
  [1, 2, 3].map((third) => (third * (90 - section.draft)) / 3);

const options = (spec: TraySpec): GaugeOptions => ({
  hammerRadius: 450,
  dollyRadius: 60,
  face: 40,
  stages: stageEnds(spec),
  trialBend: 0,
  unit: 'mm',
  words: english.papers,
});

const radii = (path: Path): number[] =>
  Array.from(
    { length: pieceCount(path) },
    (_, i) => arcOf(path.vertices[i]!, pieceEnd(path, i))?.radius ?? 0,
  );

const has = (path: Path, radius: number): boolean =>
  radii(path).some((other) => Math.abs(other - radius) < 1e-6);

for (const spec of [NESTING, UPRIGHT]) {
  const pattern = solved(spec);
  const list = gauges(pattern, options(spec));
  const gauge = (id: string) => list.find((plate) => plate.id === id)!;

  describe(`gauges of ${spec.name}`, () => {
    it('are sound plates: closed, counter-clockwise, free of crossings, hole and name inside', () => {
      expect(new Set(list.map(({ id }) => id)).size).toBe(list.length);
      for (const { id, outline, holes, text } of list) {
        expect(outline.closed, id).toBe(true);
        expect(pathArea(outline), id).toBeGreaterThan(0);
        expect(selfIntersections(outline), id).toEqual([]);
        expect(holes, `hanging hole of ${id}`).toHaveLength(1);
        for (const vertex of holes[0]!.vertices) expect(containsPoint(outline, vertex), id).toBe(true);
        expect(containsPoint(outline, text.at), id).toBe(true);
        expect(containsPoint(holes[0]!, text.at), id).toBe(false);
      }
    });

    it.each(['mm', 'inch', 'fraction'] as const)(
      'come on pages on which no words lie on others, in %s',
      (unit) => {
        const asked = { ...options(spec), unit };
        const pages = platePages(gauges(pattern, asked), {
          title: english.papers.gaugesTitle(spec.name),
          sentences: [english.papers.gaugesHow],
          paper: 'A4',
          unit,
          words: english.papers,
        });
        for (const page of pages) expect(textOverlaps(page)).toEqual([]);
      },
    );

    it('have the bottom radius of each skin', () => {
      const { bottomRadius } = spec.section;
      const { thickness } = spec.sheet;
      const inside = spec.measured === 'inside' ? bottomRadius : bottomRadius - thickness;
      expect(has(gauge('bottom-radius-inside').outline, inside)).toBe(true);
      expect(has(gauge('bottom-radius-outside').outline, inside + thickness)).toBe(true);
    });

    it("fit the solved tray: wall nodes of a side lie at the skin's distance from the section gauge", () => {
      const angle = stageEnds(spec).at(-1)!;
      const edge = gauge(`section-side-${String(Number(angle.toFixed(2)))}`).outline;
      const side = planLoop(spec).segments.find(
        (segment) => segment.kind === 'side' && segment.x0 === segment.x1 && segment.x0 > 0,
      )!;
      if (side.kind !== 'side') throw new Error('a rectangle has straight sides');
      const { formed } = pattern.field;
      const lift = skinOffset(spec, 'inside');
      let seen = 0;
      for (let node = 0; node < formed.length / 3; node++) {
        const [x, y, z] = [formed[3 * node]!, formed[3 * node + 1]!, formed[3 * node + 2]!];
        if (x < side.x0 - 1e-9 || y <= Math.min(side.y0, side.y1) || y >= Math.max(side.y0, side.y1))
          continue;
        if (z < 0.5 || z > spec.section.height - 3) continue; // next to the ends the nearest point is a corner
        const off = distanceToPath({ x: x - side.x0, y: z - lift }, edge);
        expect(Math.abs(off - lift), `node ${node}`).toBeLessThan(1e-6);
        seen++;
      }
      expect(seen).toBeGreaterThan(10);
    });

    it('have the plan corners of the formed rim', () => {
      const { formed, rimNodes, rimCorner } = formedShape(pattern);
      const corners = planLoop(spec).segments.filter((segment) => segment.kind === 'corner');
      // At the rim the skin lies the wall's share of the neutral distance inside the neutral surface.
      const draft = (spec.section.draft * Math.PI) / 180;
      for (const corner of planCorners(spec)) {
        const segment = corners.find(({ index }) => cornerLetter(index) === corner.names[0])!;
        const i = rimCorner.indexOf(segment.index);
        const node = rimNodes[i]!;
        if (segment.kind !== 'corner') throw new Error('a corner is a corner');
        const rim = Math.hypot(formed[3 * node]! - segment.centreX, formed[3 * node + 1]! - segment.centreY);
        const inside = rim - skinOffset(spec, 'inside') * Math.cos(draft);
        expect(Math.abs(corner.insideRadius - inside)).toBeLessThan(1e-6);
        expect(has(gauge(`plan-corner-${corner.names[0]}-inside`).outline, corner.insideRadius)).toBe(true);
        expect(has(gauge(`plan-corner-${corner.names[0]}-outside`).outline, corner.outsideRadius)).toBe(true);
      }
    });

    it('have a section gauge a stage for sides and corners, as high as the part turned up so far', () => {
      // Inside radius r, its neutral fibre at r + k·t/2; what is not yet bent stands straight in the wall.
      const { thickness } = spec.sheet;
      const { bottomRadius, height, draft } = spec.section;
      const inside = spec.measured === 'inside' ? bottomRadius : bottomRadius - thickness;
      const neutral = inside + (neutralFactor(inside, thickness) * thickness) / 2;
      const final = Math.PI / 2 - (draft * Math.PI) / 180;
      const wall = height / Math.sin(final) - bottomRadius * Math.tan(final / 2);
      for (const angle of stageEnds(spec)) {
        const id = String(Number(angle.toFixed(2)));
        const turned = (angle * Math.PI) / 180;
        const straight = wall + neutral * (final - turned);
        const end = {
          x: inside * Math.sin(turned) + straight * Math.cos(turned),
          y: inside * (1 - Math.cos(turned)) + straight * Math.sin(turned),
        };
        for (const where of ['side', 'corner']) {
          const { vertices } = gauge(`section-${where}-${id}`).outline;
          const nearest = Math.min(...vertices.map(({ x, y }) => Math.hypot(x - end.x, y - end.y)));
          expect(nearest, `${where}, ${id} degrees`).toBeLessThan(1e-6);
        }
      }
    });
  });
}

describe('section gauges of a side', () => {
  const soft = gauges(solved(UPRIGHT), options(UPRIGHT));
  const outlineOf = (list: readonly { id: string; outline: Path }[], id: string): Path =>
    list.find((plate) => plate.id === id)!.outline;

  it('are a pair: what is held has the length of what is left, in a tighter and longer bend', () => {
    const r = UPRIGHT.section.bottomRadius;
    const t = UPRIGHT.sheet.thickness;
    for (const angle of stageEnds(UPRIGHT)) {
      const made = overbend(fibreLaw(solved(UPRIGHT).sheet.material), t, r, (angle * Math.PI) / 180);
      const id = `section-side-${angle}`;
      const [left, held] = [outlineOf(soft, id), outlineOf(soft, `${id}-held`)];
      expect(has(held, made.insideRadius)).toBe(true);
      expect(made.insideRadius).toBeLessThan(r);
      const arc = held.vertices.findIndex(
        (vertex, i) => Math.abs((arcOf(vertex, pieceEnd(held, i))?.radius ?? 0) - made.insideRadius) < 1e-6,
      );
      const { sweep } = arcOf(held.vertices[arc]!, pieceEnd(held, arc))!;
      expect(sweep).toBeCloseTo(made.angle, 9);
      // The straight wall after the bend is as long.
      const wall = (path: Path, at: number): number => {
        const [a, b] = [path.vertices[at + 1]!, path.vertices[at + 2]!];
        return Math.hypot(b.x - a.x, b.y - a.y);
      };
      const own = left.vertices.findIndex(({ bulge }, i) => i > 0 && bulge !== 0);
      expect(wall(held, arc)).toBeCloseTo(wall(left, own), 9);
    }
  });

  it('go by the trial bend where one was made', () => {
    const harder = gauges(solved(UPRIGHT), { ...options(UPRIGHT), trialBend: 20 });
    const area = (list: typeof soft): number => pathArea(outlineOf(list, 'section-side-30-held'));
    expect(area(harder)).not.toBeCloseTo(area(soft), 1);
    expect(outlineOf(harder, 'section-side-30')).toEqual(outlineOf(soft, 'section-side-30'));
  });

  it('say so where the sheet springs too far for a gauge under the hammer', () => {
    const thin: TraySpec = {
      ...UPRIGHT,
      section: { ...UPRIGHT.section, bottomRadius: 60, height: 62 },
      plan: { length: 400, width: 400, cornerRadius: 70 },
      sheet: { ...UPRIGHT.sheet, thickness: 0.35 },
    };
    const pattern = { ...solved(UPRIGHT), spec: thin, sheet: { ...solved(UPRIGHT).sheet, thickness: 0.35 } };
    const list = gauges(pattern, options(thin));
    expect(list.find(({ id }) => id === 'section-side-90-held')).toBeUndefined();
    expect(list.find(({ id }) => id === 'section-side-90')!.text.lines.join(' ')).toContain('too far');
  });
});

describe('gauges of other shapes', () => {
  const lip = (direction: 'out' | 'in'): TraySpec => ({
    ...UPRIGHT,
    name: `lip-${direction}`,
    section: { ...UPRIGHT.section, rim: { kind: 'lip', direction, bendRadius: 3, width: 12 } },
  });
  /** An L round a post: one concave corner. */
  const ELL: TraySpec = {
    ...UPRIGHT,
    name: 'post-tray',
    plan: {
      vertices: [
        { x: 0, y: 0, radius: 40 },
        { x: 300, y: 0, radius: 40 },
        { x: 300, y: 140, radius: 40 },
        { x: 150, y: 140, radius: 55 },
        { x: 150, y: 260, radius: 40 },
        { x: 0, y: 260, radius: 40 },
      ],
    },
  };

  for (const spec of [lip('out'), lip('in'), ELL]) {
    it(`are sound plates for ${spec.name}`, () => {
      for (const { id, outline, holes, text } of gauges({ ...solved(UPRIGHT), spec }, options(spec))) {
        expect(pathArea(outline), id).toBeGreaterThan(0);
        expect(selfIntersections(outline), id).toEqual([]);
        for (const hole of holes)
          for (const vertex of hole.vertices) expect(containsPoint(outline, vertex), id).toBe(true);
        expect(containsPoint(outline, text.at), id).toBe(true);
      }
    });
  }

  it('have a gauge for the section with its lip turned', () => {
    const spec = lip('out');
    const ids = gauges({ ...solved(UPRIGHT), spec }, options(spec)).map(({ id }) => id);
    expect(ids).toContain('section-side-lip');
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('turn the concave corner over: hollow on the inside, with the radius that was asked for', () => {
    const concave = planCorners(ELL).find(({ sweep }) => sweep < 0)!;
    expect(concave.names).toEqual(['D']);
    // Measured inside, so the inside has the radius of the plan; the outside is a sheet nearer to the centre.
    expect(concave.insideRadius).toBeCloseTo(55, 9);
    expect(concave.outsideRadius).toBeCloseTo(54, 9);
    const outline = gauges({ ...solved(UPRIGHT), spec: ELL }, options(ELL)).find(
      ({ id }) => id === 'plan-corner-D-inside',
    )!.outline;
    const bulges = outline.vertices.filter(
      (vertex, i) => Math.abs((arcOf(vertex, pieceEnd(outline, i))?.radius ?? 0) - 55) < 1e-6,
    );
    expect(bulges.map(({ bulge }) => Math.sign(bulge))).toEqual([-1]);
  });
});

/** A saucer: the plan is a circle of two half circles. */
const SAUCER: TraySpec = {
  ...UPRIGHT,
  name: 'pot-saucer-small',
  plan: {
    vertices: [
      { x: 70, y: 0, radius: 0, bulge: 1 },
      { x: -70, y: 0, radius: 0, bulge: 1 },
    ],
  },
  section: { bottomRadius: 12, height: 20, draft: 8, rim: { kind: 'plain' } },
};

describe('the letters of gauges', () => {
  it('stay large enough to read on small ones: less is said there', () => {
    const low: TraySpec = { ...UPRIGHT, section: { ...UPRIGHT.section, bottomRadius: 10, height: 17 } };
    for (const unit of ['mm', 'inch', 'fraction'] as const) {
      const list = gauges({ ...solved(UPRIGHT), spec: low }, { ...options(low), unit });
      for (const { id, text } of list) expect(text.height, id).toBeGreaterThanOrEqual(TEXT.normal);
      const lines = (id: string): readonly string[] => list.find((plate) => plate.id === id)!.text.lines;
      expect(lines('section-corner-60').at(-1)).toMatch(/^(corner )?60°$/);
      expect(lines('plan-corner-A-outside').join(' ')).toContain('corner A outside');
    }
  });
});

describe('gauges of a round tray', () => {
  it('cover a piece of the rim on each side, without legs that would stand off it', () => {
    const [edge, ...more] = planCorners(SAUCER);
    expect(more).toEqual([]);
    expect([edge!.edge, edge!.names]).toEqual([true, ['A–B', 'B–A']]);
    // The plan radius is that of the upright wall's foot; the wall leans out from the bend's end to the rim.
    const lean = Math.tan((8 * Math.PI) / 180);
    const foot = 70 - 12 * Math.tan(Math.PI / 4 - (4 * Math.PI) / 180);
    const turned = Math.PI / 2 - (8 * Math.PI) / 180;
    const inside = foot + 12 * Math.sin(turned) + (20 - 12 * (1 - Math.cos(turned))) * lean;
    expect(edge!.insideRadius).toBeCloseTo(inside, 6);
    const list = gauges({ ...solved(UPRIGHT), spec: SAUCER }, options(SAUCER));
    for (const [skin, radius] of [
      ['inside', edge!.insideRadius],
      ['outside', edge!.outsideRadius],
    ] as const) {
      const { outline } = list.find(({ id }) => id === `plan-side-A-B-${skin}`)!;
      const on = outline.vertices.filter(
        (vertex, i) => Math.abs((arcOf(vertex, pieceEnd(outline, i))?.radius ?? 0) - radius) < 1e-6,
      );
      expect(on, skin).toHaveLength(1);
      expect(pathArea(outline)).toBeGreaterThan(0);
      expect(selfIntersections(outline)).toEqual([]);
      // The chord of the working edge is the 120 mm it may have.
      const i = outline.vertices.indexOf(on[0]!);
      const end = pieceEnd(outline, i);
      expect(Math.hypot(end.x - on[0]!.x, end.y - on[0]!.y)).toBeCloseTo(
        2 * radius * Math.sin(Math.asin(Math.min(0.7, 60 / inside))),
        6,
      );
    }
  });
});

describe('crown gauges', () => {
  it('resolve a sagitta of a few tenths: the drawn arc has the radius', () => {
    for (const [radius, face] of [
      [300, 40],
      [1000, 30],
      [3000, 25],
    ] as const) {
      const exact = radius - Math.sqrt(radius * radius - (face / 2) ** 2);
      expect(Math.abs(sagitta(radius, face) - exact)).toBeLessThan(1e-9 * radius);
      const drawn = arcOf(crownGauge(radius, face).vertices[0]!, crownGauge(radius, face).vertices[1]!)!;
      expect(Math.abs(drawn.radius / radius - 1)).toBeLessThan(1e-9);
      expect(drawn.sweep).toBeLessThan(0);
    }
  });

  it('have a dolly that goes into the bend and leaves it, where none is named', () => {
    const [r, t] = [UPRIGHT.section.bottomRadius, UPRIGHT.sheet.thickness];
    const { insideRadius } = overbend(fibreLaw(solved(UPRIGHT).sheet.material), t, r, Math.PI / 2);
    const list = gauges(solved(UPRIGHT), { ...options(UPRIGHT), dollyRadius: 0 });
    expect(insideRadius).toBeLessThan(r);
    expect(has(list.find(({ id }) => id === 'dolly-crown')!.outline, insideRadius)).toBe(true);
  });

  it('refuse a face wider than the ball', () => {
    expect(() => gauges(solved(UPRIGHT), { ...options(UPRIGHT), dollyRadius: 18 })).toThrow(
      /less than 36 mm/,
    );
  });
});

describe('formers', () => {
  it('have the plan of the inside less the clearance, by the closed form of a rounded rectangle', () => {
    const spec: TraySpec = { ...UPRIGHT, plan: { length: 240, width: 170, cornerRadius: 30 } };
    const { outlines, plies, edgeRadius, height } = former(spec, 0.7, 9);
    expect(plies).toBe(Math.ceil(spec.section.height / 9));
    expect(height).toBe(plies * 9);
    expect(edgeRadius).toBe(15);
    expect(outlines).toHaveLength(1);
    const [a, b, r] = [240 - 1.4, 170 - 1.4, 30 - 0.7];
    expect(pathLength(outlines[0]!.path)).toBeCloseTo(2 * (a + b) - 8 * r + 2 * Math.PI * r, 6);
    expect(pathArea(outlines[0]!.path)).toBeCloseTo(a * b - (4 - Math.PI) * r * r, 5);
  });

  it('grow from ply to ply with a leaning wall, by its tangent', () => {
    const { outlines, plies } = former(NESTING, 0, 8);
    expect(outlines).toHaveLength(plies);
    const widths = outlines.map(({ path }) => pathBounds(path).maxX - pathBounds(path).minX);
    for (let i = 1; i + 1 < widths.length; i++) {
      // The lowest ply may end inside the bend.
      if (i < 3) continue;
      expect(widths[i]! - widths[i - 1]!).toBeCloseTo(2 * 8 * Math.tan((12 * Math.PI) / 180), 9);
    }
  });

  it('have the marks of two axes on the edge of every ply, at one place of the block', () => {
    const plates = formerPlates(solved(NESTING), {
      clearance: 0.5,
      plyThickness: 12,
      overbent: null,
      unit: 'mm',
      words: english.papers,
    });
    expect(plates.length).toBeGreaterThan(2);
    for (const { outline, scribe } of plates) {
      const marks = scribe.filter(({ closed }) => !closed);
      expect(marks).toHaveLength(4);
      for (const { vertices } of marks) {
        const [a, b] = vertices as unknown as [Point, Point];
        const off = Math.min(distanceToPath(a, outline), distanceToPath(b, outline));
        expect(off).toBeLessThan(1e-6);
        // A rectangle about the origin: its axes are x = 0 and y = 0.
        expect(Math.min(Math.abs(a.x) + Math.abs(b.x), Math.abs(a.y) + Math.abs(b.y))).toBeLessThan(1e-9);
      }
    }
  });

  it('show on the underside where the rounding begins, by the closed form of a rounded rectangle', () => {
    const spec: TraySpec = { ...UPRIGHT, plan: { length: 240, width: 170, cornerRadius: 30 } };
    const [lowest] = formerPlates(
      { ...solved(UPRIGHT), spec },
      { clearance: 0.7, plyThickness: 9, overbent: null, unit: 'mm', words: english.papers },
    );
    const flat = lowest!.scribe.find(({ closed }) => closed)!;
    const [a, b, r] = [240 - 30 - 1.4, 170 - 30 - 1.4, 30 - 15 - 0.7];
    expect(pathLength(flat)).toBeCloseTo(2 * (a + b) - 8 * r + 2 * Math.PI * r, 6);
    // A corner as round as the bend is a ball: there the line is sharp.
    const ball = formerPlates(
      { ...solved(UPRIGHT), spec: { ...spec, plan: { length: 240, width: 170, cornerRadius: 15 } } },
      { clearance: 0.7, plyThickness: 9, overbent: null, unit: 'mm', words: english.papers },
    );
    const sharp = ball[0]!.scribe.find(({ closed }) => closed)!;
    expect(pathLength(sharp)).toBeCloseTo(2 * (240 - 30 - 1.4 + 170 - 30 - 1.4), 6);
    expect(sharp.vertices.every(({ bulge }) => bulge === 0)).toBe(true);
  });

  it('lean in at the sides by what the sheet springs back, and stand as the tray at the corners', () => {
    const spec: TraySpec = { ...UPRIGHT, plan: { length: 240, width: 170, cornerRadius: 30 } };
    const made = { insideRadius: 13.5, angle: (98 * Math.PI) / 180 };
    const plain = former(spec, 0.7, 9).outlines[0]!.path;
    const { outlines, plies } = former(spec, 0.7, 9, english.papers, made);
    expect(outlines.map(({ from, to }) => [from, to])).toEqual([
      [1, 2],
      [3, 3],
      [4, 4],
    ]);
    expect(plies).toBe(4);
    for (const { path, from } of outlines) {
      // Widest at the height of the bend's centre, from there straight in.
      const end = 13.5 * (1 - Math.cos(made.angle));
      const above = Math.max(0, 9 * (from - 1) - end);
      const run = from < 3 ? 13.5 : 13.5 * Math.sin(made.angle) - above * Math.tan((8 * Math.PI) / 180);
      const half = path.vertices.filter(({ y }) => Math.abs(y) < 50).map(({ x }) => Math.abs(x));
      expect(Math.min(...half)).toBeCloseTo(120 - 15 + run - 0.7, 9);
      const arcs = (of: Path): number[] => radii(of).filter((radius) => radius > 0);
      expect(arcs(path)).toEqual(arcs(plain));
      for (const [i, vertex] of path.vertices.entries())
        if (vertex.bulge !== 0)
          for (const at of [vertex, pieceEnd(path, i)]) expect(distanceToPath(at, plain)).toBeLessThan(1e-9);
      expect(selfIntersections(path)).toEqual([]);
    }
  });

  it('refuse a clearance wider than the bend', () => {
    expect(() => former(UPRIGHT, 14.5 + 30, 18)).toThrow();
  });
});

/**
 * Finished over flat thickness at the net rim above a corner's arc, the mean over the arc: points of the net rim in the
 * flat, carried to the tray through the solved field.
 */
function netThickening(
  { rim, field }: FlatPattern,
  { centreX, centreY, startAngle, sweep }: CornerSegment,
): number {
  const locator = new Locator(field.flat, field.triangles);
  const along = samplesOf(rim, 24)
    .map(([x, y]) => {
      const place = locator.find(x, y);
      const [fx, fy] = locator.interpolate(place, field.formed, 3, new Float64Array(3));
      const turned = Math.atan2(fy! - centreY, fx! - centreX) - startAngle;
      const [strain] = locator.interpolate(place, field.thicknessStrain, 1, new Float64Array(1));
      return { angle: turned - 2 * Math.PI * Math.floor(turned / (2 * Math.PI)), ratio: Math.exp(strain!) };
    })
    .filter(({ angle }) => angle <= sweep)
    .sort((a, b) => a.angle - b.angle);
  const ends = [{ ...along[0]!, angle: 0 }, ...along, { ...along.at(-1)!, angle: sweep }];
  let sum = 0;
  for (let i = 1; i < ends.length; i++)
    sum += ((ends[i]!.ratio + ends[i - 1]!.ratio) / 2) * (ends[i]!.angle - ends[i - 1]!.angle);
  return sum / sweep;
}

describe('the strip', () => {
  const wanted: StripOptions = {
    height: 20,
    thickness: 0,
    flush: 'inside',
    joint: 'butt',
    allowance: 1,
    stockLength: 3000,
  };
  /** Sheet so thin that all skins are one. */
  const FOIL: TraySpec = { ...UPRIGHT, sheet: { ...UPRIGHT.sheet, thickness: 1e-7 } };

  it('has the perimeter of a rounded rectangle in its own neutral fibre', () => {
    const spec: TraySpec = { ...UPRIGHT, plan: { length: 240, width: 170, cornerRadius: 30 } };
    const { around, bends } = strip({ ...solved(UPRIGHT), spec }, wanted);
    // DIN 6935: neutral fibre at inside radius + k·t/2, k = 0.65 + log10(r/t)/2 up to 1.
    const neutral = 30 + Math.min(1, 0.65 + Math.log10(30) / 2) / 2;
    expect(around).toBeCloseTo(2 * (240 + 170) - 8 * 30 + 2 * Math.PI * neutral, 9);
    expect(bends).toHaveLength(4);
    for (const bend of bends) expect(bend.end - bend.begin).toBeCloseTo((Math.PI / 2) * neutral, 9);
    // The seam stands in the middle of a long side.
    expect(bends[0]!.begin).toBeCloseTo((240 - 60) / 2, 9);
  });

  it('is as long as the formed rim of the solve when the sheet is a foil', () => {
    const pattern = { ...solved(UPRIGHT), spec: FOIL, sheet: { ...solved(UPRIGHT).sheet, thickness: 1e-7 } };
    const { around } = strip(pattern, wanted);
    // The rim of the finished tray lies on the neutral surface, half a sheet outside its inside.
    const { formed, rimNodes } = formedShape(solved(UPRIGHT));
    const at = (node: number): [number, number] => [formed[3 * node]!, formed[3 * node + 1]!];
    let rim = 0;
    for (let i = 1; i < rimNodes.length; i += 2) {
      const [a, m, b] = [rimNodes[i - 1]!, rimNodes[i]!, rimNodes[(i + 1) % rimNodes.length]!].map(at);
      const chord = Math.hypot(b![0] - a![0], b![1] - a![1]);
      const rise = Math.hypot((a![0] + b![0]) / 2 - m![0], (a![1] + b![1]) / 2 - m![1]);
      // Flat arc over a chord: c·(1 + 8/3·(h/c)²) (E. W. Weisstein, "Circular Segment", MathWorld; first terms).
      rim += chord * (1 + (8 / 3) * (rise / chord) ** 2);
    }
    const offset = neutralFactor(15, 1) / 2;
    expect(Math.abs(around + 2 * Math.PI * offset - rim)).toBeLessThan(0.02);
  });

  it('runs on a larger radius where it is flush with the outside of thickened corners', () => {
    const pattern = solved(UPRIGHT);
    const length = (flush: StripOptions['flush']): number => strip(pattern, { ...wanted, flush }).around;
    let extra = 0;
    for (const segment of planLoop(UPRIGHT).segments)
      if (segment.kind === 'corner')
        extra += (Math.PI / 2) * pattern.sheet.thickness * (netThickening(pattern, segment) - 1);
    expect(extra).toBeGreaterThan(0.1);
    expect(length('outside') - length('inside')).toBeCloseTo(extra, 2);
    expect(length('middle') - length('inside')).toBeCloseTo(extra / 2, 2);
  });

  it('is split so that no part is longer than the stock and no joint lies in or near a bend', () => {
    const pattern = solved(UPRIGHT);
    for (const joint of ['butt', 'overlap'] as const) {
      for (const stockLength of [180, 260, 400, 5000]) {
        const { parts, bends, around } = strip(pattern, { ...wanted, joint, allowance: 8, stockLength });
        const extra = joint === 'overlap' ? 8 : -8;
        for (const part of parts) expect(part.length).toBeLessThanOrEqual(stockLength + 1e-9);
        expect(parts.reduce((sum, part) => sum + part.length, 0)).toBeCloseTo(
          around + parts.length * extra,
          9,
        );
        for (const { from } of parts) {
          for (const { begin, end } of bends) expect(from < begin - 10 || from > end + 10).toBe(true);
        }
      }
    }
    expect(() => strip(pattern, { ...wanted, stockLength: 60 })).toThrow(/longer stock/);
  });

  it('is scribed where bends begin and end', () => {
    const pattern = solved(UPRIGHT);
    const [plate] = stripPlates(pattern, wanted, 'mm', english.papers);
    const { bends, parts } = strip(pattern, wanted);
    expect(plate!.scribe.map((line) => line.vertices[0]!.x)).toEqual(
      bends.flatMap(({ begin, end }) => [begin - parts[0]!.from, end - parts[0]!.from]),
    );
  });

  it('is one ring on a round tray: rolled, as long as its neutral circle, with the seam anywhere', () => {
    const pattern = { ...solved(UPRIGHT), spec: SAUCER };
    const { around, rolled, bends, parts } = strip(pattern, { ...wanted, stockLength: 200 });
    const [edge] = planCorners(SAUCER);
    expect(rolled).toBeCloseTo(edge!.insideRadius, 9);
    const neutral = edge!.insideRadius + Math.min(1, 0.65 + Math.log10(edge!.insideRadius) / 2) / 2;
    expect(around).toBeCloseTo(2 * Math.PI * neutral, 9);
    expect(bends).toEqual([]);
    // Nothing keeps a joint from the end of the stock.
    expect(parts).toHaveLength(Math.ceil(around / 201));
    for (const { length } of parts.slice(0, -1)) expect(length).toBeCloseTo(200, 9);
    const [plate] = stripPlates(pattern, wanted, 'mm', english.papers);
    expect(plate!.scribe).toEqual([]);
    expect(plate!.text.lines.join(' ')).toContain('rolled to a ring');
  });

  it('is as long as the formed rim of a solved round tray, and longer outside where the rim is thicker', () => {
    const pattern = solved(SAUCER);
    const foil: TraySpec = { ...SAUCER, sheet: { ...SAUCER.sheet, thickness: 1e-7 } };
    const { around } = strip(
      { ...pattern, spec: foil, sheet: { ...pattern.sheet, thickness: 1e-7 } },
      wanted,
    );
    const { formed, rimNodes } = formedShape(pattern);
    const radius = Math.hypot(formed[3 * rimNodes[0]!]!, formed[3 * rimNodes[0]! + 1]!);
    // The neutral surface lies off the inside by the neutral distance across a wall that leans by 8°.
    const off = skinOffset(SAUCER, 'inside') * Math.cos((8 * Math.PI) / 180);
    expect(Math.abs(around - 2 * Math.PI * (radius - off))).toBeLessThan(0.05);
    const length = (flush: StripOptions['flush']): number => strip(pattern, { ...wanted, flush }).around;
    const halves = planLoop(SAUCER).segments.filter((segment) => segment.kind === 'corner');
    const mean = halves.reduce((sum, half) => sum + netThickening(pattern, half), 0) / halves.length;
    expect(mean).toBeGreaterThan(1.02);
    expect(length('outside') - length('inside')).toBeCloseTo(2 * Math.PI * (mean - 1), 2);
  });

  it('has its letters where they cross no bend line', () => {
    const [plate] = stripPlates(solved(UPRIGHT), wanted, 'mm', english.papers);
    const { at, lines, height } = plate!.text;
    const half = Math.max(...lines.map((line) => textWidth(line, height))) / 2;
    for (const { vertices } of plate!.scribe)
      expect(Math.abs(vertices[0]!.x - at.x), 'clear of the letters').toBeGreaterThan(half);
  });

  it('is a dimensioned drawing and a table of bend lines on one page, measured from the end of each part', () => {
    for (const unit of ['mm', 'inch', 'fraction'] as const)
      for (const stockLength of [2000, 600]) {
        const options = { ...wanted, stockLength };
        const made = strip(solved(UPRIGHT), options);
        const [page, ...more] = stripPages(solved(UPRIGHT), options, {
          paper: 'A4',
          unit,
          title: 'strip',
          sentences: [],
          words: english.papers,
        });
        expect(more).toEqual([]);
        expect(textOverlaps(page!)).toEqual([]);
        const text = said([page!]).split('\n');
        expect(made.parts.length).toBe(stockLength === 600 ? 2 : 1);
        if (unit !== 'mm') continue;
        for (const { from, length } of made.parts) {
          expect(text).toContain(length.toFixed(1));
          for (const { begin, end } of made.bends)
            for (const at of [begin - from, end - from])
              if (begin - from < length && end - from > 0) {
                expect(text).toContain(at.toFixed(1));
                expect(text).toContain(`${at.toFixed(1)} mm`);
              }
        }
      }
  });

  it('of a large tray is on one page too', () => {
    const huge: TraySpec = { ...UPRIGHT, plan: { length: 4000, width: 2000, cornerRadius: 45 } };
    const pages = stripPages(
      { ...solved(UPRIGHT), spec: huge },
      { ...wanted, stockLength: 12_000 },
      { paper: 'A4', unit: 'mm', title: 'strip', sentences: [], words: english.papers },
    );
    expect(pages.map((page) => textOverlaps(page))).toEqual([[]]);
  });

  it('is refused for a rim that is not level, open or turned', () => {
    const pattern = solved(UPRIGHT);
    const spec: TraySpec = {
      ...UPRIGHT,
      section: { ...UPRIGHT.section, rim: { kind: 'lip', direction: 'out', bendRadius: 3, width: 12 } },
    };
    expect(() => strip({ ...pattern, spec }, wanted)).toThrow(/plain, level and closed/);
  });
});

describe('plates as files', () => {
  const registry = createRegistry(nodeExporters);
  const write = (id: string, given: Record<string, unknown> = {}): Promise<Uint8Array> => {
    const exporter = registry.get(id);
    return exporter.write(solved(UPRIGHT), registry.values(exporter, given));
  };

  it('come as closed polylines of true arcs on the layer CUT, in mm', async () => {
    const drawing = parseString(new TextDecoder().decode(await write('gauges-dxf')));
    expect(drawing.header.insUnits).toBe(4);
    const cut = drawing.entities.filter((entity) => entity.layer === 'CUT');
    const list = gauges(solved(UPRIGHT), { ...options(UPRIGHT), hammerRadius: 300, dollyRadius: 75 });
    expect(cut).toHaveLength(2 * list.length);
    expect(cut.every((entity) => entity.type === 'LWPOLYLINE' && entity.closed === true)).toBe(true);
    const bulges = cut.flatMap((entity) => (entity.vertices ?? []).map((vertex) => vertex.bulge ?? 0));
    expect(bulges.filter((bulge) => bulge !== 0).length).toBeGreaterThan(list.length);
    const said = drawing.entities.filter((entity) => entity.layer === 'TEXT').map((entity) => entity.string);
    expect(said.join(' ')).toMatch(/0\.667\s*mm\s*deep/);
    // Plates do not lie over one another.
    const boxes = cut.map((entity) => {
      const [x, y] = [entity.vertices!.map((v) => v.x), entity.vertices!.map((v) => v.y)];
      return { minX: Math.min(...x), maxX: Math.max(...x), minY: Math.min(...y), maxY: Math.max(...y) };
    });
    const outlines = boxes.filter((box) => box.maxX - box.minX > 7);
    for (const [i, a] of outlines.entries()) {
      for (const b of outlines.slice(i + 1)) {
        expect(a.maxX < b.minX || b.maxX < a.minX || a.maxY < b.minY || b.maxY < a.minY).toBe(true);
      }
    }
  });

  it('come on paper at full size', async () => {
    const bytes = await write('gauges-pdf');
    expect(readText(bytes)).toContain('Measure this before you trust it.');
    const plate = gauges(solved(UPRIGHT), { ...options(UPRIGHT), hammerRadius: 300, dollyRadius: 75 }).find(
      ({ id }) => id === 'bottom-radius-outside',
    )!;
    const lengths = readPages(bytes).flatMap((_, i) => readPaths(bytes, i + 1).map((path) => path.length));
    const expected = pathLength(plate.outline) + pathLength(plate.holes[0]!);
    expect(Math.min(...lengths.map((length) => Math.abs(length - expected)))).toBeLessThan(0.05);
  });

  it('larger than the paper go over several sheets, which put the ply together again', async () => {
    const former12 = (large = 'tiles'): Promise<Uint8Array> => {
      const exporter = registry.get('former-pdf');
      return exporter.write(solved(NESTING), registry.values(exporter, { clearance: 1, ply: 60, large }));
    };
    const bytes = await former12();
    const pages = readPages(bytes);
    for (const { width, height } of pages) {
      const sizes = [width, height].sort((a, b) => a - b);
      expect(sizes[0]).toBeCloseTo(210, 1);
      expect(sizes[1]).toBeCloseTo(297, 1);
    }
    expect(pages.length).toBeGreaterThan(2);
    expect(readText(bytes, 1)).toMatch(/half\s+circles/);
    const { outline } = formerPlates(solved(NESTING), {
      clearance: 1,
      plyThickness: 60,
      overbent: null,
      unit: 'mm',
      words: english.papers,
    })[0]!;
    const box = pathBounds(outline);
    const paper = { name: 'A4', ...PAGE_SIZES.A4, margin: 10, overlap: 12, footer: 7 };
    const { tiles, window } = tilingOf('ply', [outline], paper, english.papers);
    expect(tiles).toHaveLength(pages.length - 1);
    tiles.forEach((tile, i) => {
      // The whole line is in every page's file, at its place; the page shows its window of it.
      const long = readPaths(bytes, i + 2).filter(
        ({ length }) => Math.abs(length - pathLength(outline)) < 0.05,
      );
      expect(long, `page ${i + 2}`).toHaveLength(1);
      for (const { x, y } of long[0]!.fine)
        expect(distanceToPath({ x: x - window.x + tile.x, y: y - window.y + tile.y }, outline)).toBeLessThan(
          0.05,
        );
    });
    const whole = readPages(await former12('page'));
    expect(whole).toHaveLength(2);
    expect(Math.abs(Math.max(whole[1]!.width, whole[1]!.height) - (box.maxX - box.minX + 24))).toBeLessThan(
      0.05,
    );
  });

  it('of a strip warn of welding, and of zinc where there is some', async () => {
    const text = readText(await write('strip-pdf'));
    expect(text).toContain('Welding fume can cause cancer');
    expect(text).toContain('Grind or strip the zinc well back from the seam');
  });

  it('of a former come as one outline for upright walls', async () => {
    const drawing = parseString(
      new TextDecoder().decode(await write('former-dxf', { clearance: 1, ply: 12 })),
    );
    expect(drawing.entities.filter((entity) => entity.layer === 'CUT')).toHaveLength(1);
    expect(drawing.entities.map((entity) => entity.string ?? '').join(' ')).toContain('ply 1 to 3');
  });
});
