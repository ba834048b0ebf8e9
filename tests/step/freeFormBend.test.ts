/** A sheet that is only bent comes back as long as it is, on triangles of any size. */
import { describe, expect, it } from 'vitest';
import { pathArea, pathBounds } from '../../src/geometry/measure.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developPart } from '../../src/step/freeForm/developPart.ts';
import { PART_DENSITY } from '../../src/step/freeForm/meshSizes.ts';
import { GIVEN } from './given.ts';
import { withLivePart } from './occt.ts';
import { writtenPart } from './parts.ts';

const [BASE, WIDTH, RADIUS, WALL] = [100, 60, 8, 30];

describe('a bracket with one right-angled bend', () => {
  it.each([
    ['in one row of triangles', { ...PART_DENSITY, bent: 3, strained: 3 }],
    ['in many', { ...PART_DENSITY, bent: 0.3 }],
  ])(
    'is as long as its base, its arc and its wall, the bend %s',
    async (_, density) => {
      const bytes = await writtenPart((k) => {
        const at = (x: number, z: number): unknown => new k.gp_Pnt_3(x, 0, z);
        const half = RADIUS * Math.SQRT1_2;
        const arc = new k.GC_MakeArcOfCircle_4(
          at(BASE, 0),
          at(BASE + half, RADIUS - half),
          at(BASE + RADIUS, RADIUS),
        ).Value();
        const edges = [
          new k.BRepBuilderAPI_MakeEdge_3(at(0, 0), at(BASE, 0)).Edge(),
          new k.BRepBuilderAPI_MakeEdge_24(new k.Handle_Geom_Curve_2(arc.get())).Edge(),
          new k.BRepBuilderAPI_MakeEdge_3(at(BASE + RADIUS, RADIUS), at(BASE + RADIUS, RADIUS + WALL)).Edge(),
        ];
        const sewing = new k.BRepBuilderAPI_Sewing(1e-5, true, true, true, false);
        for (const edge of edges) {
          sewing.Add(new k.BRepPrimAPI_MakePrism_1(edge, new k.gp_Vec_4(0, WIDTH, 0), true, true).Shape());
        }
        sewing.Perform(new k.Handle_Message_ProgressIndicator_1());
        return sewing.SewedShape();
      });
      const { rim, report } = await withLivePart(bytes, (live) =>
        flatPatternOf(developPart(live, { ...GIVEN, thickness: 1 }, density)),
      );
      const { minX, maxX, minY, maxY } = pathBounds(rim);
      // The surface is the middle of the sheet, and with an inside radius of 7.5 mm on 1 mm the neutral fibre too.
      const length = BASE + (RADIUS * Math.PI) / 2 + WALL;
      expect(Math.abs(maxX - minX - length)).toBeLessThan(1e-3);
      expect(Math.abs(maxY - minY - WIDTH)).toBeLessThan(1e-3);
      expect(Math.abs(pathArea(rim) - length * WIDTH)).toBeLessThan(1e-3 * length);
      expect(report.thickness.max).toBeCloseTo(1, 5);
    },
    60_000,
  );
});
