/** From solids back to tray files. */
import { describe, expect, it } from 'vitest';
import { writeFormedSolid } from '../../src/step/formedSolid.ts';
import { recogniseTray } from '../../src/step/recognise/recogniseTray.ts';
import { loopPoint, planLoop } from '../../src/tray/planLoop.ts';
import { readTray } from '../../src/tray/readTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { some } from '../support/long.ts';
import { expectSame } from './expectSame.ts';
import { shelledBox } from './foreignParts.ts';
import { judged, readPart } from './occt.ts';
import { writtenPart } from './parts.ts';
import { DEMO_NAMES, DEMOS_WITH_BULGES, demo, TRAY_NAMES, tray, trayFile, VARIED_NAMES } from './trays.ts';

const TIME = 600_000;
const GIVEN = { name: 'drip-tray', material: 'DC04', grain: 0 };

async function recognised(bytes: Uint8Array, given = GIVEN): Promise<TraySpec | null> {
  const found = recogniseTray(await readPart(bytes), given);
  return found === null ? null : readTray(found.file);
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
  it.each(some([...TRAY_NAMES, ...VARIED_NAMES], 14))(
    'is recognised: %s',
    async (name) => {
      const spec = tray(name);
      const found = await recognised(writeFormedSolid(spec, 'tray', 'AP214'));
      expectSame(found, spec);
    },
    TIME,
  );

  it.each(some(DEMO_NAMES, 5))(
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

describe('what is no tray of one section', () => {
  it(
    'is not taken for one: a block, and a tray with a wall that leans on one side only',
    async () => {
      expect(
        await recognised(await writtenPart((k) => new k.BRepPrimAPI_MakeBox_1(100, 80, 2).Shape())),
      ).toBeNull();
      const cut = await writtenPart((k) => {
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
