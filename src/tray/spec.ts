/** The tray file after it has been read: complete, checked, in mm and degrees. */

import type { SheetSpec } from '../material/sheetSpec.ts';

/** Which skin of the sheet lengths, radii and heights refer to. */
export type Measured = 'outside' | 'inside';

/** A vertex of a general plan and the edge that starts there. */
export interface PlanVertex {
  readonly x: number;
  readonly y: number;
  /** Plan corner radius on the measured skin; 0 where the edges meet smoothly, or at an open or notched corner. */
  readonly radius: number;
  /** tan(sweep / 4) of the edge to the next vertex: 0 or absent straight, positive bulging outwards. */
  readonly bulge?: number;
}

/** A rectangle, centred on the origin, length along x. One corner radius, or four counter-clockwise from +x +y. */
export interface RectanglePlan {
  readonly length: number;
  readonly width: number;
  readonly cornerRadius: number | readonly [number, number, number, number];
  /** Edges without a wall, by number; edge 0 is the one at +y, then counter-clockwise: −x, −y, +x. */
  readonly openEdges?: readonly number[];
}

/** A simple polygon, counter-clockwise, with a radius at each vertex. */
export interface PolygonPlan {
  readonly vertices: readonly PlanVertex[];
  /** Edges without a wall, by the number of the vertex they start from. */
  readonly openEdges?: readonly number[];
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
  readonly rim: Rim;
  /** Height above each edge where they differ, by edge number; `height` is then the largest of them. */
  readonly heights?: readonly number[];
  /** How far beyond a corner, along the sides, the rim runs from one height to the other, mm; 0 when absent. */
  readonly runOut?: number;
}

/** The upper end of the wall: cut plain, or turned into a lip. */
export type Rim = { readonly kind: 'plain' } | LipRim;

/** A level lip, turned outwards or inwards. */
export interface LipRim {
  readonly kind: 'lip';
  readonly direction: 'out' | 'in';
  /** Radius between wall and lip, on the measured skin, mm. */
  readonly bendRadius: number;
  /** From the wall's measured skin to the lip's edge, mm. */
  readonly width: number;
}

/** How a corner is made: in one piece, or cut out so that the sides meet at a mitre and are welded. */
export type CornerMaking = 'gather' | 'notch';

/** How a gather is worked in: set in tucks that are knocked down, or shrunk over the dolly blow by blow. */
export const GATHERINGS = ['tucks', 'blows'] as const;
export type GatheringName = (typeof GATHERINGS)[number];

/** A hole, given on the finished tray. */
export interface HoleSpec {
  readonly name: string;
  readonly shape:
    | { readonly kind: 'round'; readonly diameter: number }
    /** `angle` in degrees from the place's first direction (x, or along the edge). */
    | { readonly kind: 'slot'; readonly length: number; readonly width: number; readonly angle: number }
    /** Corners about the hole's place, counter-clockwise. */
    | { readonly kind: 'polygon'; readonly points: readonly { readonly x: number; readonly y: number }[] };
  readonly place:
    | { readonly on: 'base'; readonly x: number; readonly y: number }
    /** `along` from the edge's middle, counter-clockwise; `height` above the base's measured skin. */
    | { readonly on: 'wall'; readonly edge: number; readonly along: number; readonly height: number };
}

export interface TraySpec {
  readonly name: string;
  /** Figures, papers and pictures are in inches unless asked otherwise, and in mm when absent. All lengths here are mm. */
  readonly shownIn?: 'in';
  readonly measured: Measured;
  readonly plan: Plan;
  readonly section: Section;
  readonly holes?: readonly HoleSpec[];
  readonly sheet: SheetSpec;
  readonly forming: {
    /** Extra wall or lip beyond the net rim, worked with it, mm; see `workedTray`. */
    readonly trim: number;
    /** Trim is not `trim` but as much as the spread between hands asks for; the solved pattern then has it. */
    readonly autoTrim?: true;
    /** Share of the gather that goes to length up the wall, 0 to 1; the sheet's own when absent. */
    readonly hand?: number;
    /** Area gained where the sheet is worked, per cent; 0 when absent. */
    readonly spread?: number;
    /** In-plane shrink from which contours are drawn, per cent; 2 when absent. */
    readonly zoneThreshold?: number;
    /** Angles, in degrees from the base's plane, to which the wall is turned up stage by stage. */
    readonly stages?: readonly number[];
    /** In tucks when absent. */
    readonly gathering?: GatheringName;
    /** How the corners are made, all alike or one by one; gathered when absent. */
    readonly corners?: CornerMaking | readonly CornerMaking[];
    /** Gap between the edges of a notched corner for the weld, square to them, mm. */
    readonly weldGap?: number;
    /** Diameter of the hole at the root of a notched corner, mm. */
    readonly notchRelief?: number;
  };
  readonly cut: {
    readonly process: 'laser' | 'plasma' | 'water jet' | 'hand';
    /** Width of the cut, mm. */
    readonly kerf: number;
    /** Move the outline out by half the kerf; cutting services usually do that themselves. */
    readonly compensate: boolean;
  };
}
