/** Gauges, formers and the strip against the solved tray and closed forms. */

import { parseString } from 'dxf';
import { describe, expect, it } from 'vitest';
import { builtInExporters } from '../../src/exporters/builtIn.ts';
import { createRegistry } from '../../src/exporters/registry.ts';
import { stageAngles } from '../../src/gather/stages.ts';
import { neutralFactor } from '../../src/material/neutralFactor.ts';
import { arcOf, pieceCount, pieceEnd } from '../../src/outline/arc.ts';
import { selfIntersections } from '../../src/outline/intersect.ts';
import {
  containsPoint,
  distanceToPath,
  pathArea,
  pathBounds,
  pathLength,
} from '../../src/outline/measure.ts';
import type { Path } from '../../src/outline/path.ts';
import { former } from '../../src/papers/formers.ts';
import { crownGauge, type GaugeOptions, gauges, planCorners, sagitta } from '../../src/papers/gauges.ts';
import { skinOffset } from '../../src/papers/skins.ts';
import { type StripOptions, strip, stripPlates } from '../../src/papers/strip.ts';
import { english } from '../../src/papers/words.ts';
import { planLoop } from '../../src/tray/planLoop.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { readPages, readPaths, readText } from './poppler.ts';
import { NESTING, solved, UPRIGHT } from './solved.ts';

const options = (spec: TraySpec): GaugeOptions => ({
  hammerRadius: 450,
  dollyRadius: 60,
  face: 40,
  stages: stageAngles(spec),
  unit: 'mm',
  words: english,
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

    it('have the bottom radius of each skin', () => {
      const { bottomRadius } = spec.section;
      const { thickness } = spec.sheet;
      const inside = spec.measured === 'inside' ? bottomRadius : bottomRadius - thickness;
      expect(has(gauge('bottom-radius-inside').outline, inside)).toBe(true);
      expect(has(gauge('bottom-radius-outside').outline, inside + thickness)).toBe(true);
    });

    it("fit the solved tray: wall nodes of a side lie at the skin's distance from the section gauge", () => {
      const angle = stageAngles(spec).at(-1)!;
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
      const { formed, rimNodes, rimCorner } = pattern.field;
      const corners = planLoop(spec).segments.filter((segment) => segment.kind === 'corner');
      // At the rim the skin lies the wall's share of the neutral distance inside the neutral surface.
      const draft = (spec.section.draft * Math.PI) / 180;
      for (const corner of planCorners(spec)) {
        const segment = corners.find(({ index }) => index === corner.numbers[0]! - 1)!;
        const i = rimCorner.indexOf(segment.index);
        const node = rimNodes[i]!;
        if (segment.kind !== 'corner') throw new Error('a corner is a corner');
        const rim = Math.hypot(formed[3 * node]! - segment.centreX, formed[3 * node + 1]! - segment.centreY);
        const inside = rim - skinOffset(spec, 'inside') * Math.cos(draft);
        expect(Math.abs(corner.insideRadius - inside)).toBeLessThan(1e-6);
        expect(has(gauge(`plan-corner-${corner.numbers[0]}-inside`).outline, corner.insideRadius)).toBe(true);
        expect(has(gauge(`plan-corner-${corner.numbers[0]}-outside`).outline, corner.outsideRadius)).toBe(
          true,
        );
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
      for (const angle of stageAngles(spec)) {
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
    expect(concave.numbers).toEqual([4]);
    // Measured inside, so the inside has the radius of the plan; the outside is a sheet nearer to the centre.
    expect(concave.insideRadius).toBeCloseTo(55, 9);
    expect(concave.outsideRadius).toBeCloseTo(54, 9);
    const outline = gauges({ ...solved(UPRIGHT), spec: ELL }, options(ELL)).find(
      ({ id }) => id === 'plan-corner-4-inside',
    )!.outline;
    const bulges = outline.vertices.filter(
      (vertex, i) => Math.abs((arcOf(vertex, pieceEnd(outline, i))?.radius ?? 0) - 55) < 1e-6,
    );
    expect(bulges.map(({ bulge }) => Math.sign(bulge))).toEqual([-1]);
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

  it('refuse a clearance wider than the bend', () => {
    expect(() => former(UPRIGHT, 14.5 + 30, 18)).toThrow();
  });
});

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
    // The rim of the solved tray lies on the neutral surface, half a sheet outside its inside.
    const { formed, rimNodes } = solved(UPRIGHT).field;
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
    const { field, sheet } = pattern;
    let extra = 0;
    for (const corner of [0, 1, 2, 3]) {
      const thick = [...field.rimNodes]
        .filter((_, i) => field.rimCorner[i] === corner)
        .map((node) => Math.exp(field.thicknessStrain[node]!));
      extra += (Math.PI / 2) * sheet.thickness * (thick.reduce((a, b) => a + b, 0) / thick.length - 1);
    }
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
    const [plate] = stripPlates(pattern, wanted, 'mm', english);
    const { bends, parts } = strip(pattern, wanted);
    expect(plate!.scribe.map((line) => line.vertices[0]!.x)).toEqual(
      bends.flatMap(({ begin, end }) => [begin - parts[0]!.from, end - parts[0]!.from]),
    );
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
  const registry = createRegistry(builtInExporters);
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

  it('of a strip warn of welding, and of zinc where there is some', async () => {
    const text = readText(await write('strip-pdf'));
    expect(text).toContain('Welding:');
    expect(text).toContain('Zinc-coated sheet');
  });

  it('of a former come as one outline for upright walls', async () => {
    const drawing = parseString(
      new TextDecoder().decode(await write('former-dxf', { clearance: 1, ply: 12 })),
    );
    expect(drawing.entities.filter((entity) => entity.layer === 'CUT')).toHaveLength(1);
    expect(drawing.entities.map((entity) => entity.string ?? '').join(' ')).toContain('ply 1 to 3');
  });
});
