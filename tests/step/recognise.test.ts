/** From solids back to tray files. */
import { describe, expect, it } from 'vitest';
import { writeFormedSolid } from '../../src/step/formedSolid.ts';
import { recogniseTray } from '../../src/step/recognise/recogniseTray.ts';
import { loopPoint, planLoop } from '../../src/tray/planLoop.ts';
import { readTray } from '../../src/tray/readTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { judged, kernel, readPart } from './kernel.ts';
import { DEMO_NAMES, DEMOS_WITH_BULGES, demo, TRAY_NAMES, tray, trayFile, VARIED_NAMES } from './trays.ts';

const TIME = 60_000;
const GIVEN = { name: 'drip-tray', material: 'DC04', grain: 0 };

async function recognised(bytes: Uint8Array, given = GIVEN): Promise<TraySpec | null> {
  const file = recogniseTray(await readPart(bytes), given);
  return file === null ? null : readTray(file);
}

/** Every number within 1e-6, everything else the same. */
function expectSame(actual: unknown, expected: unknown, path = ''): void {
  if (typeof expected === 'number') {
    expect(
      Math.abs((actual as number) - expected),
      `${path}: ${String(actual)} for ${expected}`,
    ).toBeLessThanOrEqual(1.01e-6);
  } else if (typeof expected === 'object' && expected !== null) {
    expect(Object.keys(actual as object).sort(), path).toEqual(Object.keys(expected).sort());
    for (const [key, value] of Object.entries(expected)) {
      expectSame((actual as Record<string, unknown>)[key], value, `${path}.${key}`);
    }
  } else expect(actual, path).toBe(expected);
}

/** Middle of the base's edge. */
function middle(spec: TraySpec): [number, number] {
  const points = planLoop(spec).segments.flatMap((segment) =>
    [0, 0.5, 1].map((f) => loopPoint(segment, f, { x: 0, y: 0, normalX: 0, normalY: 0 })),
  );
  const half = (values: number[]): number => (Math.min(...values) + Math.max(...values)) / 2;
  return [half(points.map(({ x }) => x)), half(points.map(({ y }) => y))];
}

/** A tray without its plan, holes about the base's middle. */
function centred(spec: TraySpec): unknown {
  const [mx, my] = middle(spec);
  const holes = spec.holes?.map(({ place, ...hole }) => ({
    ...hole,
    place: place.on === 'base' ? { ...place, x: place.x - mx, y: place.y - my } : place,
  }));
  return { ...spec, plan: null, ...(holes === undefined ? {} : { holes }) };
}

/** Lines and circles of the base's edge about its middle, each once, to 1e-5 mm. */
function circles(spec: TraySpec): string[] {
  const [mx, my] = middle(spec);
  const round = (value: number): number => Math.round(value * 1e5) / 1e5 + 0;
  const lines = planLoop(spec).segments.map((segment) =>
    segment.kind === 'side'
      ? ['line', round(segment.length), round(segment.x0 - mx), round(segment.y0 - my)].join(' ')
      : ['arc', ...[segment.centreX - mx, segment.centreY - my, segment.radius].map(round)].join(' '),
  );
  return [...new Set(lines)].sort();
}

describe('a formed solid of ours', () => {
  it.each([...TRAY_NAMES, ...VARIED_NAMES])(
    'is recognised: %s',
    async (name) => {
      const spec = tray(name);
      const found = await recognised(writeFormedSolid(spec, 'tray', 'AP214'));
      expectSame(found, spec);
    },
    TIME,
  );

  it.each(DEMO_NAMES)(
    'gives the tray file back: %s',
    async (name) => {
      const spec = demo(name);
      const bytes = writeFormedSolid(spec, spec.name, 'AP242');
      const found = await recognised(bytes, {
        name,
        material: spec.sheet.material as string,
        grain: spec.sheet.grain,
      });
      // What no geometry says is as in the demo.
      const whole = { ...found, forming: spec.forming, cut: spec.cut } as TraySpec;
      const holes = spec.holes?.map((hole, i) => ({ ...hole, name: `hole-${i + 1}` }));
      const named = holes === undefined ? spec : { ...spec, holes };
      if (!DEMOS_WITH_BULGES.includes(name)) {
        expectSame(whole, named);
        return;
      }
      // The same tray in other words: all but the plan, and the base's edge by its lines and circles.
      expectSame(centred(whole), centred(named));
      expect(circles(whole)).toEqual(circles(spec));
    },
    TIME,
  );

  it(
    'gives its holes back',
    async () => {
      const spec = readTray({
        ...trayFile('plan radius larger: tori'),
        holes: [
          { name: 'hole-1', shape: { kind: 'round', diameter: 20 }, place: { on: 'base', x: 20, y: 10 } },
          {
            name: 'hole-2',
            shape: { kind: 'slot', length: 40, width: 10, angle: 30 },
            place: { on: 'base', x: -30, y: 0 },
          },
        ],
      });
      expectSame(await recognised(writeFormedSolid(spec, 'tray', 'AP214')), spec);
    },
    TIME,
  );
});

/** A file written by the kernel itself of a shape made with it. */
async function written(make: (k: Awaited<ReturnType<typeof kernel>>) => unknown): Promise<Uint8Array> {
  const k = await kernel();
  const writer = new k.STEPControl_Writer_1();
  writer.Transfer(make(k), k.STEPControl_StepModelType.STEPControl_AsIs, true);
  writer.Write('o.stp');
  const bytes: Uint8Array = k.FS.readFile('/o.stp');
  k.FS.unlink('/o.stp');
  return bytes;
}

/** A box with upright edges rounded by `plan` and lower edges by `bottom`, shelled inwards from the top. */
function shelledBox(
  k: Awaited<ReturnType<typeof kernel>>,
  [a, b, h]: readonly [number, number, number],
  plan: number,
  bottom: number,
  thickness: number,
): unknown {
  const { TopAbs_ShapeEnum: kinds } = k;
  const edges = (shape: unknown): unknown[] => {
    const out: unknown[] = [];
    for (
      const e = new k.TopExp_Explorer_2(shape, kinds.TopAbs_EDGE, kinds.TopAbs_SHAPE);
      e.More();
      e.Next()
    ) {
      const edge = k.TopoDS.Edge_1(e.Current());
      if (!out.some((known) => (known as { IsSame(other: unknown): boolean }).IsSame(edge))) out.push(edge);
    }
    return out;
  };
  const heights = (edge: unknown): [number, number] => {
    const curve = new k.BRepAdaptor_Curve_2(edge);
    return [curve.Value(curve.FirstParameter()).Z(), curve.Value(curve.LastParameter()).Z()];
  };
  const box = new k.BRepPrimAPI_MakeBox_1(a, b, h).Shape();
  const upright = new k.BRepFilletAPI_MakeFillet(box, k.ChFi3d_FilletShape.ChFi3d_Rational);
  for (const edge of edges(box)) {
    const [from, to] = heights(edge);
    if (Math.abs(from - to) > 1) upright.Add_2(plan, edge);
  }
  const rounded = upright.Shape();
  const lower = new k.BRepFilletAPI_MakeFillet(rounded, k.ChFi3d_FilletShape.ChFi3d_Rational);
  // One edge of the bottom is enough: the rounding goes on round smooth corners.
  lower.Add_2(
    bottom,
    edges(rounded).find((edge) => heights(edge).every((z) => Math.abs(z) < 1e-6)),
  );
  const solid = lower.Shape();
  const top = new k.TopTools_ListOfShape_1();
  for (const e = new k.TopExp_Explorer_2(solid, kinds.TopAbs_FACE, kinds.TopAbs_SHAPE); e.More(); e.Next()) {
    const face = k.TopoDS.Face_1(e.Current());
    const surface = new k.BRepAdaptor_Surface_2(face, true);
    if (surface.GetType().value === 0 && Math.abs(surface.Plane().Location().Z() - h) < 1e-6)
      top.Append_1(face);
  }
  const thick = new k.BRepOffsetAPI_MakeThickSolid_1();
  thick.MakeThickSolidByJoin(
    solid,
    top,
    -thickness,
    1e-6,
    k.BRepOffset_Mode.BRepOffset_Skin,
    false,
    false,
    k.GeomAbs_JoinType.GeomAbs_Arc,
    false,
  );
  return thick.Shape();
}

describe("a tray built with the kernel's own roundings and shell", () => {
  it(
    'is recognised wherever it stands',
    async () => {
      const bytes = await written((k) => shelledBox(k, [260, 180, 50], 50, 15, 1.5));
      // Half-lengths 130 and 90; the corner rings of radius 35 and 50 by Pappus and Guldin would say the same.
      const found = await recognised(bytes);
      expectSame(found, {
        name: 'drip-tray',
        measured: 'outside',
        plan: { length: 260, width: 180, cornerRadius: 50 },
        section: { bottomRadius: 15, height: 50, draft: 0, rim: { kind: 'plain' } },
        sheet: { material: 'DC04', thickness: 1.5, grain: 0 },
        forming: found!.forming,
        cut: found!.cut,
      });
    },
    TIME,
  );

  it(
    'is recognised on its side, turned out of every axis',
    async () => {
      const bytes = await written((k) => {
        const shape = shelledBox(k, [260, 180, 50], 50, 15, 1.5);
        const turn = new k.gp_Trsf_1();
        turn.SetRotation_1(new k.gp_Ax1_2(new k.gp_Pnt_3(10, 20, 30), new k.gp_Dir_4(1, 2, 2)), 0.7);
        return new k.BRepBuilderAPI_Transform_2(shape, turn, true).Shape();
      });
      const found = await recognised(bytes);
      const plan = found!.plan as { length: number; width: number; cornerRadius: number };
      expect([plan.length, plan.width].sort((x, y) => x - y)).toEqual([180, 260]);
      expect(plan.cornerRadius).toBe(50);
      expectSame(found!.section, { bottomRadius: 15, height: 50, draft: 0, rim: { kind: 'plain' } });
    },
    TIME,
  );
});

describe('what is no tray of one section', () => {
  it(
    'is not taken for one: a block, and a tray with a wall that leans on one side only',
    async () => {
      expect(
        await recognised(await written((k) => new k.BRepPrimAPI_MakeBox_1(100, 80, 2).Shape())),
      ).toBeNull();
      const cut = await written((k) => {
        const tub = shelledBox(k, [260, 180, 50], 50, 15, 1.5);
        const knife = new k.BRepPrimAPI_MakeBox_2(new k.gp_Pnt_3(200, -10, 30), 200, 300, 100).Shape();
        return new k.BRepAlgoAPI_Cut_3(tub, knife).Shape();
      });
      expect((await judged(cut)).solids).toBe(1);
      expect(await recognised(cut)).toBeNull();
    },
    TIME,
  );
});
