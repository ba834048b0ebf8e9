/** The solver against solutions of another kind: shells of revolution by shooting, a closed form, finer meshes. */
import type { LawParameters } from '../../src/material/law.ts';
import { JUDGED_SHEET, JUDGED_TRAYS, trayFile } from '../forward/trays.ts';
import { meanRimRadius, rimDistance } from '../support/measures.ts';
import { roundTray, solveShell } from '../support/shellOfRevolution.ts';
import {
  EARING,
  planarIsotropic,
  rectangle,
  refined,
  roundPan,
  shellLaw,
  solveSpec,
} from '../support/trays.ts';
import { type Section, shown, signed } from './section.ts';

const PANS = [
  { name: 'hemisphere of 50', base: 0, bend: 50, height: 50 },
  { name: 'bowl of 25 with a wall to 45', base: 0, bend: 25, height: 45 },
  { name: 'pan of 160, height 50, bottom radius 20', base: 60, bend: 20, height: 50 },
] as const;
const hosford = (exponent: 6 | 8, r: number): LawParameters => ({
  ...planarIsotropic(r, 0.22),
  strengths: { exponent, at45: 1, at90: 1 },
});
const SHEETS: readonly (readonly [string, LawParameters])[] = [
  ['r 1, n 0.2, quadratic', planarIsotropic(1, 0.2)],
  ['r 1.8, n 0.22, quadratic', planarIsotropic(1.8, 0.22)],
  ['r 0.7, n 0.22, exponent 8', hosford(8, 0.7)],
];

/** Flat radius by shooting and by the program as it is set, mm. */
export const shells = () =>
  PANS.flatMap(({ name, base, bend, height }) =>
    SHEETS.map(([sheet, law]) => ({
      name,
      sheet,
      shell: solveShell(shellLaw(law), base, roundTray(base, bend, height)).flatRadius,
      program: meanRimRadius(solveSpec(roundPan(2 * (base + bend), { bottomRadius: bend, height }), law)),
    })),
  );

/** The cylinder gathered over a sharp bottom: in closed form, and from bottom radii of 1 and 0.5. */
export const cylinders = () =>
  (
    [
      [25, 20, 1],
      [25, 20, 1.8],
      [20, 10, 1.8],
      [20, 30, 1],
    ] as const
  ).map(([wall, height, r]) => {
    const m = (1 + 2 * r) / (1 + r);
    const at = (bottomRadius: number): number =>
      meanRimRadius(
        solveSpec(roundPan(2 * wall, { bottomRadius, height }), planarIsotropic(r, 0.2), { accuracy: 1e-3 }),
      );
    return {
      wall,
      height,
      r,
      closed: wall * (1 + (height / wall) * m) ** (1 / m),
      program: 2 * at(0.5) - at(1),
    };
  });

/** Largest distance of the rim as the program is set from that of a mesh refined twice that is finer to begin with. */
export const refinements = () =>
  [
    ...JUDGED_TRAYS.map((sizes) => ({
      name: sizes.name,
      tray: trayFile(sizes),
      sheet: JUDGED_SHEET as LawParameters,
    })),
    {
      name: 'sheet with ears, leaning walls',
      tray: rectangle(420, 280, 45, { bottomRadius: 22, height: 60, draft: 12 }),
      sheet: EARING,
    },
  ].map(({ name, tray, sheet }) => {
    const found = solveSpec(tray, sheet);
    const density = { angle: Math.PI / 9, size: 0.2, growth: 0.2 };
    return {
      name,
      off: rimDistance(found, solveSpec(tray, sheet, { ...refined(2), density })),
      told: found.estimate,
    };
  });

export function numerical(): Section {
  return {
    id: 'numerical',
    title: 'Numerical references',
    about: [
      'Whether the equations are solved rightly: the same sheet and the same shape by methods that share no code with the program. This says nothing yet about metal.',
    ],
    tables: [
      {
        caption:
          'Round parts on their neutral surface: flat radius by the one-dimensional equilibrium (integrated from the pole, bisected until the rim is free) and by the program as it is set, mm',
        head: ['part', 'sheet', 'one-dimensional', 'program', 'difference'],
        rows: shells().map(({ name, sheet, shell, program }) => [
          name,
          sheet,
          shown(shell, 3),
          shown(program, 3),
          signed(program - shell, 3),
        ]),
      },
      {
        caption:
          'Cylinder over a sharp bottom in closed form, R = w·(1 + m·h/w)^(1/m), m = (1 + 2r)/(1 + r), and by the program with bottom radii of 1 and 0.5 extrapolated to none, mm',
        head: ['wall radius', 'height', 'r', 'closed form', 'program', 'difference'],
        rows: cylinders().map(({ wall, height, r, closed, program }) => [
          shown(wall, 0),
          shown(height, 0),
          shown(r, 1),
          shown(closed, 3),
          shown(program, 3),
          signed(program - closed, 3),
        ]),
      },
      {
        caption:
          'Rim as the program is set against a mesh finer by far, largest distance, and what the program says itself, mm',
        head: ['tray', 'off', 'estimate'],
        rows: refinements().map(({ name, off, told }) => [name, shown(off, 3), shown(told, 3)]),
      },
    ],
    pictures: [],
    verdict: ['All within the 0.05 mm that the program promises of its solve.'],
    sources: [
      'Derived; the closed form and the integration are written out in tests/solve and tests/support.',
    ],
  };
}
