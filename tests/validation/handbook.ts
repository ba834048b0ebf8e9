/** The program against the rules of handbooks. */
import { neutralFactor } from '../../src/material/neutralFactor.ts';
import { boxTray, DEEP_BOXES, partArea, solvedBox, tschaetsch, tschaetschArea } from '../support/drawnBox.ts';
import { meanRimRadius } from '../support/measures.ts';
import { planarIsotropic, roundPan, solveSpec } from '../support/trays.ts';
import { type Section, shown, signed } from './section.ts';

const SHEETS = [
  ['keeps its thickness (r 50)', planarIsotropic(50, 0.4)],
  ['r 1.8, n 0.22', planarIsotropic(1.8, 0.22)],
] as const;

export const boxes = () =>
  [...DEEP_BOXES, { r: 20, h: 20, a: 260, b: 160 }].flatMap((box) =>
    SHEETS.map(([sheet, law]) => ({
      box,
      sheet,
      rule: tschaetsch(box),
      area: tschaetschArea(box) / partArea(box),
      found: solvedBox(box, solveSpec(boxTray(box), law)),
    })),
  );

/** Disc of a hollow ball in inches: Holtzapffel's, by equal areas, and gathered. */
export function ball() {
  const radius = 3 * 25.4;
  const gathered = (r: number): number =>
    (2 *
      meanRimRadius(
        solveSpec(roundPan(2 * radius, { bottomRadius: radius, height: radius }), planarIsotropic(r, 0.2)),
      )) /
    25.4;
  return { worked: 7.5, equalArea: 6 * Math.SQRT2, gathered: gathered(1), kept: (3.75 / 3) ** 2 / 2 };
}

export function handbook(): Section {
  const [T, R] = [1, 2];
  return {
    id: 'handbook',
    title: 'Rules of handbooks',
    about: [
      'A rule for drawn boxes assumes that the sheet keeps its thickness, so the program is asked for a sheet that does (a very large r) and for one that is sold.',
    ],
    tables: [
      {
        caption:
          'Rectangular boxes, plan radius = bottom radius r, straight wall h, straight sides a and b (neutral surface): corner radius and side lengths of the blank by the rule, and what the program has more, mm; blank over the part’s own area',
        head: [
          'r, h, a × b',
          'sheet',
          'corner',
          'side a',
          'side b',
          'program',
          '',
          '',
          'area by rule',
          'by program',
        ],
        rows: boxes().map(({ box, sheet, rule, area, found }) => [
          `${box.r}, ${box.h}, ${box.a} × ${box.b}`,
          sheet,
          shown(rule.R1, 2),
          shown(rule.Ha, 2),
          shown(rule.Hb, 2),
          signed(found.corner - rule.R1, 2),
          signed(found.Ha - rule.Ha, 2),
          signed(found.Hb - rule.Hb, 2),
          shown(area, 3),
          shown(found.area / partArea(box), 3),
        ]),
      },
      {
        caption: `Length of a right-angled bend, thickness ${T}, inside radius ${R}, mm`,
        head: ['rule', 'length'],
        rows: [
          ['Machinery’s Handbook, soft brass and copper, 0.55 T + 1.57 R', shown(0.55 * T + 1.57 * R, 2)],
          ['Machinery’s Handbook, soft steel and aluminium, 0.64 T + 1.57 R', shown(0.64 * T + 1.57 * R, 2)],
          ['Machinery’s Handbook, hard metals, 0.71 T + 1.57 R', shown(0.71 * T + 1.57 * R, 2)],
          ['the program (DIN 6935)', shown((Math.PI / 2) * (R + (neutralFactor(R, T) * T) / 2), 2)],
        ],
      },
    ],
    pictures: [],
    verdict: [
      'A sheet that keeps its thickness agrees with the rule: area within 0.5 %, corner and sides within the 5 % that arcs and steps leave open.',
      'Sheet as it is sold thickens at gathered corners, so its blank is larger there than the rule’s: the rule is for a box that is drawn over a punch under a holder, see the drawn cup below.',
      'Bends agree within the 0.1 mm by which the handbooks differ among themselves.',
    ],
    sources: [
      'H. Tschätsch, Metal Forming Practice (Springer 2006), section 14.4.3.1, p. 149: an excerpt read, in a copy that had lost some signs; case 1 only.',
      'Machinery’s Handbook, 31st ed., p. 1421, equations 32 to 34: an excerpt read.',
      'DIN 6935: not read; its formula as quoted in public notes.',
    ],
  };
}
