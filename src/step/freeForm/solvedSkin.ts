/** A skin of a part from its net to the solved flat: first shape, triangles, equilibrium. */

import { GatherpanError, isNotMakeable } from '../../errors.ts';
import type { FlatField } from '../../geometry/flatField.ts';
import { selfIntersections } from '../../geometry/intersect.ts';
import type { Path } from '../../geometry/path.ts';
import { dot, minus, vectorAt } from '../../geometry/vector3.ts';
import { largest } from '../../largest.ts';
import type { PlasticLaw } from '../../material/law.ts';
import { fitSolvedLine } from '../../pattern/fittedLines.ts';
import { FlatFinder } from '../../pattern/flatFinder.ts';
import { nodalStrains } from '../../solve/strains.ts';
import { wholeField } from '../../solve/wholeField.ts';
import { statement } from '../../words/statement.ts';
import type { LivePart } from '../occt/livePart.ts';
import { boundaryBreaks } from './boundaryEdges.ts';
import { type FaceBorder, faceBorders } from './faceBorders.ts';
import { type FilledHole, fillHoles, inFrame } from './filledHoles.ts';
import { flatAtlas } from './flatAtlas.ts';
import { flatten } from './flatten.ts';
import { type PartDensity, sizeField, sizesByError, sizesByShape, type WantedAt } from './meshSizes.ts';
import { isUnsettled, NoShape } from './noShape.ts';
import { type PartMesh, partMesh } from './partMesh.ts';
import { finalStage, type PartStage, roughStage } from './partSolve.ts';
import type { PartSkin, Skin, TrayFrame } from './skin.ts';
import { skinCurves } from './skinCurves.ts';
import { boundaryLoops, flipToDelaunay, splitLongEdges } from './skinMesh.ts';
import { alignFlat } from './trayFrame.ts';

/** Its skin is the one that was solved on, holes filled. */
export interface SolvedSkin extends PartStage, PartSkin {
  /** x y per vertex of it: the first flat shape, and the part seen from above. */
  readonly flat: Float64Array;
  readonly plan: Float64Array;
  readonly jumps: readonly FaceBorder[];
  /** The holes that are filled; those that are not are in the mesh. */
  readonly filledHoles: readonly FilledHole[];
  readonly field: Omit<FlatField, 'rimCorner'>;
  /** The edge of the blank without trim. */
  readonly rim: Path;
}

/** Shares of the even elongation above which triangles are made no smaller, one after the other. */
const EVEN_SHARES = [1, 0.5, 0.3] as const;

/** So many times the stretch of a rough mesh is a neck of the fine one. */
const NECK = 1.5;

/** Longest edge of the net: the part's size over this. On a finer one the first flat shape takes ten times as long. */
const LONGEST_EDGE = 5;
/**
 * Strain at the edge of a hole above which the sheet is not solved whole there: where a hole opens or closes as the
 * part is formed, its free edge is what lets it.
 */
const WHOLE_WITHIN_STRAIN = 0.02;

/**
 * Holes that strain are solved with their edges free. Where that finds no equilibrium, as for a small hole in the
 * gathered wall of a corner, the sheet is solved whole and the hole carried to the blank; a warning says that it will
 * not come out true.
 *
 * @param whole the skin as it was found; not changed
 * @throws NoShape when the flat overlaps itself or no equilibrium is found
 */
export function solvedSkin(whole: PartSkin, law: PlasticLaw, density: PartDensity): SolvedSkin {
  const none: ReadonlySet<number> = new Set();
  let open = none;
  for (;;) {
    try {
      const solved = solvedWith(whole, law, density, open, true);
      if (!('strained' in solved)) return solved;
      open = new Set([...open, ...solved.strained.map(({ loop }) => loop)]);
    } catch (error) {
      if (open.size === 0 || !isUnsettled(error)) throw error;
      return solvedWith(whole, law, density, none, false) as SolvedSkin;
    }
  }
}

/**
 * @param open   loops of the holes that are not filled
 * @param opened whether holes that strain are told instead of being solved filled
 */
function solvedWith(
  whole: PartSkin,
  law: PlasticLaw,
  density: PartDensity,
  open: ReadonlySet<number>,
  opened: boolean,
): SolvedSkin | { readonly strained: readonly FilledHole[] } {
  const { live, frame } = whole;
  const { mesh } = whole.skin;
  const net: Skin = {
    ...whole.skin,
    mesh: {
      position: [...mesh.position],
      triangles: [...mesh.triangles],
      face: [...mesh.face],
      parameters: [...mesh.parameters],
    },
  };
  const { holes: filledHoles, bridges, unfilled } = fillHoles(live, net, open);
  const own: PartSkin = { live, skin: { ...net, bridges }, frame };
  try {
    const { mesher, ...shape } = firstShape(own, density);
    const rough = roughStage(law, mesher.atlas, mesher.mesh(density.strained, []));
    const strained = opened ? strainedHoles(filledHoles, rough, frame) : [];
    if (strained.length > 0) return { strained };
    const refined = (even: number): PartStage => {
      const wanted = sizesByError(rough.solution, rough.part.start, density.error, even);
      return finalStage(law, mesher.atlas, rough, mesher.mesh(density.bent, wanted));
    };
    return { ...own, ...shape, ...withRim(refined, rough, law), filledHoles };
  } catch (error) {
    const [hole] = unfilled;
    if (hole === undefined || !isUnsettled(error)) throw error;
    const [x, y, z] = hole.map((value) => value.toFixed(0)) as [string, string, string];
    throw new NoShape('no equilibrium', statement('parts.noFlat.holeNotSettled', x, y, z));
  }
}

/**
 * The solution with its rim. Where the metal is stretched until it necks, small triangles may have no solution, one
 * whose rim is notched, or one in which all of the stretch has run into a row of them: then those that are stretched less
 * are left as large as they were as well.
 *
 * @param refined solves, with triangles made no smaller above a share of the even elongation
 */
function withRim(
  refined: (even: number) => PartStage,
  rough: PartStage,
  law: PlasticLaw,
): Pick<SolvedSkin, 'part' | 'solution' | 'field' | 'rim'> {
  const stretched = Math.max(law.n, NECK * largest(fieldOf(rough).majorStrain));
  let failure: unknown;
  let necked: ReturnType<typeof withRim> | null = null;
  for (const even of EVEN_SHARES) {
    try {
      const stage = refined(even);
      const rim = fitSolvedLine(stage.solution, { nodes: stage.part.mesh.rim, closed: true });
      const found = { ...stage, rim, field: fieldOf(stage) };
      if (largest(found.field.majorStrain) <= stretched) return found;
      necked = found;
    } catch (error) {
      if (!(error instanceof GatherpanError)) throw error;
      failure = error;
    }
  }
  if (necked !== null) return necked;
  // A rim that no arcs follow, however short, is folded at one place.
  throw isNotMakeable(failure)
    ? new NoShape('no equilibrium', statement('verdict.noFlat.no equilibrium'))
    : failure;
}

interface FirstShape extends Pick<SolvedSkin, 'flat' | 'plan' | 'jumps'> {
  readonly mesher: {
    readonly atlas: ReturnType<typeof flatAtlas>;
    /**
     * Six-node triangles of the sizes that the shape asks for, and no larger than wanted at some points.
     *
     * @param strained angle a triangle may span where the part is curved both ways, radians
     */
    mesh(strained: number, points: readonly WantedAt[]): PartMesh;
  };
}

function firstShape(own: PartSkin, density: PartDensity): FirstShape {
  const { live, skin, frame } = own;
  evenOut(live, skin);
  const loops = boundaryLoops(skin.mesh);
  const neutral = neutralVertices(own);
  const flat = flatten(neutral.position, skin.mesh.triangles, loops, neutral.normals, skin.thickness);
  // The mesh is made on this shape, and the solved one is not far from it.
  refuseOverlap(polygonOf(flat, loops[0]!));
  const plan = new Float64Array(flat.length);
  for (let vertex = 0; vertex < flat.length / 2; vertex++) {
    const from = minus(vectorAt(skin.mesh.position, 3 * vertex), frame.origin);
    for (let axis = 0; axis < 2; axis++) plan[2 * vertex + axis] = dot(frame.axes[axis]!, from);
  }
  alignFlat(flat, plan, baseVertices(skin, frame.base));
  const atlas = flatAtlas(own, flat);
  const jumps = faceBorders(live, skin);
  const curves = skinCurves(skin, flat, jumps, boundaryBreaks(live, skin, loops));
  return {
    flat,
    plan,
    jumps,
    mesher: {
      atlas,
      mesh: (strained, points) => {
        const sizes = sizesByShape(live, skin, flat, { strained, bent: density.bent });
        const wanted = sizeField(flat, atlas, sizes, points, density.growth);
        return partMesh(own, atlas, curves, wanted);
      },
    },
  };
}

const fieldOf = ({ solution }: PartStage): SolvedSkin['field'] => {
  const { mesh, geometry, law, flat } = solution;
  return wholeField(solution, nodalStrains(mesh, geometry, law, flat));
};

/** The holes at whose edge the whole sheet strains by more than is let pass. */
function strainedHoles(holes: readonly FilledHole[], rough: PartStage, frame: TrayFrame): FilledHole[] {
  if (holes.length === 0) return [];
  const finder = new FlatFinder(fieldOf(rough));
  const strainAt = (hole: FilledHole): number =>
    Math.max(...inFrame(hole, frame).map((point) => finder.find(point).strain));
  return holes.filter((hole) => strainAt(hole) > WHOLE_WITHIN_STRAIN);
}

/** @throws NoShape */
export function refuseOverlap(rim: Path): void {
  if (selfIntersections(rim).length === 0) return;
  throw new NoShape('overlaps', statement('verdict.noFlat.overlaps'));
}

const polygonOf = (flat: Float64Array, loop: readonly number[]): Path => ({
  closed: true,
  vertices: loop.map((vertex) => ({ x: flat[2 * vertex]!, y: flat[2 * vertex + 1]!, bulge: 0 })),
});

/** Long thin triangles of the kernel's net are divided, so that the first flat shape can be found on them. */
function evenOut(live: LivePart, skin: Skin): void {
  const value = new Float64Array(6);
  const longest = Math.sqrt(live.part.area / 2) / LONGEST_EDGE;
  splitLongEdges(skin.mesh, longest, (face, u, v) => {
    live.evaluate(face, u, v, value);
    return [value[0]!, value[1]!, value[2]!];
  });
  flipToDelaunay(skin.mesh);
}

/** The net's vertices moved to the neutral surface, and the normals there. */
export function neutralVertices({ live, skin }: PartSkin): {
  position: readonly number[];
  normals: Float64Array;
} {
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

function baseVertices(skin: Skin, base: number): Map<number, number> {
  const own = new Map<number, number>();
  for (const [t, face] of skin.mesh.face.entries()) {
    if (base >= 0 && face !== base) continue;
    for (let k = 0; k < 3; k++) own.set(skin.mesh.triangles[3 * t + k]!, 1);
  }
  return own;
}
