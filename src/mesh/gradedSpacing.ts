/** Graded spacing of points along a line. */

/** How long pieces may be along a line of some length; all in the line's unit. */
export interface Grading {
  /** Piece length wanted at the start and the end; Infinity where the end does not matter. */
  readonly atStart: number;
  readonly atEnd: number;
  /** Longest piece anywhere. */
  readonly longest: number;
  /** Growth of piece length per length, away from the ends. */
  readonly growth: number;
}

const SAMPLES = 2048;

/**
 * Fractions from 0 to 1 that divide a line so that each piece is about as long as the grading asks at its
 * place. At least one piece.
 */
export function gradedFractions(length: number, grading: Grading): number[] {
  const { atStart, atEnd, longest, growth } = grading;
  const wanted = (x: number): number =>
    Math.min(longest, atStart + growth * x, atEnd + growth * (length - x));
  // Running integral of dx / wanted(x): each unit of it is one piece.
  const running = new Float64Array(SAMPLES + 1);
  for (let i = 0; i < SAMPLES; i++) {
    running[i + 1] = running[i]! + length / SAMPLES / wanted(((i + 0.5) * length) / SAMPLES);
  }
  const total = running[SAMPLES]!;
  const pieces = Math.max(1, Math.round(total));
  const fractions = [0];
  let at = 0;
  for (let k = 1; k < pieces; k++) {
    const target = (total * k) / pieces;
    while (running[at + 1]! < target) at++;
    fractions.push((at + (target - running[at]!) / (running[at + 1]! - running[at]!)) / SAMPLES);
  }
  fractions.push(1);
  // A line graded the same from both ends is divided the same from both ends, to the last bit.
  if (atStart === atEnd) {
    for (let k = 0; k <= pieces / 2; k++) {
      const half = (fractions[k]! + 1 - fractions[pieces - k]!) / 2;
      fractions[k] = half;
      fractions[pieces - k] = 1 - half;
    }
  }
  return fractions;
}
