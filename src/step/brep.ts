/**
 * A solid as faces on exact surfaces, bounded by lines, circles, ellipses and splines, written instance by instance.
 *
 * Lengths mm, angles radians. Faces point out of the material; a face's first loop runs counter-clockwise seen
 * from outside, further ones (holes in it) clockwise. Source: ISO 10303-42, geometry (elementary surfaces, line,
 * circle, ellipse, B-spline curve and surface with knots) and topology (advanced B-rep).
 */
import type { Vector3 } from '../geometry/vector3.ts';
import { type Instances, list, real } from './part21.ts';

/** A surface by its natural form; `axis` and `reference` are unit vectors square to one another. */
export type Surface =
  | { readonly kind: 'plane'; readonly origin: Vector3; readonly axis: Vector3; readonly reference: Vector3 }
  | {
      readonly kind: 'cylinder' | 'sphere';
      readonly origin: Vector3;
      readonly axis: Vector3;
      readonly reference: Vector3;
      readonly radius: number;
    }
  | {
      /** Radius at the origin; it grows along the axis. */
      readonly kind: 'cone';
      readonly origin: Vector3;
      readonly axis: Vector3;
      readonly reference: Vector3;
      readonly radius: number;
      readonly halfAngle: number;
    }
  | {
      readonly kind: 'torus';
      readonly origin: Vector3;
      readonly axis: Vector3;
      readonly reference: Vector3;
      readonly major: number;
      readonly minor: number;
    }
  | {
      /** Straight from each point of one curve to that of another; its own normal is (along the curves) × (across). */
      readonly kind: 'ruled';
      readonly from: Spline;
      readonly to: Spline;
    };

/** A curve of quintic pieces joined with two continuous derivatives: control points, and breaks of its parameter. */
export interface Spline {
  readonly poles: readonly Vector3[];
  /** One more than pieces, rising. */
  readonly breaks: readonly number[];
}

const DEGREE = 5;
/** The pieces share position and two derivatives, so an inner knot counts three times. */
const knotsOf = ({ breaks }: Spline): { multiplicities: string; knots: string } => ({
  multiplicities: list(breaks.map((_, i) => (i === 0 || i === breaks.length - 1 ? `${DEGREE + 1}` : '3'))),
  knots: list(breaks.map(real)),
});

/** An edge walked in or against its own direction. */
export interface EdgeUse {
  readonly edge: string;
  readonly forward: boolean;
}

export const reversed = (use: EdgeUse): EdgeUse => ({ edge: use.edge, forward: !use.forward });

/** Writes vertices, edges and faces; collects the faces of one closed shell. */
export class BrepWriter {
  private readonly faces: string[] = [];
  private readonly data: Instances;
  private readonly directions = new Map<string, string>();

  constructor(data: Instances) {
    this.data = data;
  }

  point([x, y, z]: Vector3): string {
    return this.data.add(`CARTESIAN_POINT('',(${real(x)},${real(y)},${real(z)}))`);
  }

  direction([x, y, z]: Vector3): string {
    const values = `(${real(x)},${real(y)},${real(z)})`;
    let known = this.directions.get(values);
    if (known === undefined) {
      known = this.data.add(`DIRECTION('',${values})`);
      this.directions.set(values, known);
    }
    return known;
  }

  placement(origin: Vector3, axis: Vector3, reference: Vector3): string {
    return this.data.add(
      `AXIS2_PLACEMENT_3D('',${this.point(origin)},${this.direction(axis)},${this.direction(reference)})`,
    );
  }

  vertex(at: Vector3): string {
    return this.data.add(`VERTEX_POINT('',${this.point(at)})`);
  }

  line(from: Vector3, to: Vector3): string {
    const [x, y, z] = [to[0] - from[0], to[1] - from[1], to[2] - from[2]];
    const length = Math.hypot(x, y, z);
    const along = this.direction([x / length, y / length, z / length]);
    return this.data.add(`LINE('',${this.point(from)},${this.data.add(`VECTOR('',${along},1.)`)})`);
  }

  circle(centre: Vector3, axis: Vector3, reference: Vector3, radius: number): string {
    return this.data.add(`CIRCLE('',${this.placement(centre, axis, reference)},${real(radius)})`);
  }

  /** @param reference direction of the semi-axis `first` */
  ellipse(centre: Vector3, axis: Vector3, reference: Vector3, first: number, second: number): string {
    return this.data.add(
      `ELLIPSE('',${this.placement(centre, axis, reference)},${real(first)},${real(second)})`,
    );
  }

  spline(spline: Spline): string {
    const { multiplicities, knots } = knotsOf(spline);
    const poles = list(spline.poles.map((pole) => this.point(pole)));
    return this.data.add(
      `B_SPLINE_CURVE_WITH_KNOTS('',${DEGREE},${poles},.UNSPECIFIED.,.F.,.F.,${multiplicities},${knots},.UNSPECIFIED.)`,
    );
  }

  /** An edge along a curve from one vertex to another, in the curve's direction. */
  edge(from: string, to: string, curve: string): EdgeUse {
    return { edge: this.data.add(`EDGE_CURVE('',${from},${to},${curve},.T.)`), forward: true };
  }

  /**
   * @param outward whether the material's outside is where the surface's own normal points: away from the axis of
   *   a cylinder or cone, from the middle of a sphere or a torus' tube, along the axis of a plane
   */
  face(surface: Surface, outward: boolean, loops: readonly (readonly EdgeUse[])[]): void {
    const bounds = loops.map((uses, i) => {
      const oriented = uses.map(({ edge, forward }) =>
        this.data.add(`ORIENTED_EDGE('',*,*,${edge},${forward ? '.T.' : '.F.'})`),
      );
      const loop = this.data.add(`EDGE_LOOP('',${list(oriented)})`);
      return this.data.add(`${i === 0 ? 'FACE_OUTER_BOUND' : 'FACE_BOUND'}('',${loop},.T.)`);
    });
    this.faces.push(
      this.data.add(`ADVANCED_FACE('',${list(bounds)},${this.surface(surface)},${outward ? '.T.' : '.F.'})`),
    );
  }

  private surface(surface: Surface): string {
    if (surface.kind === 'ruled') {
      const { multiplicities, knots } = knotsOf(surface.from);
      const poles = surface.from.poles.map((pole, i) =>
        list([this.point(pole), this.point(surface.to.poles[i]!)]),
      );
      return this.data.add(
        `B_SPLINE_SURFACE_WITH_KNOTS('',${DEGREE},1,${list(poles)},.RULED_SURF.,.F.,.F.,.F.,` +
          `${multiplicities},(2,2),${knots},(0.,1.),.UNSPECIFIED.)`,
      );
    }
    const place = this.placement(surface.origin, surface.axis, surface.reference);
    switch (surface.kind) {
      case 'plane':
        return this.data.add(`PLANE('',${place})`);
      case 'cylinder':
        return this.data.add(`CYLINDRICAL_SURFACE('',${place},${real(surface.radius)})`);
      case 'sphere':
        return this.data.add(`SPHERICAL_SURFACE('',${place},${real(surface.radius)})`);
      case 'cone':
        return this.data.add(
          `CONICAL_SURFACE('',${place},${real(surface.radius)},${real(surface.halfAngle)})`,
        );
      case 'torus':
        // A tube wider than its ring cuts itself; the part outside is the one we use.
        return this.data.add(
          surface.major < surface.minor
            ? `DEGENERATE_TOROIDAL_SURFACE('',${place},${real(surface.major)},${real(surface.minor)},.T.)`
            : `TOROIDAL_SURFACE('',${place},${real(surface.major)},${real(surface.minor)})`,
        );
    }
  }

  /** The solid inside all faces written so far. */
  solid(name: string): string {
    const shell = this.data.add(`CLOSED_SHELL('',${list(this.faces)})`);
    return this.data.add(`MANIFOLD_SOLID_BREP(${name},${shell})`);
  }
}
