/** The figures of a solved tray as lines for a person. */

import { cornerName, joinedNames } from '../pattern/cornerName.ts';
import type { CornerReport, FlatPattern } from '../pattern/flatPattern.ts';
import { english, type Words } from '../words/english.ts';
import { lengthsOf } from './lengths.ts';

/** The figures that matter at the bench, one thing a line, each line indented and ended. */
export function figureLines(pattern: FlatPattern, { terminal: words }: Words = english): string {
  const { spec, report } = pattern;
  const { blank, developed, corners, thickness, sheet } = report;
  const { figures: titles } = words;
  const lengths = lengthsOf(spec, words);
  const { bare, whole } = lengths;
  const rim = ({ rimToLose: lose, rimToLoseCorners: zone }: CornerReport): string => {
    if (lose === null) return words.cornerKeeps;
    const said = lose >= 0 ? words.cornerLoses(whole(lose)) : words.cornerGains(whole(-lose));
    const names = joinedNames(pattern, zone);
    return zone.length > 1 ? words.cornersTogether(said, names) : said;
  };
  const lines: [string, string][] = [
    [titles.sheet, words.sheet(sheet.material, whole(sheet.thickness, 2), String(sheet.grain))],
    [
      titles.blank,
      words.blank(
        bare(blank.length),
        whole(blank.width),
        lengths.blankArea(blank.area),
        lengths.mass(blank.mass),
      ),
    ],
    [titles.cut, words.cut(lengths.cut(blank.cutLength), String(blank.segments))],
    // Only a rectangle has a middle of its sides to measure at.
    ...(developed.alongLength === null || developed.alongWidth === null
      ? []
      : [
          [titles.developed, words.developed(whole(developed.alongLength), whole(developed.alongWidth))] as [
            string,
            string,
          ],
        ]),
    ...cornerLines(pattern, corners, words, (corner) =>
      [
        rim(corner),
        words.cornerGather(corner.peakGather.toFixed(1)),
        words.cornerStretch(corner.peakStretch.toFixed(1)),
        words.cornerThick(bare(corner.thinnest, 2), whole(corner.thickest, 2)),
      ].join(', '),
    ),
    // A corner of a STEP part may have no centre to measure from.
    ...cornerLines(
      pattern,
      corners.filter((corner) => Number.isFinite(corner.flatCornerRadius)),
      words,
      // The two rules hold for one height of wall.
      (corner) =>
        spec.section.heights === undefined
          ? words.flatRadius(
              whole(corner.flatCornerRadius),
              whole(corner.equalAreaCornerRadius),
              whole(corner.arcLengthCornerRadius),
            )
          : words.flatRadiusAlone(whole(corner.flatCornerRadius)),
    ),
    [titles.thickness, words.thickness(bare(thickness.min, 2), whole(thickness.max, 2))],
  ];
  return lines.map(([title, text]) => titledLine(title, text)).join('');
}

/** What there is to say of each corner, equal ones on one line. */
function cornerLines(
  pattern: FlatPattern,
  corners: readonly CornerReport[],
  words: Words['terminal'],
  text: (corner: CornerReport) => string,
): [string, string][] {
  const { figures: titles } = words;
  const groups = new Map<string, string[]>();
  for (const corner of corners) {
    groups.set(text(corner), [...(groups.get(text(corner)) ?? []), cornerName(pattern, corner.index)]);
  }
  return [...groups].map(([said, marks]) =>
    groups.size === 1 && marks.length > 1
      ? [titles.corners, words.each(said)]
      : [marks.length > 1 ? titles.corners : titles.corner, `${marks.join(', ')}: ${said}`],
  );
}

/** A line of what is printed of a tray: indented, its title in a column, ended. */
export const titledLine = (title: string, text: string): string => `  ${title.padEnd(10)} ${text}\n`;
