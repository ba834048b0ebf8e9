/** The finished flat pattern: what every exporter is given. Plain data, no functions. */
import type { Gather, NoFlatCause, Verdict } from '../gather/report.ts';
import type { FlatField } from '../geometry/flatField.ts';
import type { Path, Point, Vertex } from '../geometry/path.ts';
import type { Sheet } from '../material/sheet.ts';
import type { TraySpec } from '../tray/spec.ts';
import type { Statement } from '../words/statement.ts';

/** A line to be scribed, never cut. */
export interface ScribeLine {
  /** The net rim is where the trim comes off after forming; rim marks are the ends of a tape that shows the rim to lose. */
  readonly kind: 'bend-begin' | 'bend-end' | 'net-rim' | 'rim-mark';
  readonly path: Path;
}

/** A hole in the blank. */
export interface Hole {
  readonly name: string;
  readonly path: Path;
}

/** Everything the shop needs to cut and mark the blank. Coordinates in mm, origin at the plan's origin. */
export interface FlatPattern {
  /** Of a tray file, or of a part that was solved as it is: its `spec` tells sizes only and cannot be built again. */
  readonly kind: 'tray' | 'part';
  readonly name: string;
  /** The tray it was solved for: complete, in mm and degrees; its trim is the one that was cut. */
  readonly spec: TraySpec;
  readonly sheet: Sheet;
  /** The net rim, without trim. Closed, counter-clockwise. */
  readonly rim: Path;
  /**
   * The edge as it is hammered, solved with the trim as wall or lip: zones, tucks and stages lie along it. Closed,
   * counter-clockwise; the net rim itself where there is no such trim.
   */
  readonly workedRim: Path;
  /** What is cut: the worked rim, trim laid on in the flat where no wall is, half the kerf when asked for. Closed, counter-clockwise. */
  readonly outline: Path;
  /** Closed, clockwise. */
  readonly holes: readonly Hole[];
  readonly scribeLines: readonly ScribeLine[];
  /** For the person, in the order they matter. */
  readonly notes: readonly Statement[];
  readonly report: Report;
  /** Where and how much the metal gathers, and whether it can be worked. */
  readonly gather: Gather;
  /** The solved field, for pictures and contours. */
  readonly field: FlatField;
}

/** A tray that no blank in one piece can be cut for. Plain data. */
export interface NoFlat {
  readonly kind: 'no flat';
  /** As `kind` of a pattern: the `spec` of a part tells sizes only. */
  readonly of: FlatPattern['kind'];
  readonly name: string;
  /** Complete, in mm and degrees. */
  readonly spec: TraySpec;
  readonly sheet: Sheet;
  readonly cause: NoFlatCause;
  /** "not in one piece", with the reason. */
  readonly verdict: Verdict;
}

/** What became of a tray: both kinds have a verdict, see `verdictOn`. */
export type Developed = FlatPattern | NoFlat;

/** Figures of one plan corner. Lengths and thickness mm, strains engineering per cent. */
export interface CornerReport {
  /** Number of the plan corner, from 0, counter-clockwise; of a curved side, after those of the corners. */
  readonly index: number;
  /** What a person calls it: A, or A–B for a curved side. */
  readonly letter: string;
  readonly at: Point;
  readonly cornerRadius: number;
  /** Of the worked rim above the corner's arc. */
  readonly flatRimLength: number;
  readonly formedRimLength: number;
  /** Their difference: the arc's own share of the rim to lose; negative where the rim stretches. */
  readonly arcRimToLose: number;
  /**
   * Flat less formed length of the worked rim between the marks of the gather zone that the corner lies in; negative
   * where it stretches. Null where the rim changes by less than the zones' threshold.
   */
  readonly rimToLose: number | null;
  /** The corners whose zone that is: the figure is their total. None without a zone. */
  readonly rimToLoseCorners: readonly number[];
  /** The same lengths of the net rim above the arc. */
  readonly netFlatRimLength: number;
  readonly netFormedRimLength: number;
  /** Mean thickness of the net rim above the arc, finished, mm. */
  readonly netRimThickness: number;
  /** Solved distance of the flat worked rim, at the corner's middle, from the centre of the base's corner arc. */
  readonly flatCornerRadius: number;
  /** The same distance if fibres up the wall kept their length (all gather to thickness). */
  readonly arcLengthCornerRadius: number;
  /** The same distance if thickness were kept and the corner were a sector by itself. */
  readonly equalAreaCornerRadius: number;
  /** Largest in-plane shrink, positive per cent. */
  readonly peakGather: number;
  /** Largest in-plane stretch, positive per cent. */
  readonly peakStretch: number;
  readonly thickest: number;
  readonly thinnest: number;
}

/** The report: a stable, documented format; every key is always present. */
export interface Report {
  readonly name: string;
  readonly sheet: {
    readonly material: string;
    readonly thickness: number;
    /** degrees */
    readonly grain: number;
  };
  readonly rim: readonly Vertex[];
  readonly outline: readonly Vertex[];
  readonly blank: {
    readonly length: number;
    readonly width: number;
    readonly area: number;
    /** kg */
    readonly mass: number;
    readonly cutLength: number;
    readonly segments: number;
  };
  /** Flat distance at mid-side from the bend's beginning to the rim; null when the plan is no rectangle. */
  readonly developed: { readonly alongLength: number | null; readonly alongWidth: number | null };
  /** The corner's two classical flat radii, when all corners have the same; null otherwise. */
  readonly bounds: {
    readonly arcLengthCornerRadius: number | null;
    readonly equalAreaCornerRadius: number | null;
  };
  readonly corners: readonly CornerReport[];
  readonly thickness: { readonly min: number; readonly max: number };
  readonly solver: {
    readonly triangles: number;
    readonly unknowns: number;
    readonly steps: number;
    readonly residual: number;
  };
  readonly warnings: readonly Statement[];
}
