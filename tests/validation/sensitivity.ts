/** What a wrong figure costs: blank radius of a corner against everything a person states or measures. */
import { growthOf, ownHand, workedMaterial } from '../../src/gather/hand.ts';
import type { LawParameters, Strengths } from '../../src/material/law.ts';
import { findSheet } from '../../src/material/sheets.ts';
import type { TraySolution } from '../../src/solve/solveTray.ts';
import { rimPoints } from '../support/measures.ts';
import { rectangle, refined, solveSpec } from '../support/trays.ts';
import { type Section, shown, signed } from './section.ts';

const TRAY = { length: 300, width: 220, corner: 45, bottom: 22, height: 45, thickness: 1.2 } as const;

/** Distance of the rim from the centre of the corner's arc, along the diagonal, mm. */
function cornerRadius(solution: TraySolution): number {
  const [x, y] = [TRAY.length / 2 - TRAY.corner, TRAY.width / 2 - TRAY.corner];
  const from = rimPoints(solution).map(([px, py]) => [px - x, py - y] as const);
  const next = from.findIndex(([px, py]) => py > px);
  const [[ax, ay], [bx, by]] = [from[next - 1]!, from[next]!];
  const share = (ax - ay) / (ax - ay - (bx - by));
  return Math.SQRT2 * (ax + share * (bx - ax));
}

type Sheet = LawParameters & { readonly strengths: Strengths };

interface Changed {
  readonly thickness?: number;
  readonly hand?: number;
  readonly spread?: number;
  /** By so much, mm. */
  readonly higher?: number;
}

type Radius = (sheet: LawParameters, changed?: Changed) => number;

/** Blank radius of the tray's corner on meshes refined so often, so that changes are those of the figure alone. */
const radiusBy =
  (refinements: number): Radius =>
  (sheet, { thickness = TRAY.thickness, hand, spread = 0, higher = 0 } = {}) => {
    const tray = rectangle(TRAY.length, TRAY.width, TRAY.corner, {
      bottomRadius: TRAY.bottom,
      height: TRAY.height + higher,
      thickness,
      measured: 'outside',
    });
    const options = { ...refined(refinements), growth: growthOf(spread) };
    return cornerRadius(solveSpec(tray, workedMaterial(sheet, hand), options));
  };

export interface Sensitivity {
  readonly what: string;
  /** How far it is commonly off. */
  readonly off: string;
  /** Change of the radius when it is so much more, and so much less, mm. */
  readonly more: number;
  readonly less: number;
}

/** A sheet of the table; where none of its strengths is known they are taken as equal. */
function sheetNamed(name: string): Sheet {
  const sheet = findSheet(name);
  return { ...sheet, strengths: sheet.strengths ?? { exponent: 6, at45: 1, at90: 1 } };
}

export function sensitivities(name: string, refinements = 2) {
  const radiusOf = radiusBy(refinements);
  const sheet = sheetNamed(name);
  const { strengths } = sheet;
  const own = ownHand(sheet);
  const radius = radiusOf(sheet);
  const row = (what: string, off: string, at: (sign: 1 | -1) => number): Sensitivity => ({
    what,
    off,
    more: at(1) - radius,
    less: at(-1) - radius,
  });
  const rows: readonly Sensitivity[] = [
    row('r in all directions', '10 %', (sign) => {
      const factor = 1 + 0.1 * sign;
      return radiusOf({ ...sheet, r0: factor * sheet.r0, r45: factor * sheet.r45, r90: factor * sheet.r90 });
    }),
    row('strength at 45°', '2 %', (sign) =>
      radiusOf({ ...sheet, strengths: { ...strengths, at45: strengths.at45 * (1 + 0.02 * sign) } }),
    ),
    row('n', '0.03', (sign) => radiusOf({ ...sheet, n: sheet.n + 0.03 * sign })),
    row('hand', '0.1', (sign) => radiusOf(sheet, { hand: own + 0.1 * sign })),
    row('spread', '1 % of area', (sign) => radiusOf(sheet, { spread: sign })),
    row('thickness, sizes outside', '0.05 mm', (sign) =>
      radiusOf(sheet, { thickness: TRAY.thickness + 0.05 * sign }),
    ),
  ];
  const { strengths: _, ...quadratic } = sheet;
  return {
    radius,
    rows,
    /** Change of the radius with the quadratic law in place of the one with strengths, and for a rim so much lower, mm. */
    quadratic: radiusOf(quadratic) - radius,
    lower: (by: number): number => radiusOf(sheet, { higher: -by }) - radius,
  };
}

const SHEETS = ['DC04', '5754-O'] as const;

/** @param path by how much the corner of the everyday tray comes out higher in many steps, mm */
export function sensitivity(path: number): Section {
  const found = SHEETS.map((name) => ({ name, ...sensitivities(name) }));
  return {
    id: 'sensitivity',
    title: 'What a wrong figure costs',
    about: [
      `Blank radius at the corner of a tray of ${TRAY.length} × ${TRAY.width}, corner radius ${TRAY.corner}, bottom radius ${TRAY.bottom}, height ${TRAY.height}, outside, of ${TRAY.thickness} mm sheet with the grain along its length, on the diagonal. One figure is changed at a time by as much as it is commonly off.`,
    ],
    tables: found.map(({ name, radius, rows, quadratic, lower }) => ({
      caption: `${name}: ${shown(radius, 2)} mm${name === 'DC04' ? ' (its strengths, which are not known, taken as equal)' : ''}; change of the radius, mm`,
      head: ['figure', 'off by', 'when more', 'when less'],
      rows: [
        ...rows.map(({ what, off, more, less }) => [what, off, signed(more, 2), signed(less, 2)]),
        ['strengths', 'left out: quadratic law', signed(quadratic, 2), ''],
        ['way of working', 'walls swung up evenly', signed(lower(path), 2), ''],
      ],
    })),
    pictures: [],
    verdict: [
      'What pays is a trial corner, which measures hand and spread. After them come r and the strength at 45°, which matter by a fifth of that each; n and thickness hardly count.',
      `The way of working counts more than any of them: the last row is what a rim is worth that comes out ${shown(path, 1)} mm higher, as the everyday tray of the forward judge does when its walls are swung up evenly. A trial corner worked as the tray will be takes that in as well, in the middle of the corner.`,
    ],
    sources: ['How far each figure is off: common practice, no source.'],
  };
}
