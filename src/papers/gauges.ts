/**
 * Gauges to be cut from thin sheet or card: for the bottom radius, the plan corners, the section of the wall at
 * every stage, and the crowns of hammer and dolly.
 *
 * Working edges are the skins of the tray (`skins.ts`) or true arcs; all other corners are rounded where a hand
 * holds the gauge. mm, angles radians.
 */
import { GatherpanError } from '../errors.ts';
import { stageSurface } from '../gather/stageSurface.ts';
import type { Path, Vertex } from '../geometry/path.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { turnName } from '../tray/cornerLetter.ts';
import { neutralSurface } from '../tray/neutralSurface.ts';
import { planLoop } from '../tray/planLoop.ts';
import { insideBottomRadius, type Section } from '../tray/section.ts';
import type { TraySpec } from '../tray/spec.ts';
import { degrees, radians } from '../units.ts';
import type { PaperWords } from '../words/english.ts';
import { short } from './figureRows.ts';
import { givenDecimals, type LengthUnit, lengthText, withUnit } from './lengths.ts';
import {
  type BentState,
  bottomBend,
  heldSection,
  madeBend,
  stateOfWork,
  wholeBottomBend,
} from './overbends.ts';
import { gaugePlate, HOLD_RADIUS, type Plate, roundedAt } from './plate.ts';
import { insideHeight, insideRunAt, type Skin, skinProfile } from './skins.ts';

export interface GaugeOptions {
  /** Crown radius of the hammer's and the dolly's face, and the width of face the gauge covers, mm. */
  readonly hammerRadius: number;
  /** 0 for the dolly that goes into the bottom bend and leaves it when the sheet is let go. */
  readonly dollyRadius: number;
  readonly face: number;
  /** To what the wall is turned up at each stage, degrees from the base's plane, the finished angle last. */
  readonly stages: readonly number[];
  /** By how much a trial bend opened, degrees (`madeBend`); 0 where none was made. */
  readonly trialBend: number;
  readonly unit: LengthUnit;
  readonly words: PaperWords;
}

/** Width of material beside a working edge, mm. */
const BESIDE = 22;
/** Straight legs beside an arc, mm. */
const LEG = 18;

/** All gauges of a tray, each with an id of its own. */
export function gauges(pattern: FlatPattern, options: GaugeOptions): Plate[] {
  const { spec } = pattern;
  const { unit, words } = options;
  const inside = insideBottomRadius(spec);
  const outside = inside + spec.sheet.thickness;
  const brief = words.gaugeBrief;
  const plate = (id: string, outline: Path, what: string, short: string, least = short): Plate =>
    gaugePlate(id, outline, [pattern.name, what], [[pattern.name, short], [short], [least]]);
  const list: Plate[] = [];
  for (const [skin, radius] of [
    ['inside', inside],
    ['outside', outside],
  ] as const) {
    const said = withUnit(radius, unit, 2);
    const what = skin === 'inside' ? words.gaugeBottomInside(said) : words.gaugeBottomOutside(said);
    list.push(plate(`bottom-radius-${skin}`, bottomGauge(spec, skin), what, brief.radius(said)));
  }
  for (const corner of planCorners(spec)) {
    const said = corner.names.join(', ');
    const id = `plan-${corner.edge ? 'side' : 'corner'}-${corner.names[0]!.replace('–', '-')}`;
    const [onInside, onOutside] = corner.edge
      ? [words.gaugeSideInside, words.gaugeSideOutside]
      : [words.gaugeCornerInside, words.gaugeCornerOutside];
    const [own, over] = [withUnit(corner.insideRadius, unit, 2), withUnit(corner.outsideRadius, unit, 2)];
    list.push(
      plate(`${id}-inside`, cornerGauge(corner, 'inside'), onInside(said, own), brief.radius(own)),
      plate(`${id}-outside`, cornerGauge(corner, 'outside'), onOutside(said, over), brief.radius(over)),
    );
  }
  const surface = neutralSurface(spec);
  const state = stateOfWork(pattern);
  for (const degree of options.stages) {
    const { section } = stageSurface(surface, degree);
    const angle = short(degree);
    const side = sectionGauge(spec, sideBase(spec), section);
    const corner = sectionGauge(spec, cornerBase(spec), section);
    const made = madeBend(pattern, state, bottomBend(spec, degree), options.trialBend);
    const heldAngle = degrees(made.angle).toFixed(0);
    const held = made.angle < MOST_HELD ? heldGauge(spec, heldSection(spec, section, made)) : null;
    const letGo = held === null ? words.gaugeSectionNotHeld : words.gaugeSectionSide;
    list.push(plate(`section-side-${angle}`, side, letGo(angle), brief.side(angle), brief.angle(angle)));
    if (held !== null) {
      const said = words.gaugeSectionHeld(angle, heldAngle);
      list.push(plate(`section-side-${angle}-held`, held, said, brief.held(angle), brief.angle(heldAngle)));
    }
    list.push(
      plate(
        `section-corner-${angle}`,
        corner,
        words.gaugeSectionCorner(angle),
        brief.corner(angle),
        brief.angle(angle),
      ),
    );
  }
  if (spec.section.rim.kind === 'lip') {
    const [side, corner] = [sectionGauge(spec, sideBase(spec)), sectionGauge(spec, cornerBase(spec))];
    list.push(
      plate('section-side-lip', side, words.gaugeSideLip, brief.sideLip),
      plate('section-corner-lip', corner, words.gaugeCornerLip, brief.cornerLip),
    );
  }
  list.push(
    crownPlate('hammer-crown', options.hammerRadius, options.face, words.gaugeHammer, options),
    dollyPlate(pattern, state, options),
  );
  return list;
}

/** The bend and a piece of base and wall beside it. */
export function bottomGauge(spec: TraySpec, skin: Skin): Path {
  const profile = skinProfile(spec, skin, LEG);
  // Base, bend, wall: the wall is cut off a leg's length above the bend.
  const [start, bend, wall] = profile.vertices as [Vertex, Vertex, Vertex];
  const angle = Math.PI / 2 - (spec.section.draft * Math.PI) / 180;
  const end = { x: wall.x + LEG * Math.cos(angle), y: wall.y + LEG * Math.sin(angle), bulge: 0 };
  const edge = [start, bend, { x: wall.x, y: wall.y, bulge: 0 }, end];
  return skin === 'inside' ? closedInside(edge) : closedOutside(edge);
}

/** How far the base edge of a section gauge reaches from the bend at a side. */
const sideBase = (spec: TraySpec): number => Math.max(30, 0.6 * spec.section.height);
/** Shorter at a corner, so that the gauge stands between the gauges of both sides. */
const cornerBase = (spec: TraySpec): number => Math.max(16, 0.3 * spec.section.height);

/**
 * The whole inside skin from the base to the rim; the upper edge is level with the rim, so the gauge shows the
 * height too. The inside is the same curve at a side and across a corner's middle, because the section stands
 * square to the plan everywhere.
 */
export function sectionGauge(spec: TraySpec, base: number, section?: Section): Path {
  return closedInside(skinProfile(spec, 'inside', base, section).vertices);
}

/** The side under the hammer. Its wall may lean in over the base, which is then as much longer. */
function heldGauge(spec: TraySpec, section: Section): Path {
  const leaning = -skinProfile(spec, 'inside', 0, section).vertices.at(-1)!.x;
  return sectionGauge(spec, sideBase(spec) + Math.max(0, leaning), section);
}

/** A wall is not held further over the base than this, radians. */
const MOST_HELD = radians(150);

/** The area at the left of a working edge that runs from the base up the wall. */
function closedInside(edge: readonly Vertex[]): Path {
  const first = edge[0]!;
  const last = edge[edge.length - 1]!;
  const top = Math.max(...edge.map((vertex) => vertex.y));
  const vertices: Vertex[] = [...edge];
  const before = edge[edge.length - 2]!;
  // Above an edge that ends lying down, a lip turned out or a wall turned up a little, there has to be some gauge.
  const lying = last.x - before.x > Math.abs(last.y - before.y);
  const upper = lying ? top + BESIDE : top;
  if (upper > last.y + 1e-9) vertices.push({ x: last.x, y: upper, bulge: 0 });
  vertices.push({ x: first.x, y: upper, bulge: 0 });
  return roundedAt({ vertices, closed: true }, [vertices.length - 1], HOLD_RADIUS);
}

/** The area at the right of it. */
function closedOutside(edge: readonly Vertex[]): Path {
  const first = edge[0]!;
  const last = edge[edge.length - 1]!;
  const back = edge.map((_, i): Vertex => {
    const { x, y } = edge[edge.length - 1 - i]!;
    const before = edge[edge.length - 2 - i];
    return { x, y, bulge: before === undefined || before.bulge === 0 ? 0 : -before.bulge };
  });
  const vertices: Vertex[] = [
    ...back,
    { x: first.x, y: first.y - BESIDE, bulge: 0 },
    { x: last.x + BESIDE, y: first.y - BESIDE, bulge: 0 },
    { x: last.x + BESIDE, y: last.y, bulge: 0 },
  ];
  const n = vertices.length;
  return roundedAt({ vertices, closed: true }, [n - 3, n - 2, n - 1], HOLD_RADIUS);
}

/** Plan corners that are alike, at the rim. */
export interface PlanCorner {
  /** Letters of the corners, or of the curved sides. */
  readonly names: readonly string[];
  /** True for curved sides, whose gauge covers a piece of the arc and has no legs. */
  readonly edge: boolean;
  readonly insideRadius: number;
  readonly outsideRadius: number;
  /** Turn of the plan, negative for a concave corner. */
  readonly sweep: number;
}

/** The gathered corners and curved sides of the plan, at the height of the rim. */
export function planCorners(spec: TraySpec): PlanCorner[] {
  const run = insideRunAt(spec, insideHeight(spec));
  const through = spec.sheet.thickness / Math.cos((spec.section.draft * Math.PI) / 180);
  const groups = new Map<string, PlanCorner>();
  const { segments, vertexCount } = planLoop(spec);
  for (const segment of segments) {
    if (segment.kind !== 'corner' || segment.wall === false) continue;
    const edge = segment.index >= vertexCount;
    const sign = Math.sign(segment.sweep);
    const insideRadius = segment.radius + sign * run;
    const outsideRadius = insideRadius + sign * through;
    if (!(Math.min(insideRadius, outsideRadius) > 0)) continue;
    const key = `${edge} ${insideRadius.toFixed(6)} ${edge ? sign : segment.sweep.toFixed(9)}`;
    const known = groups.get(key);
    groups.set(key, {
      names: [...(known?.names ?? []), turnName(segment.index, vertexCount)],
      edge,
      insideRadius,
      outsideRadius,
      sweep: edge ? sign * Math.min(Math.abs(segment.sweep), arcOnGauge(insideRadius)) : segment.sweep,
    });
  }
  return [...groups.values()];
}

/** How much of a curved side a gauge covers, radians: a chord of 120 mm at most. */
const arcOnGauge = (radius: number): number => 2 * Math.asin(Math.min(0.7, 60 / radius));

/** The corner with a leg at each end, or a piece of a curved side; open at the side of the hand. */
export function cornerGauge(corner: PlanCorner, skin: Skin): Path {
  const radius = skin === 'inside' ? corner.insideRadius : corner.outsideRadius;
  const convex = (skin === 'inside') === corner.sweep > 0;
  const h = Math.abs(corner.sweep) / 2;
  const [c, s] = [Math.cos(h), Math.sin(h)];
  // Symmetric about x: the arc's middle at angle 0, legs along the tangents at ±h.
  const leg = corner.edge ? 0 : LEG;
  const start = { x: radius * c - leg * s, y: -radius * s - leg * c };
  const arc: Vertex[] = [
    { x: radius * c, y: -radius * s, bulge: Math.tan(h / 2) },
    { x: radius * c, y: radius * s, bulge: 0 },
  ];
  const edge: Vertex[] =
    leg === 0 ? arc : [{ ...start, bulge: 0 }, ...arc, { x: start.x, y: -start.y, bulge: 0 }];
  const n = edge.length;
  if (convex) {
    const meets = radius + leg * (c / s);
    const depth = Math.min(meets, Math.max(40, radius / 2));
    const inner = { x: start.x - depth * c, y: start.y + depth * s };
    const vertices: Vertex[] =
      depth === meets
        ? [...edge, { x: inner.x, y: 0, bulge: 0 }]
        : [...edge, { x: inner.x, y: -inner.y, bulge: 0 }, { ...inner, bulge: 0 }];
    const solid = roundedAt({ vertices, closed: true }, vertices.map((_, i) => i).slice(n), HOLD_RADIUS);
    return turned(solid, h);
  }
  const back = edge.map((_, i): Vertex => {
    const { x, y } = edge[n - 1 - i]!;
    const before = edge[n - 2 - i];
    return { x, y, bulge: before === undefined || before.bulge === 0 ? 0 : -before.bulge };
  });
  const outer = { x: start.x + BESIDE * c, y: start.y - BESIDE * s };
  const vertices: Vertex[] = [
    ...back,
    { ...outer, bulge: 0 },
    { x: (radius + BESIDE) / c, y: 0, bulge: 0 },
    { x: outer.x, y: -outer.y, bulge: 0 },
  ];
  return turned(roundedAt({ vertices, closed: true }, [n, n + 1, n + 2], HOLD_RADIUS), h);
}

/** Turned about the origin, radians, so that a leg stands upright. */
const turned = (path: Path, angle: number): Path => ({
  ...path,
  vertices: path.vertices.map(({ x, y, bulge }) => ({
    x: Math.cos(angle) * x - Math.sin(angle) * y,
    y: Math.sin(angle) * x + Math.cos(angle) * y,
    bulge,
  })),
});

/** Depth of an arc under its chord, mm: in this form it keeps its digits where the radius is large. */
export const sagitta = (radius: number, chord: number): number =>
  (chord * chord) / (4 * (radius + Math.sqrt(radius * radius - (chord * chord) / 4)));

/** A hollow edge for a crowned face. */
export function crownGauge(radius: number, face: number): Path {
  const half = face / 2;
  const height = 34;
  return roundedAt(
    {
      vertices: [
        // Over the crown from left to right: clockwise; bulge = 2 sagitta / chord.
        { x: -half, y: 0, bulge: (-2 * sagitta(radius, face)) / face },
        { x: half, y: 0, bulge: 0 },
        { x: half, y: height, bulge: 0 },
        { x: -half, y: height, bulge: 0 },
      ],
      closed: true,
    },
    [2, 3],
    HOLD_RADIUS,
  );
}

/** The dolly's crown; one that goes into the bend has as much face as its ball allows. */
function dollyPlate(pattern: FlatPattern, state: BentState, options: GaugeOptions): Plate {
  const { dollyRadius, face, trialBend, words } = options;
  if (dollyRadius > 0) return crownPlate('dolly-crown', dollyRadius, face, words.gaugeDolly, options);
  const own = dollyCrown(pattern, state, face, trialBend);
  return crownPlate('dolly-crown', own.radius, own.face, words.gaugeDolly, options);
}

/** The dolly that goes into the bottom bend and leaves it when the sheet is let go, mm. */
export function dollyCrown(
  pattern: FlatPattern,
  state: BentState,
  face: number,
  trialBend: number,
): { readonly radius: number; readonly face: number } {
  const { insideRadius: radius } = madeBend(pattern, state, wholeBottomBend(pattern.spec), trialBend);
  return { radius, face: Math.min(face, MOST_FACE * radius) };
}

/** Face of a crown gauge over the radius of its ball: near to 2 the gauge would grip the ball. */
const MOST_FACE = 1.6;

function crownPlate(
  id: string,
  radius: number,
  face: number,
  said: (radius: string) => string,
  { unit, words }: GaugeOptions,
): Plate {
  if (!(face < 2 * radius)) {
    throw new GatherpanError(
      'BAD_INPUT',
      words.errors.crownFace(String(radius), String(face), String(2 * radius)),
    );
  }
  const depth = words.gaugeSagitta(
    withUnit(sagitta(radius, face), unit, 3),
    withUnit(face, unit, givenDecimals(unit, face)),
  );
  const own = withUnit(radius, unit, givenDecimals(unit, radius));
  const what = said(own);
  return gaugePlate(
    id,
    crownGauge(radius, face),
    [what, depth],
    [[what], [words.gaugeBrief.radius(lengthText(radius, unit, givenDecimals(unit, radius)))]],
  );
}
