/** What is said of the gather of a blank: plain data, part of the flat pattern. mm, per cent, flat coordinates. */
import type { Path, Point } from '../geometry/path.ts';
import type { BucklingRegime } from '../material/neckingAndBuckling.ts';
import type { GatheringName } from '../tray/spec.ts';
import type { Statement } from '../words/statement.ts';

/** Whether the metal has to get shorter in the plane of the sheet, or longer. */
export type ZoneKind = 'shrink' | 'stretch';

/** Lines of one level inside a zone. */
export interface Contour {
  readonly kind: ZoneKind;
  /** In-plane shrink (or stretch, by the zone's kind), per cent. */
  readonly level: number;
  readonly paths: readonly Path[];
}

/** How a zone meets the worked rim of the blank: the edge as it is hammered, trim included. */
export interface ZoneRim {
  /** The marks: first and last point counter-clockwise along the rim; the same point when the zone goes all round. */
  readonly begin: Point;
  readonly end: Point;
  /** How far along the flat rim the zone reaches beyond the corner's arc, before and after it; negative inside it. */
  readonly reachBefore: number;
  readonly reachAfter: number;
  readonly flatLength: number;
  readonly formedLength: number;
  /** Flat less formed length from mark to mark: what a tape finds to lose; negative where the rim has to get longer. */
  readonly toLose: number;
}

/** A connected part of the blank where the metal must shrink (or stretch) by more than 2 %. */
export interface GatherZone {
  readonly kind: ZoneKind;
  /** Plan corners whose arcs its rim crosses, ascending; none when it does not reach the rim at a corner. */
  readonly corners: readonly number[];
  /** In the flat. The first is the outer one, counter-clockwise; others go clockwise around gaps. */
  readonly boundary: readonly Path[];
  /** mm², in the flat */
  readonly area: number;
  /** Null when the zone does not reach the rim. */
  readonly rim: ZoneRim | null;
  /** How deep it reaches from the rim, in the flat. */
  readonly depth: number;
  /** Largest shrink (or stretch), positive per cent, and where in the flat. */
  readonly peak: { readonly percent: number; readonly at: Point };
  /** Thickest (in a stretch zone thinnest) finished thickness, mm, and where in the flat. */
  readonly thickness: { readonly value: number; readonly at: Point };
}

export type VerdictWord = 'can be worked' | 'can be worked with care' | 'not in one piece';

/** What a verdict means for a shell, as exit code. */
export const VERDICT_EXIT: Readonly<Record<VerdictWord, 0 | 1>> = {
  'can be worked': 0,
  'can be worked with care': 0,
  'not in one piece': 1,
};

/** What a reason weighs: nothing against it, care is needed, or it rules the tray out; a note is no judgement. */
export type Weight = 'good' | 'care' | 'refuse' | 'note';

/** One finding of the verdict, with the number and the limit it was held against. */
export interface Reason {
  readonly about:
    | 'flat'
    | 'thickening'
    | 'stretch'
    | 'strain between anneals'
    | 'edge shrinking'
    | 'buckling'
    | 'limits';
  readonly weight: Weight;
  /** Number found and the limit, in `unit`; limit null where none is published, all null where there is none. */
  readonly value: number | null;
  readonly limit: number | null;
  readonly unit: '%' | 'logarithmic strain' | null;
  readonly sentence: Statement;
}

export interface Verdict {
  readonly word: VerdictWord;
  /** The weightiest first, notes last. */
  readonly reasons: readonly Reason[];
}

/**
 * Why a tray has no flat pattern: no equilibrium was found for it, it shrinks further than the sheet gathers evenly, or
 * its flat overlaps itself.
 */
export type NoFlatCause = 'no equilibrium' | 'shrinkage' | 'overlaps';

/** The tucks of one shrink zone, or the rows of blows where it is worked without tucks. */
export interface TuckPlan {
  /** Number of the zone in the list. */
  readonly zone: number;
  readonly way: GatheringName;
  readonly count: number;
  /** Where each is set: distance along the flat worked rim from the zone's first mark, mm. */
  readonly at: readonly number[];
  /** How far each reaches inwards from the worked rim, in the flat, mm. */
  readonly depth: number;
  /** Length of rim each tuck has to take up in all, mm: the same for each. */
  readonly takeUp: number;
  /** Rounds in which to take it up, so that no pucker gets too steep to knock down. */
  readonly rounds: number;
  /** Highest that a tuck, or a wave between blows, may stand before it is struck flat, mm. */
  readonly height: number;
  /** The edge between the closest two, where the corner gathers most; of a single one from mark to mark. */
  readonly edge: {
    /** mm along the flat rim */
    readonly apart: number;
    /** Length that this run takes up at a time without folding, mm. */
    readonly takeUp: number;
    readonly regime: BucklingRegime;
  };
  /** Half-waves in which the free wall wants to pucker by itself. */
  readonly naturalWaves: number;
  /** One line per tuck, from the rim inwards. */
  readonly marks: readonly Path[];
}

/** Where the rim ends up for other hands, relative to the one the blank was made for; mm, outwards positive. */
export interface TrimBand {
  /** The hand the blank is made for. */
  readonly hand: number;
  readonly hands: readonly [number, number];
  /** Largest distance the rim would have to lie further out for the lower hand, and further in for the higher. */
  readonly outwards: number;
  readonly inwards: number;
  /** Null where nothing is left open, and where a sheet as strong every way has no equilibrium. */
  readonly strengths: StrengthBand | null;
  /** The trim that covers both, rounded up to half a millimetre. */
  readonly trim: number;
}

/**
 * What is left open where only the r-values of a sheet are known, which dictate its strengths: how far the rim lies outside
 * and inside of the solved one at most if the sheet is as strong every way; mm, positive.
 */
export interface StrengthBand {
  readonly outwards: number;
  readonly inwards: number;
}

/** The gather of a blank. */
export interface Gather {
  /** From which contours are drawn, per cent. */
  readonly threshold: number;
  /** Share of the gather that goes to lengthening up the wall, 0 to 1: the hand the blank is made for. */
  readonly hand: number;
  /** Per cent of area gained where worked. */
  readonly spread: number;
  readonly zones: readonly GatherZone[];
  /** Equivalent strain that the hardest-worked place takes on its way from the flat, logarithmic. */
  readonly work: number;
  /** How often it is annealed, a hard sheet's first one included; null where it takes some and must not be heated. */
  readonly anneals: number | null;
  readonly verdict: Verdict;
  readonly tucks: readonly TuckPlan[];
  /** Null where one of the hands has no equilibrium, and for a part solved as it is. */
  readonly trimBand: TrimBand | null;
}
