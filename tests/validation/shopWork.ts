/** Work by hand that somebody put a figure to: the corners of a box and a ball. Both are bounds and no more. */
import { workedMaterial } from '../../src/gather/hand.ts';
import { meanLankford, plasticLaw } from '../../src/material/law.ts';
import { findSheet } from '../../src/material/sheets.ts';
import { shrinkLimit } from '../../src/solve/ellipticity.ts';
import { ball } from './handbook.ts';
import { type Section, shown } from './section.ts';

/** Corner of a one-piece box of 3003 sheet: thickness before and after, inches. */
export const BOX = { sheet: 0.063, corner: 0.12 } as const;

/** By hand: thickening of a rim that shrinks as far as the law lets it gather evenly, and shrink that BOX asks for. */
export function thickCorners() {
  const sheet = findSheet('3003-O');
  const r = meanLankford(sheet);
  return ([0.001, 0.2, null, 0.8] as const).map((hand) => {
    const ratio = hand === null ? r : hand / (1 - hand);
    const even = { ...workedMaterial(sheet, hand ?? undefined), r0: ratio, r45: ratio, r90: ratio };
    const limit = shrinkLimit(plasticLaw(even, 0));
    return {
      hand: ratio / (1 + ratio),
      own: hand === null,
      /** Length of the rim after over before. */
      limit: Math.exp(-limit),
      thickest: Math.exp(limit / (1 + ratio)),
      asked: (BOX.sheet / BOX.corner) ** (1 + ratio),
    };
  });
}

export function shopWork(): Section {
  const found = ball();
  const corners = thickCorners();
  const own = corners.find((corner) => corner.own)!;
  return {
    id: 'shop-work',
    title: 'Work by hand',
    about: [
      `A practitioner reports the corners of a one-piece box of 3003 sheet, shrunk in tucks with several anneals: from ${BOX.sheet} to as much as ${BOX.corner} in, ${shown(BOX.corner / BOX.sheet, 2)} times as thick. The box’s sizes are not told, so only the law can be asked: how far does a rim have to shrink for that, and how far does it gather evenly.`,
      'Holtzapffel’s worker makes a hollow copper ball of 6 in from two discs of 7.5 in.',
    ],
    tables: [
      {
        caption:
          '3003-O: length of the rim left (1 is none lost) when a corner is 1.90 times as thick, and the least length and greatest thickness to which the rim gathers evenly',
        head: ['hand', 'left for 1.90', 'least', 'thickest'],
        rows: corners.map(({ hand, own, asked, limit, thickest }) => [
          `${shown(hand, 2)}${own ? ' (the sheet’s own)' : ''}`,
          shown(asked, 2),
          shown(limit, 2),
          shown(thickest, 2),
        ]),
      },
      {
        caption: 'Disc for half a ball of 6 in, inches',
        head: ['by', 'disc'],
        rows: [
          ['Holtzapffel’s worker', shown(found.worked, 2)],
          ['equal areas', shown(found.equalArea, 2)],
          ['gathered, r 1', shown(found.gathered, 2)],
        ],
      },
    ],
    pictures: [],
    verdict: [
      `A corner ${shown(BOX.corner / BOX.sheet, 2)} times as thick is within what the law calls gathering evenly for every hand that shrinks more than the sheet does by itself, at its limit for the sheet’s own (${shown(own.thickest, 2)}), and beyond it for one that stretches. A hand that only shrinks has to leave ${shown(corners[0]!.asked, 2)} of the rim’s length for it, the sheet’s own ${shown(own.asked, 2)}. So the report is a bound: the law must not refuse such a corner to a hand that shrinks, and does not. More the report does not tell.`,
      `The ball was stretched: its worker kept ${shown(100 * found.kept, 0)} % of the thickness, while gathering needs a disc ${shown(found.gathered - found.worked, 2)} in larger. No solve tells which of the two a hand will do; a trial corner does.`,
    ],
    sources: [
      '“More on thickness vs circumference”, a post of 2011 in a metal-shaping forum (allmetalshaping.com, post 32100): read; one person’s figure, no sizes.',
      'C. Holtzapffel, Turning and Mechanical Manipulation (Circular works spun in the lathe, part 2): read.',
    ],
  };
}
