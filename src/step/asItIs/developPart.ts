/** From a part of any shape to its flat pattern: unfolded as it is, by the same equilibrium as every tray. */
import { GatherpanError } from '../../errors.ts';
import { gatherOf } from '../../gather/gather.ts';
import { workedMaterial } from '../../gather/hand.ts';
import { type PlasticLaw, plasticLaw } from '../../material/law.ts';
import type { Sheet } from '../../material/sheet.ts';
import { resolveSheet } from '../../material/sheets.ts';
import type { QuadraticMesh } from '../../mesh/quadraticMesh.ts';
import { selfIntersections } from '../../outline/intersect.ts';
import { pathArea, pathBounds, pathLength } from '../../outline/measure.ts';
import { offsetPath } from '../../outline/offset.ts';
import type { Path } from '../../outline/path.ts';
import type { FlatPattern, Hole } from '../../pattern/flatPattern.ts';
import { fitSolvedLine } from '../../pattern/lines.ts';
import { equilibrium } from '../../solve/equilibrium.ts';
import type { FlatField } from '../../solve/flatField.ts';
import { type NewtonResult, newton } from '../../solve/newton.ts';
import { RESIDUAL_TOLERANCE } from '../../solve/solveTray.ts';
import { nodalStrains } from '../../solve/strains.ts';
import { solverStructure } from '../../solve/structure.ts';
import { PLACED_SIZE } from '../../tray/neutralSurface.ts';
import type { TraySpec } from '../../tray/spec.ts';
import { percentFromLogStrain } from '../../units.ts';
import type { LivePart } from '../kernel/readShape.ts';
import { exactGeometry } from './exactGeometry.ts';
import { flatAtlas } from './flatAtlas.ts';
import { flatten } from './flatten.ts';
import { type NeutralVertices, PART_DENSITY, type PartDensity, partMesh } from './partMesh.ts';
import { boundaryLoops, flipToDelaunay, splitLongEdges } from './skinMesh.ts';
import { findSkin, type Skin } from './skins.ts';
import { alignFlat, trayFrame } from './trayFrame.ts';

/** What the part's geometry does not say. */
export interface PartGiven {
  readonly name: string;
  readonly material: string;
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
 * @throws GatherpanError NOT_MAKEABLE when the part is no one sheet or its flat overlaps itself, NOT_SOLVED when no
 *   equilibrium is found
 */
export function developPart(
  live: LivePart,
  given: PartGiven,
  density: PartDensity = PART_DENSITY,
): PartPattern {
  const started = performance.now();
  const skin = findSkin(live, given.thickness);
  const frame = trayFrame(live, skin);
  evenOut(live, skin);
  const loops = boundaryLoops(skin.mesh);
  const neutral = neutralVertices(live, skin);
  const flat = flatten(neutral.position, skin.mesh.triangles, loops, neutral.normals);
  const plan = new Float64Array(flat.length);
  for (let vertex = 0; vertex < flat.length / 2; vertex++) {
    const from = [0, 1, 2].map((i) => skin.mesh.position[3 * vertex + i]! - frame.origin[i]!);
    for (let axis = 0; axis < 2; axis++) {
      plan[2 * vertex + axis] = [0, 1, 2].reduce((sum, i) => sum + frame.axes[axis]![i]! * from[i]!, 0);
    }
  }
  alignFlat(flat, plan, baseVertices(skin, frame.base));
  const atlas = flatAtlas(live, skin, flat, frame, boundaryEdges(live, skin));
  const { mesh, start, holes } = partMesh(skin, flat, atlas, frame, neutral, density);

  const spec = sizesOnly(given, skin, mesh);
  const sheet = resolveSheet(spec.sheet);
  const law = plasticLaw(workedMaterial(sheet.material, spec.forming.hand), sheet.grain);
  const geometry = exactGeometry(mesh, start, atlas);
  const structure = solverStructure(mesh);
  const system = equilibrium(mesh, structure, geometry);
  const result = solved(law, start, (own, from) =>
    newton(system, own, from, { tolerance: RESIDUAL_TOLERANCE, maximumSteps: 60, growth: null }),
  );
  const solvedFlat = result.flat;
  alignFlat(solvedFlat, formedPlan(mesh), baseNodes(mesh));

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
  const field: FlatField = {
    flat: solvedFlat,
    formed,
    triangles: mesh.triangles,
    majorStrain: strains.major,
    minorStrain: strains.minor,
    thicknessStrain: strains.thickness,
    equivalentStrain: strains.equivalent,
    rimNodes: mesh.rim,
    rimCorner: new Int32Array(mesh.rim.length).fill(-1),
  };
  const rim = fitSolvedLine(solution, { nodes: mesh.rim, closed: true });
  if (selfIntersections(rim).length > 0) {
    throw new GatherpanError(
      'NOT_MAKEABLE',
      'The flat pattern of this part overlaps itself: it cannot be cut from one sheet.',
    );
  }
  const kerf = given.cut.compensate ? given.cut.kerf / 2 : 0;
  const outline = given.trim + kerf === 0 ? rim : offsetPath(rim, given.trim + kerf);
  const holePaths: Hole[] = holes.map((nodes, i) => ({
    name: `hole ${i + 1}`,
    path: fitSolvedLine(solution, { nodes, closed: true }),
  }));
  const warnings = warningsOf(field, sheet);
  return {
    asItIs: true,
    name: given.name,
    spec,
    sheet,
    rim,
    outline,
    holes: holePaths,
    scribeLines: [],
    notes: [
      'Solved from the STEP part as it is: the tray in this report tells its sizes only.',
      ...(skin.depth === 0 ? ['The surface was taken for the middle of the sheet.'] : []),
    ],
    report: {
      name: given.name,
      sheet: { material: sheet.material.name, thickness: sheet.thickness, grain: given.grain },
      rim: rim.vertices,
      outline: outline.vertices,
      blank: blankOf(outline, holePaths, sheet),
      developed: { alongLength: null, alongWidth: null },
      bounds: { arcLengthCornerRadius: null, equalAreaCornerRadius: null },
      corners: [],
      thickness: {
        min: sheet.thickness * Math.exp(least(field.thicknessStrain)),
        max: sheet.thickness * Math.exp(-least(field.thicknessStrain.map((value) => -value))),
      },
      solver: {
        triangles: mesh.triangles.length / 6,
        unknowns: structure.unknownCount,
        steps: result.steps,
        residual: result.residual,
        milliseconds: performance.now() - started,
      },
      warnings,
    },
    gather: gatherOf(spec, sheet, field, rim, spec.section.height, null),
    field,
  };
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

function baseVertices(skin: Skin, base: number): number[] {
  const own = new Set<number>();
  for (const [t, face] of skin.mesh.face.entries()) {
    if (base >= 0 && face !== base) continue;
    for (let k = 0; k < 3; k++) own.add(skin.mesh.triangles[3 * t + k]!);
  }
  return [...own];
}

function baseNodes(mesh: QuadraticMesh): number[] {
  const own = new Set<number>();
  const any = mesh.base.includes(1);
  for (let t = 0; t < mesh.base.length; t++) {
    if (any && mesh.base[t] === 0) continue;
    for (let k = 0; k < 6; k++) own.add(mesh.triangles[6 * t + k]!);
  }
  return [...own];
}

function formedPlan(mesh: QuadraticMesh): Float64Array {
  const out = new Float64Array(2 * mesh.nodeCount);
  for (let node = 0; node < mesh.nodeCount; node++) {
    out[2 * node] = mesh.placed[PLACED_SIZE * node]!;
    out[2 * node + 1] = mesh.placed[PLACED_SIZE * node + 1]!;
  }
  return out;
}

/** Newton's method, and where it fails, from a law that hardens more by degrees to the one wanted. */
function solved(
  law: PlasticLaw,
  start: Float64Array,
  solve: (law: PlasticLaw, from: Float64Array) => NewtonResult,
): NewtonResult {
  const direct = solve(law, start);
  if (direct.converged) return direct;
  let last = solve({ ...law, n: 1 }, start);
  let n = 1;
  for (let factor = 0.6; last.converged && n > law.n && factor < 0.93; ) {
    const next = Math.max(law.n, n * factor);
    const result = solve({ ...law, n: next }, last.flat);
    if (result.converged) {
      n = next;
      last = result;
    } else factor = Math.sqrt(factor);
  }
  if (!last.converged || n > law.n) {
    throw new GatherpanError(
      'NOT_SOLVED',
      'No steady flat shape was found for this part; a lower wall, larger radii or a sheet that hardens more would help.',
    );
  }
  return last;
}

const least = (values: Float64Array): number => values.reduce((low, value) => Math.min(low, value), Infinity);

function blankOf(outline: Path, holes: readonly Hole[], sheet: Sheet): FlatPattern['report']['blank'] {
  const bounds = pathBounds(outline);
  const area = pathArea(outline) - holes.reduce((sum, { path }) => sum + Math.abs(pathArea(path)), 0);
  return {
    length: bounds.maxX - bounds.minX,
    width: bounds.maxY - bounds.minY,
    area,
    mass: area * sheet.thickness * sheet.material.density * 1e-6,
    cutLength: pathLength(outline) + holes.reduce((sum, { path }) => sum + pathLength(path), 0),
    segments: outline.vertices.length,
  };
}

/** A tray of the part's outer sizes, for the report's headings. */
function sizesOnly(given: PartGiven, skin: Skin, mesh: QuadraticMesh): TraySpec {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let node = 0; node < mesh.nodeCount; node++) {
    for (let i = 0; i < 3; i++) {
      low[i] = Math.min(low[i]!, mesh.placed[PLACED_SIZE * node + i]!);
      high[i] = Math.max(high[i]!, mesh.placed[PLACED_SIZE * node + i]!);
    }
  }
  const tidy = (value: number): number => Math.round(value * 1e4) / 1e4;
  return {
    name: given.name,
    measured: 'outside',
    plan: {
      length: tidy(high[0]! - low[0]! + skin.thickness),
      width: tidy(high[1]! - low[1]! + skin.thickness),
      cornerRadius: 0,
    },
    section: {
      bottomRadius: 0,
      height: tidy(high[2]! - low[2]! + skin.thickness / 2),
      draft: 0,
      rim: { kind: 'plain' },
    },
    sheet: { material: given.material, thickness: tidy(skin.thickness), grain: given.grain },
    forming: { trim: given.trim },
    cut: given.cut,
  };
}

function warningsOf(field: FlatField, sheet: Sheet): string[] {
  const stretch = -least(field.majorStrain.map((value) => -value));
  if (stretch <= sheet.material.n) return [];
  return [
    `The metal stretches by ${percentFromLogStrain(stretch).toFixed(0)} %, more than ${sheet.material.name} stretches ` +
      `evenly (${percentFromLogStrain(sheet.material.n).toFixed(0)} %): keep the shrinking ahead of the stretching, or ` +
      'choose a lower wall or larger radii.',
  ];
}
