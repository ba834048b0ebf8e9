/** From a part of any shape to its flat pattern: unfolded as it is, by the same equilibrium as every tray. */
import { GatherpanError } from '../../errors.ts';
import { gatherOf } from '../../gather/gather.ts';
import { workedMaterial } from '../../gather/hand.ts';
import { plasticLaw } from '../../material/law.ts';
import type { SheetSpec } from '../../material/sheetSpec.ts';
import { resolveSheet } from '../../material/sheets.ts';
import type { QuadraticMesh } from '../../mesh/quadraticMesh.ts';
import { selfIntersections } from '../../outline/intersect.ts';
import { offsetPath } from '../../outline/offset.ts';
import type { Path } from '../../outline/path.ts';
import { blankFigures, sharedBounds, thicknessRange } from '../../pattern/blankReport.ts';
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import { fitSolvedLine } from '../../pattern/lines.ts';
import { equilibrium } from '../../solve/equilibrium.ts';
import type { FlatField } from '../../solve/flatField.ts';
import { newton } from '../../solve/newton.ts';
import { nodalStrains } from '../../solve/strains.ts';
import { solverStructure } from '../../solve/structure.ts';
import { PLACED_SIZE } from '../../tray/neutralSurface.ts';
import type { TraySpec } from '../../tray/spec.ts';
import type { LivePart } from '../kernel/readShape.ts';
import { EDGE_SAMPLES } from '../part.ts';
import { baseFoot } from './baseFoot.ts';
import { bendKinds } from './bendLines.ts';
import { exactGeometry } from './exactGeometry.ts';
import { faceBorders } from './faceBorders.ts';
import { flatAtlas } from './flatAtlas.ts';
import { flatten } from './flatten.ts';
import { cornerReportsOf, cornersOfRim, partCorners } from './partCorners.ts';
import { scribedLines, solvedHoles } from './partLines.ts';
import { type NeutralVertices, PART_DENSITY, type PartDensity, partMesh } from './partMesh.ts';
import { partNotes, sizesOnly, stretchWarnings } from './partReport.ts';
import { solvedPart } from './partSolve.ts';
import { boundaryLoops, flipToDelaunay, splitLongEdges } from './skinMesh.ts';
import { findSkin, type Skin } from './skins.ts';
import { alignFlat, trayFrame } from './trayFrame.ts';

/** Corners of a part are alike when their classical radii differ by less, mm. */
const ALIKE = 0.05;

/** What the part's geometry does not say. */
export interface PartGiven {
  readonly name: string;
  readonly material: SheetSpec['material'];
  /** degrees */
  readonly grain: number;
  /** mm, for a part that is a surface; null to take it from the solid */
  readonly thickness: number | null;
  /** mm */
  readonly trim: number;
  readonly cut: TraySpec['cut'];
}

/** A pattern that was solved from a part as it is; its `spec` tells sizes only and cannot be built again. */
export interface PartPattern extends FlatPattern {
  readonly asItIs: true;
}

/**
 * @param density how fine the mesh is
 * @param clock   tells the time in ms; only for the report
 * @throws GatherpanError NOT_MAKEABLE when the part is no one sheet or its flat overlaps itself, NOT_SOLVED when no
 *   equilibrium is found
 */
export function developPart(
  live: LivePart,
  given: PartGiven,
  density: PartDensity = PART_DENSITY,
  clock: () => number = () => performance.now(),
): PartPattern {
  const started = clock();
  const skin = findSkin(live, given.thickness);
  const frame = trayFrame(live, skin);
  evenOut(live, skin);
  const loops = boundaryLoops(skin.mesh);
  const neutral = neutralVertices(live, skin);
  const flat = flatten(neutral.position, skin.mesh.triangles, loops, neutral.normals, skin.thickness);
  // The mesh is made on this shape, and the solved one is not far from it.
  refuseOverlap(polygonOf(flat, loops[0]!));
  const plan = new Float64Array(flat.length);
  for (let vertex = 0; vertex < flat.length / 2; vertex++) {
    const from = [0, 1, 2].map((i) => skin.mesh.position[3 * vertex + i]! - frame.origin[i]!);
    for (let axis = 0; axis < 2; axis++) {
      plan[2 * vertex + axis] = [0, 1, 2].reduce((sum, i) => sum + frame.axes[axis]![i]! * from[i]!, 0);
    }
  }
  alignFlat(flat, plan, baseVertices(skin, frame.base));
  const atlas = flatAtlas(live, skin, flat, frame);
  const jumps = faceBorders(live, skin);
  const { mesh, start, holes: rings, borders } = partMesh(skin, flat, atlas, frame, neutral, jumps, density);

  const spec = sizesOnly(given, skin.thickness, mesh);
  const sheet = resolveSheet(spec.sheet);
  const law = plasticLaw(workedMaterial(sheet.material, spec.forming.hand), sheet.grain);
  const geometry = exactGeometry(mesh, start, atlas);
  const structure = solverStructure(mesh);
  const system = equilibrium(mesh, structure, geometry);
  const [plane, nodes] = [formedPlan(mesh), baseNodes(mesh)];
  const align = (own: Float64Array): number => alignFlat(own, plane, nodes);
  const result = solvedPart(law, start, align, (own, from, tolerance) =>
    newton(system, own, from, { tolerance, maximumSteps: 60, growth: null }),
  );
  const solvedFlat = result.flat;

  const solution = {
    mesh,
    geometry,
    law,
    flat: solvedFlat,
    unknowns: structure.unknownCount,
    steps: result.steps,
    residual: result.residual,
    estimate: Number.NaN,
  };
  const strains = nodalStrains(mesh, geometry, law, solvedFlat);
  const formed = new Float64Array(3 * mesh.nodeCount);
  for (let node = 0; node < mesh.nodeCount; node++) {
    formed.set(mesh.placed.subarray(PLACED_SIZE * node, PLACED_SIZE * node + 3), 3 * node);
  }
  const whole = {
    flat: solvedFlat,
    formed,
    triangles: mesh.triangles,
    majorStrain: strains.major,
    minorStrain: strains.minor,
    thicknessStrain: strains.thickness,
    equivalentStrain: strains.equivalent,
    rimNodes: mesh.rim,
  };
  const turns = partCorners(live, frame, whole, rimEdges(live, skin, loops));
  const field: FlatField = { ...whole, rimCorner: cornersOfRim(turns, mesh.rim) };
  const rim = fitSolvedLine(solution, { nodes: mesh.rim, closed: true });
  refuseOverlap(rim);
  const kerf = given.cut.compensate ? given.cut.kerf / 2 : 0;
  const outline = given.trim + kerf === 0 ? rim : offsetPath(rim, given.trim + kerf);
  const scribeLines = scribedLines(solution, borders, jumps, bendKinds(skin, flat, frame.base, jumps));
  const { holes, warnings } = solvedHoles(solution, field, rings, scribeLines, sheet, kerf);
  const corners = cornerReportsOf(live, turns, field, skin, frame);
  // The base hardly changes: its edge in the blank is where it is in the tray.
  const freeWidth = wallWidth(field, baseFoot(skin.mesh, plan, frame.base));
  return {
    asItIs: true,
    name: given.name,
    spec,
    sheet,
    rim,
    outline,
    holes,
    scribeLines,
    notes: partNotes(given, live.part.kind === 'surface'),
    report: {
      name: given.name,
      sheet: { material: sheet.material.name, thickness: sheet.thickness, grain: given.grain },
      rim: rim.vertices,
      outline: outline.vertices,
      blank: blankFigures(outline, holes, sheet),
      developed: { alongLength: null, alongWidth: null },
      bounds: sharedBounds(corners, ALIKE),
      corners,
      thickness: thicknessRange(field, sheet),
      solver: {
        triangles: mesh.triangles.length / 6,
        unknowns: structure.unknownCount,
        steps: result.steps,
        residual: result.residual,
        milliseconds: clock() - started,
      },
      warnings: [...stretchWarnings(field, sheet), ...warnings],
    },
    gather: gatherOf(spec, sheet, field, rim, freeWidth, null),
    field,
  };
}

function refuseOverlap(rim: Path): void {
  if (selfIntersections(rim).length === 0) return;
  throw new GatherpanError(
    'NOT_MAKEABLE',
    'The flat pattern of this part overlaps itself: it cannot be cut from one sheet.',
  );
}

const polygonOf = (flat: Float64Array, loop: readonly number[]): Path => ({
  closed: true,
  vertices: loop.map((vertex) => ({ x: flat[2 * vertex]!, y: flat[2 * vertex + 1]!, bulge: 0 })),
});

/** Flat width of the wall from the base's edge to the rim: the middle one of those at the rim's nodes, mm. */
function wallWidth(
  { flat, rimNodes }: FlatField,
  foot: (x: number, y: number) => readonly [number, number],
): number {
  const widths = Float64Array.from(rimNodes, (node) => {
    const [x, y] = [flat[2 * node]!, flat[2 * node + 1]!];
    const [fx, fy] = foot(x, y);
    return Math.hypot(x - fx, y - fy);
  }).sort();
  return widths[widths.length >> 1]!;
}

/** Long thin triangles of the kernel's net are divided, so that the first flat shape can be found on them. */
function evenOut(live: LivePart, skin: Skin): void {
  const value = new Float64Array(6);
  const longest = Math.sqrt(live.part.area / 2) / 8;
  splitLongEdges(skin.mesh, longest, (face, u, v) => {
    live.evaluate(face, u, v, value);
    return [value[0]!, value[1]!, value[2]!];
  });
  flipToDelaunay(skin.mesh);
}

/** The net's vertices moved to the neutral surface, and the normals there. */
function neutralVertices(live: LivePart, skin: Skin): NeutralVertices {
  const { triangles, face, parameters } = skin.mesh;
  const position = [...skin.mesh.position];
  const normals = new Float64Array(position.length);
  const seen = new Uint8Array(position.length / 3);
  const value = new Float64Array(6);
  const sign = skin.turned ? -1 : 1;
  for (const [corner, vertex] of triangles.entries()) {
    if (seen[vertex] !== 0) continue;
    seen[vertex] = 1;
    live.evaluate(face[Math.floor(corner / 3)]!, parameters[2 * corner]!, parameters[2 * corner + 1]!, value);
    for (let i = 0; i < 3; i++) {
      normals[3 * vertex + i] = sign * value[3 + i]!;
      position[3 * vertex + i] = position[3 * vertex + i]! - skin.depth * sign * value[3 + i]!;
    }
  }
  return { position, normals };
}

/** Kernel edges with the skin on one side only, by face. */
function boundaryEdges(live: LivePart, skin: Skin): Map<number, number[]> {
  const uses = new Map<number, number>();
  const faces = new Set(skin.mesh.face);
  for (const face of faces) {
    for (const edge of live.part.faces[face]!.wires.flat()) uses.set(edge, (uses.get(edge) ?? 0) + 1);
  }
  const alone = (face: number): number[] =>
    live.part.faces[face]!.wires.flat().filter((edge) => uses.get(edge) === 1);
  return new Map([...faces].map((face) => [face, alone(face)]));
}

/** Kernel edges of the rim: those whose middle lies nearest to the net's longest boundary. */
function rimEdges(live: LivePart, skin: Skin, loops: readonly (readonly number[])[]): number[] {
  const { position } = skin.mesh;
  const middle = (EDGE_SAMPLES - 1) / 2;
  return [...boundaryEdges(live, skin).values()].flat().filter((edge) => {
    const { samples } = live.part.edges[edge]!;
    const away = loops.map((loop) =>
      Math.min(
        ...loop.map((vertex) =>
          Math.hypot(...[0, 1, 2].map((i) => position[3 * vertex + i]! - samples[3 * middle + i]!)),
        ),
      ),
    );
    return away[0] === Math.min(...away);
  });
}

function baseVertices(skin: Skin, base: number): Map<number, number> {
  const own = new Map<number, number>();
  for (const [t, face] of skin.mesh.face.entries()) {
    if (base >= 0 && face !== base) continue;
    for (let k = 0; k < 3; k++) own.set(skin.mesh.triangles[3 * t + k]!, 1);
  }
  return own;
}

/** Nodes of the base, or of the whole when there is none, each with its share of the area seen from above. */
function baseNodes(mesh: QuadraticMesh): Map<number, number> {
  const own = new Map<number, number>();
  const any = mesh.base.includes(1);
  const at = (node: number, axis: number): number => mesh.placed[PLACED_SIZE * node + axis]!;
  for (let t = 0; t < mesh.base.length; t++) {
    if (any && mesh.base[t] === 0) continue;
    const [i, j, k] = [mesh.triangles[6 * t]!, mesh.triangles[6 * t + 1]!, mesh.triangles[6 * t + 2]!];
    const area = Math.abs(
      (at(j, 0) - at(i, 0)) * (at(k, 1) - at(i, 1)) - (at(j, 1) - at(i, 1)) * (at(k, 0) - at(i, 0)),
    );
    // The middles of a six-node triangle carry its area (its rule of three points at the middles).
    for (let e = 3; e < 6; e++) {
      const node = mesh.triangles[6 * t + e]!;
      own.set(node, (own.get(node) ?? 0) + area);
    }
  }
  return own;
}

function formedPlan(mesh: QuadraticMesh): Float64Array {
  const out = new Float64Array(2 * mesh.nodeCount);
  for (let node = 0; node < mesh.nodeCount; node++) {
    out[2 * node] = mesh.placed[PLACED_SIZE * node]!;
    out[2 * node + 1] = mesh.placed[PLACED_SIZE * node + 1]!;
  }
  return out;
}
