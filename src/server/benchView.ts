/** What the bench view shows of a tray: its sheets, and the shapes of its stages, to be turned or as drawn. */
import type { BenchSheet } from '../papers/benchSheet.ts';
import { benchWork, darkness } from '../papers/benchWork.ts';
import { quarters } from '../papers/facets.ts';
import type { LengthUnit } from '../papers/lengths.ts';
import { cornerName } from '../pattern/cornerName.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { rimPlaces } from '../pattern/formedShape.ts';
import { trialDots } from '../pattern/trialDots.ts';
import type { Words } from '../words/english.ts';
import { shapeSvg } from './formedPicture.ts';

/** One shape: x y z of every node, mm, and how dark its metal is. */
export interface BenchShape {
  readonly formed: Float32Array;
  readonly dark: Float32Array;
  /** The same as drawn, an SVG document. */
  readonly svg: string;
}

export interface BenchView {
  readonly name: string;
  readonly sheets: readonly BenchSheet[];
  /** The flat blank and the end of each stage, all of the same nodes. */
  readonly shapes: readonly BenchShape[];
  /** Three nodes each. */
  readonly triangles: Uint32Array;
  /** Nodes around the rim. */
  readonly rim: Uint32Array;
  /** The corners of which a trial can be measured, with their two dots where there is room for them, mm. */
  readonly trial: readonly {
    readonly letter: string;
    readonly dots: { readonly apart: number; readonly inset: number } | null;
  }[];
  /** A node in the middle of each corner's rim, and the letter. */
  readonly letters: readonly { readonly node: number; readonly letter: string }[];
}

/** @throws GatherpanError NOT_SOLVED when a stage has no equilibrium */
export async function benchView(pattern: FlatPattern, unit: LengthUnit, words: Words): Promise<BenchView> {
  const { sheets, shapes } = benchWork(pattern, { unit, words, bench: await words.bench() });
  const { field } = pattern;
  const titles = new Map(
    sheets.flatMap(({ picture }) => (picture === null ? [] : [[picture.shape, picture.said] as const])),
  );
  return {
    name: pattern.name,
    sheets,
    shapes: shapes.map(({ formed }, i) => {
      const dark = darkness(shapes, i);
      return {
        formed: Float32Array.from(formed),
        dark: Float32Array.from(dark),
        svg: shapeSvg({ ...field, formed }, pattern, titles.get(i) ?? pattern.name, dark),
      };
    }),
    triangles: quarters(field),
    rim: Uint32Array.from(field.rimNodes),
    trial: trialCorners(pattern),
    letters: letters(pattern),
  };
}

function trialCorners(pattern: FlatPattern): BenchView['trial'] {
  const dots = trialDots(pattern);
  return pattern.report.corners.map(({ index, letter }) => {
    const found = dots.find((each) => each.index === index);
    return { letter, dots: found === undefined ? null : { apart: found.apart, inset: found.inset } };
  });
}

function letters(pattern: FlatPattern): BenchView['letters'] {
  const { rimNodes, rimCorner } = pattern.field;
  return [...rimPlaces(rimCorner)].map(([corner, places]) => {
    // A corner that lies over the end of the list begins behind the gap in it.
    const gap = places.findIndex((place, i) => i > 0 && place !== places[i - 1]! + 1);
    const ordered = gap < 0 ? places : [...places.slice(gap), ...places.slice(0, gap)];
    const node = rimNodes[ordered[Math.floor(ordered.length / 2)]!]!;
    return { node, letter: cornerName(pattern, corner) };
  });
}
