/** The tray file after it has been read: complete, checked, in mm and degrees. */

import type { SheetSpec } from '../material/sheetSpec.ts';

/** Which skin of the sheet lengths, radii and heights refer to. */
export type Measured = 'outside' | 'inside';

/** A vertex of a general plan. `radius` is the plan corner radius there, on the measured skin. */
export interface PlanVertex {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

/** A rectangle, centred on the origin, length along x. One corner radius, or four counter-clockwise from +x +y. */
export interface RectanglePlan {
  readonly length: number;
  readonly width: number;
  readonly cornerRadius: number | readonly [number, number, number, number];
}

/** A simple polygon, counter-clockwise, with a radius at each vertex. */
export interface PolygonPlan {
  readonly vertices: readonly PlanVertex[];
}

export type Plan = RectanglePlan | PolygonPlan;

/** What one sees in a cut across the wall. */
export interface Section {
  /** Radius between base and wall, on the measured skin, mm. */
  readonly bottomRadius: number;
  /** From the base's measured skin to the rim on that skin, mm. */
  readonly height: number;
  /** Lean of the wall outwards from upright, degrees. */
  readonly draft: number;
  readonly rim: { readonly kind: 'plain' };
}

export interface TraySpec {
  readonly name: string;
  readonly measured: Measured;
  readonly plan: Plan;
  readonly section: Section;
  readonly sheet: SheetSpec;
  readonly forming: {
    /** Extra material outside the net rim, mm. */
    readonly trim: number;
  };
  readonly cut: {
    readonly process: 'laser' | 'plasma' | 'water jet' | 'hand';
    /** Width of the cut, mm. */
    readonly kerf: number;
    /** Move the outline out by half the kerf; cutting services usually do that themselves. */
    readonly compensate: boolean;
  };
}
