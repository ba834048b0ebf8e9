/**
 * The forward judge: a blank worked into its tray in many small steps, to ask what one step leaves out.
 *
 * The sheet is a rigid-plastic membrane that slides without friction on the surface of each stage (`stage.ts`). A step
 * is the positions of least work, given the strain that stands behind every point: work is added up step by step and
 * not read off the strain from the flat, so that a way there and back costs both ways. Nine-node quadrilaterals of the
 * blank with their nodes on the surface; strains of a step are logarithmic, in the frame that the sheet's turning
 * carries along (F = R·U, in which the rolling direction stays where it was). Found by Newton's method with a search
 * along each step. A quarter of the blank; the middle of its base is held.
 *
 * It shares nothing with the program's solver: that one looks for the flat of a known surface in one step, by
 * equilibrium in the tangent planes of six-node triangles.
 */
import type { LawParameters } from '../../src/material/law.ts';
import { BandMatrix } from './bandMatrix.ts';
import { type BlankMesh, nodeOf } from './blankMesh.ts';
import { increment, newIncrement, type StepLaw, stepLaw } from './increment.ts';
import { type Contact, type Stage, Surface } from './stage.ts';

/** Abscissas and weights of Gauss's rule with three points (any textbook). */
const GAUSS = [
  [-Math.sqrt(3 / 5), 5 / 9],
  [0, 8 / 9],
  [Math.sqrt(3 / 5), 5 / 9],
] as const;
const POINTS = 9;
const NODES = 9;
/** Newton steps of one stage. */
const MOST_STEPS = 60;
/** A stage is found when a Newton step would save no more than this of the work done so far in it. */
const TOLERANCE = 1e-10;

/** Added to the diagonal, over K, where the work is not convex; four times as much each time. */
const LEAST_SHIFT = 1e-3;

/** Lagrange's three polynomials on −1, 0, 1 and their slopes. */
const lagrange = (s: number): readonly [readonly number[], readonly number[]] => [
  [(s * (s - 1)) / 2, 1 - s * s, (s * (s + 1)) / 2],
  [s - 0.5, -2 * s, s + 0.5],
];

export interface JudgeOptions {
  /** The smoothing at rest over the whole way; each step has its share of it. */
  readonly smoothing: number;
  /** Steps of the way. */
  readonly steps: number;
}

/** The sheet does not find its place on a stage. */
export class NoPlace extends Error {}

export class Judge {
  readonly mesh: BlankMesh;
  readonly law: StepLaw;
  /** Position of every node, mm. */
  readonly position: Float64Array;
  readonly contacts: Contact[];
  /** Newton steps so far. */
  newtonSteps = 0;
  readonly #elements: Int32Array;
  /** Per point: area in the flat; slopes of the nine shapes in the frame of the sheet as it lies, twice nine. */
  readonly #area: Float64Array;
  readonly #flatSlopes: Float64Array;
  readonly #slopes: Float64Array;
  readonly #strain: Float64Array;
  /** Stretch from the flat, its root: three numbers (11, 22, 12) per point. */
  readonly #metric: Float64Array;
  /** Work that nothing hangs on: the whole sheet strained by a thousandth of the smoothing. */
  readonly #littleWork: number;
  /** 0 free, 1 held in its first direction, 2 held. */
  readonly #held: Uint8Array;
  /** Where each node lies when its surface is laid out flat, now and a step before. */
  #laidOut: Float64Array;
  #laidOutBefore: Float64Array;
  /** Two tangents per node. */
  readonly #tangents: Float64Array;
  readonly #bending: Float64Array;
  readonly #force: Float64Array;

  constructor(mesh: BlankMesh, sheet: LawParameters, { smoothing, steps }: JudgeOptions) {
    this.mesh = mesh;
    this.law = stepLaw(sheet, smoothing / steps);
    const { around, out, flat } = mesh;
    const count = flat.length / 2;
    const cells = around * out;
    this.#elements = new Int32Array(NODES * cells);
    for (let i = 0, e = 0; i < around; i++)
      for (let j = 0; j < out; j++)
        for (let a = 0; a < 3; a++)
          for (let b = 0; b < 3; b++) this.#elements[e++] = nodeOf(mesh, 2 * i + a, 2 * j + b);
    this.position = new Float64Array(3 * count);
    for (let node = 0; node < count; node++)
      this.position.set(flat.subarray(2 * node, 2 * node + 2), 3 * node);
    this.#laidOut = Float64Array.from(flat);
    this.#laidOutBefore = Float64Array.from(flat);
    this.contacts = [];
    this.#tangents = new Float64Array(6 * count);
    this.#bending = new Float64Array(3 * count);
    this.#force = new Float64Array(3 * count);
    this.#held = new Uint8Array(count);
    for (let node = 0; node < count; node++) {
      const onAxis = flat[2 * node] === 0 || flat[2 * node + 1] === 0;
      this.#held[node] = node % (2 * out + 1) === 0 ? 2 : onAxis ? 1 : 0;
    }
    const points = POINTS * cells;
    this.#area = new Float64Array(points);
    this.#flatSlopes = new Float64Array(2 * NODES * points);
    this.#strain = new Float64Array(points);
    this.#metric = new Float64Array(3 * points);
    this.#readShapes();
    this.#slopes = Float64Array.from(this.#flatSlopes);
    this.#littleWork =
      1e-3 * this.law.smoothing * this.law.K * this.#area.reduce((sum, area) => sum + area, 0);
    for (let p = 0; p < points; p++) this.#metric.set([1, 1, 0], 3 * p);
  }

  #readShapes(): void {
    const { flat } = this.mesh;
    let p = 0;
    for (let e = 0; e < this.#elements.length; e += NODES)
      for (const [s, ws] of GAUSS)
        for (const [t, wt] of GAUSS) {
          const [[ns, ds], [nt, dt]] = [lagrange(s), lagrange(t)];
          let [xs, xt, ys, yt] = [0, 0, 0, 0];
          const bySt: (readonly [number, number])[] = [];
          for (let a = 0; a < 3; a++)
            for (let b = 0; b < 3; b++) {
              const node = this.#elements[e + 3 * a + b]!;
              const [bys, byt] = [ds[a]! * nt[b]!, ns[a]! * dt[b]!];
              bySt.push([bys, byt]);
              xs += flat[2 * node]! * bys;
              xt += flat[2 * node]! * byt;
              ys += flat[2 * node + 1]! * bys;
              yt += flat[2 * node + 1]! * byt;
            }
          const det = xs * yt - xt * ys;
          this.#area[p] = ws * wt * Math.abs(det);
          bySt.forEach(([bys, byt], a) => {
            this.#flatSlopes[2 * (NODES * p + a)] = (bys * yt - byt * ys) / det;
            this.#flatSlopes[2 * (NODES * p + a) + 1] = (byt * xs - bys * xt) / det;
          });
          p++;
        }
  }

  /**
   * Works the sheet on to a stage.
   *
   * @param from where each node is looked for first, in the surface laid out flat; on from where it went last if left out
   * @throws NoPlace
   */
  work(stage: Stage, from: Float64Array | null = null): void {
    const surface = new Surface(stage);
    const count = this.#held.length;
    const { position } = this;
    const first = from ?? this.#laidOut.map((at, i) => 2 * at - this.#laidOutBefore[i]!);
    for (let node = 0; node < count; node++) {
      this.contacts[node] = surface.from(first[2 * node]!, first[2 * node + 1]!);
      position.set(this.contacts[node]!.point, 3 * node);
    }
    const size = 2 * count;
    const matrix = new BandMatrix(size, 4 * (2 * this.mesh.out + 1) + 5);
    const right = new Float64Array(size);
    const trial = new Float64Array(position.length);
    this.#frames();
    let work = this.#assemble(position, matrix, right);
    let shift = 0;
    let ease = 0;
    for (let step = 0; ; step++) {
      if (step === MOST_STEPS) throw new NoPlace(`not settled after ${MOST_STEPS} steps`);
      let factor = matrix.factor(shift);
      while (factor === null) {
        shift = Math.max(this.law.K * LEAST_SHIFT, 4 * shift);
        factor = matrix.factor(shift);
      }
      const move = Float64Array.from(right);
      factor.solve(move);
      this.newtonSteps++;
      let promised = 0;
      for (let i = 0; i < size; i++) promised += move[i]! * right[i]!;
      if (promised < TOLERANCE * (Math.abs(work) + this.#littleWork)) break;
      let share = 1;
      for (; ; share /= 2) {
        if (share < 1e-6) throw new NoPlace('no step saves work');
        for (let node = 0; node < count; node++) {
          for (let k = 0; k < 3; k++)
            trial[3 * node + k] =
              position[3 * node + k]! +
              share *
                (move[2 * node]! * this.#tangents[6 * node + k]! +
                  move[2 * node + 1]! * this.#tangents[6 * node + 3 + k]!);
          const at = surface.nearest(trial[3 * node]!, trial[3 * node + 1]!, trial[3 * node + 2]!);
          this.contacts[node] = at;
          trial.set(at.point, 3 * node);
        }
        const found = this.#assemble(trial, null, null);
        if (found < work - 1e-4 * share * promised) break;
      }
      if (share === 1) shift = shift > this.law.K * LEAST_SHIFT ? shift / 4 : 0;
      // Where metal passes from rest to flow the work bends sharply, and steps by its own bend are too long.
      ease = share < 1 ? (1 + ease) / 2 : ease > 0.1 ? ease / 4 : 0;
      position.set(trial);
      this.#frames();
      work = this.#assemble(position, matrix, right, ease);
    }
    this.#settle();
  }

  /**
   * Tangents and bending of the surface at every node; a node on an axis of symmetry has its first one across it. (On the
   * base, which does not bend, the first is along y unless x is across the axis.)
   */
  #frames(): void {
    for (let node = 0; node < this.contacts.length; node++) {
      const { along, up, curvatureAlong, curvatureUp } = this.contacts[node]!;
      const swapped = this.mesh.flat[2 * node] === 0 && along[0] === 0;
      this.#tangents.set(swapped ? up : along, 6 * node);
      this.#tangents.set(swapped ? along : up, 6 * node + 3);
      this.#bending.set([curvatureAlong, curvatureUp, 0], 3 * node);
    }
  }

  /** Work of the step at these positions; with a matrix also its second and (less) first derivatives. */
  #assemble(at: Float64Array, matrix: BandMatrix | null, right: Float64Array | null, ease = 0): number {
    matrix?.values.fill(0);
    this.#force.fill(0);
    const out = newIncrement();
    const [first, second] = [new Float64Array(3), new Float64Array(3)];
    const rows = new Float64Array(3 * 2 * NODES);
    const pressed = new Float64Array(3 * 2 * NODES);
    const cell = new Float64Array((2 * NODES) ** 2);
    const wide = 2 * NODES;
    let work = 0;
    for (let e = 0, p = 0; e < this.#elements.length; e += NODES) {
      cell.fill(0);
      for (let k = 0; k < POINTS; k++, p++) {
        const slopes = 2 * NODES * p;
        first.fill(0);
        second.fill(0);
        for (let a = 0; a < NODES; a++) {
          const node = 3 * this.#elements[e + a]!;
          const [b1, b2] = [this.#slopes[slopes + 2 * a]!, this.#slopes[slopes + 2 * a + 1]!];
          for (let i = 0; i < 3; i++) {
            first[i]! += at[node + i]! * b1;
            second[i]! += at[node + i]! * b2;
          }
        }
        const dot = (u: Float64Array, v: Float64Array): number =>
          u[0]! * v[0]! + u[1]! * v[1]! + u[2]! * v[2]!;
        increment(
          this.law,
          this.#strain[p]!,
          dot(first, first),
          dot(second, second),
          dot(first, second),
          matrix !== null,
          out,
          ease,
        );
        const area = this.#area[p]!;
        work += area * out.work;
        if (matrix === null) {
          if (work === Number.POSITIVE_INFINITY) return work;
          continue;
        }
        const [f1, f2, f12] = [area * out.first[0]!, area * out.first[1]!, area * out.first[2]!];
        for (let a = 0; a < NODES; a++) {
          const node = this.#elements[e + a]!;
          const [b1, b2] = [this.#slopes[slopes + 2 * a]!, this.#slopes[slopes + 2 * a + 1]!];
          for (let i = 0; i < 3; i++)
            this.#force[3 * node + i]! +=
              2 * f1 * b1 * first[i]! + 2 * f2 * b2 * second[i]! + f12 * (b2 * first[i]! + b1 * second[i]!);
          for (let t = 0; t < 2; t++) {
            const tangent = 6 * node + 3 * t;
            let [one, two] = [0, 0];
            for (let i = 0; i < 3; i++) {
              one += first[i]! * this.#tangents[tangent + i]!;
              two += second[i]! * this.#tangents[tangent + i]!;
            }
            const column = 2 * a + t;
            rows[column] = 2 * one * b1;
            rows[wide + column] = 2 * two * b2;
            rows[2 * wide + column] = one * b2 + two * b1;
          }
        }
        const [h11, h12, h13, h22, h23, h33] = out.second.map((value) => area * value) as unknown as [
          number,
          number,
          number,
          number,
          number,
          number,
        ];
        for (let c = 0; c < wide; c++) {
          const [u, v, w] = [rows[c]!, rows[wide + c]!, rows[2 * wide + c]!];
          pressed[c] = h11 * u + h12 * v + h13 * w;
          pressed[wide + c] = h12 * u + h22 * v + h23 * w;
          pressed[2 * wide + c] = h13 * u + h23 * v + h33 * w;
        }
        for (let r = 0; r < wide; r++) {
          const [u, v, w] = [rows[r]!, rows[wide + r]!, rows[2 * wide + r]!];
          for (let c = 0; c <= r; c++)
            cell[r * wide + c]! += u * pressed[c]! + v * pressed[wide + c]! + w * pressed[2 * wide + c]!;
        }
        for (let a = 0; a < NODES; a++) {
          const [a1, a2] = [this.#slopes[slopes + 2 * a]!, this.#slopes[slopes + 2 * a + 1]!];
          const of1 = 2 * f1 * a1 + f12 * a2;
          const of2 = 2 * f2 * a2 + f12 * a1;
          const ta = 6 * this.#elements[e + a]!;
          for (let b = 0; b <= a; b++) {
            const value = of1 * this.#slopes[slopes + 2 * b]! + of2 * this.#slopes[slopes + 2 * b + 1]!;
            const tb = 6 * this.#elements[e + b]!;
            for (let s = 0; s < 2; s++)
              for (let t = 0; t < 2; t++) {
                if (a === b && t > s) continue;
                let turned = 0;
                for (let i = 0; i < 3; i++)
                  turned += this.#tangents[ta + 3 * s + i]! * this.#tangents[tb + 3 * t + i]!;
                cell[(2 * a + s) * wide + 2 * b + t]! += value * turned;
              }
          }
        }
      }
      if (matrix === null) continue;
      for (let r = 0; r < wide; r++) {
        const row = 2 * this.#elements[e + (r >> 1)]! + (r & 1);
        if (this.#holds(row)) continue;
        for (let c = 0; c <= r; c++) {
          const column = 2 * this.#elements[e + (c >> 1)]! + (c & 1);
          if (!this.#holds(column))
            matrix.add(Math.max(row, column), Math.min(row, column), cell[r * wide + c]!);
        }
      }
    }
    if (matrix === null) return work;
    for (let node = 0; node < this.#held.length; node++) {
      const { normal } = this.contacts[node]!;
      let pressure = 0;
      for (let i = 0; i < 3; i++) pressure += this.#force[3 * node + i]! * normal[i]!;
      for (let t = 0; t < 2; t++) {
        const dof = 2 * node + t;
        if (this.#holds(dof)) {
          matrix.add(dof, dof, 1);
          right![dof] = 0;
          continue;
        }
        let along = 0;
        for (let i = 0; i < 3; i++)
          along += this.#force[3 * node + i]! * this.#tangents[6 * node + 3 * t + i]!;
        right![dof] = -along;
        // A node that moves along its tangent is brought back to the surface by half its curvature times the square.
        matrix.add(dof, dof, pressure * this.#bending[3 * node + t]!);
      }
    }
    return work;
  }

  #holds(dof: number): boolean {
    const held = this.#held[dof >> 1]!;
    return held === 2 || (held === 1 && (dof & 1) === 0);
  }

  /** Takes the step's strain into what stands behind every point. */
  #settle(): void {
    const out = newIncrement();
    const { position } = this;
    for (let e = 0, p = 0; e < this.#elements.length; e += NODES)
      for (let k = 0; k < POINTS; k++, p++) {
        const metricBy = (slopes: Float64Array): [number, number, number] => {
          const j = new Float64Array(6);
          for (let a = 0; a < NODES; a++)
            for (let i = 0; i < 3; i++)
              for (let t = 0; t < 2; t++)
                j[3 * t + i]! += position[3 * this.#elements[e + a]! + i]! * slopes[2 * (NODES * p + a) + t]!;
          const dot = (s: number, t: number): number =>
            j[3 * s]! * j[3 * t]! + j[3 * s + 1]! * j[3 * t + 1]! + j[3 * s + 2]! * j[3 * t + 2]!;
          return [dot(0, 0), dot(1, 1), dot(0, 1)];
        };
        const [s11, s22, s12] = metricBy(this.#slopes);
        increment(this.law, this.#strain[p]!, s11, s22, s12, false, out);
        this.#strain[p] = out.strain;
        const [c11, c22, c12] = metricBy(this.#flatSlopes);
        this.#metric.set([c11, c22, c12], 3 * p);
        // U = (C + √det·1)/√(trace + 2√det), and slopes in its frame are U⁻¹ times those in the flat.
        const root = Math.sqrt(c11 * c22 - c12 * c12);
        const scale = Math.sqrt(c11 + c22 + 2 * root);
        const [u11, u22, u12] = [(c11 + root) / scale, (c22 + root) / scale, c12 / scale];
        for (let a = 0; a < NODES; a++) {
          const at = 2 * (NODES * p + a);
          const [b1, b2] = [this.#flatSlopes[at]!, this.#flatSlopes[at + 1]!];
          this.#slopes[at] = (u22 * b1 - u12 * b2) / root;
          this.#slopes[at + 1] = (u11 * b2 - u12 * b1) / root;
        }
      }
    this.#laidOutBefore = this.#laidOut;
    this.#laidOut = Float64Array.from(this.contacts.flatMap(({ laidOut }) => laidOut));
  }

  /** Length of the section from the loop to each node of the rim, mm, from the x axis on. */
  rimDeveloped(): number[] {
    const { around, out } = this.mesh;
    return Array.from(
      { length: 2 * around + 1 },
      (_, ray) => this.contacts[nodeOf(this.mesh, ray, 2 * out)]!.developed,
    );
  }

  /** Where every node lies when the surface is laid out flat, x y. */
  get laidOut(): Float64Array {
    return this.#laidOut;
  }

  /** Everywhere a strain is known: place in the flat, logarithmic strain through the thickness, strain behind it. */
  points(): { x: number; y: number; area: number; thickness: number; strain: number }[] {
    const { flat } = this.mesh;
    const found = [];
    for (let e = 0, p = 0; e < this.#elements.length; e += NODES)
      for (const [s] of GAUSS)
        for (const [t] of GAUSS) {
          const [[ns], [nt]] = [lagrange(s), lagrange(t)];
          let [x, y] = [0, 0];
          for (let a = 0; a < 3; a++)
            for (let b = 0; b < 3; b++) {
              const node = this.#elements[e + 3 * a + b]!;
              x += flat[2 * node]! * ns[a]! * nt[b]!;
              y += flat[2 * node + 1]! * ns[a]! * nt[b]!;
            }
          const [c11, c22, c12] = this.#metric.subarray(3 * p, 3 * p + 3) as unknown as [
            number,
            number,
            number,
          ];
          found.push({
            x,
            y,
            area: this.#area[p]!,
            thickness: -Math.log(c11 * c22 - c12 * c12) / 2,
            strain: this.#strain[p]!,
          });
          p++;
        }
    return found;
  }
}
