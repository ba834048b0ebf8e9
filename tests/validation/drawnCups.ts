/** Cups drawn in presses, with measured rims: what a gather that nothing pulls on can say of them. */

import { CUP, type CupFit, fitCup, fourEars, gatheredThickness, LAWS, MEASURED } from './esaformCup.ts';
import { chart, type Section, STROKES, shown, signed } from './section.ts';
import { drawnSquare, SAID, SHEETS } from './squareCup.ts';

export const cupFits = (accuracy?: number): CupFit[] =>
  (Object.keys(LAWS) as (keyof typeof LAWS)[]).flatMap((law) =>
    (law.endsWith('second laboratory') ? (['size'] as const) : (['size', 'spread', 'hand'] as const)).map(
      (fitted) => fitCup(law, fitted, accuracy),
    ),
  );

const told = ({ fitted, value }: CupFit): string =>
  fitted === 'size'
    ? `blank ${shown(value, 3)} times the real one`
    : fitted === 'spread'
      ? `spread ${shown(value, 0)} %`
      : `hand ${shown(value, 2)}`;

export function roundCup(): Section {
  const fits = cupFits();
  const measured = MEASURED.map(([, height]) => height);
  const mean = measured.reduce((sum, height) => sum + height, 0) / measured.length;
  const even = Math.sqrt(measured.reduce((sum, height) => sum + (height - mean) ** 2, 0) / measured.length);
  const ears = fourEars(measured);
  const area = Math.sqrt(equalAreaSquare(mean));
  const by = (law: CupFit['law']): CupFit => fits.find((fit) => fit.law === law && fit.fitted === 'size')!;
  const line = (fit: CupFit): (readonly [number, number])[] =>
    fit.heights.map((height, i) => [MEASURED[i]![0], height] as const);
  return {
    id: 'round-cup',
    title: 'A round cup: ESAFORM 2021, AA6016-T4',
    about: [
      `Blank of ${2 * CUP.blankRadius} drawn over a punch of ${CUP.punch} with a nose of ${CUP.nose}, sheet of ${CUP.thickness} mm; the height of the rim was measured all round, taken here as from the outside of the bottom. Nothing of the press is in the program, so one number is fitted to the mean of the 24 heights, in three ways; the 24 heights about their mean are then foretold, by the quadratic law, which knows the r-values alone, and by the one with strengths.`,
      `Measured: mean ${shown(mean, 2)}, wave of four ears of ±${shown(ears.amplitude, 2)} with a crest at ${shown(ears.crest, 0)}° from the rolling direction. A level rim would be off by ${shown(even, 2)} (root mean square). By equal areas the blank for the mean height has a radius of ${shown(area, 2)}; it had ${shown(CUP.blankRadius, 2)}.`,
    ],
    tables: [
      {
        caption: 'What is foretold of the 24 heights once one number is fitted to their mean, mm',
        head: ['law', 'fitted', 'off, root mean square', 'off, most', 'four ears', 'crest'],
        rows: fits.map((fit) => [
          fit.law,
          told(fit),
          shown(fit.off, 2),
          shown(fit.most, 2),
          `±${shown(fit.ears.amplitude, 2)}`,
          fit.ears.amplitude > 0.1 ? `${shown(fit.ears.crest, 0)}°` : '–',
        ]),
      },
      {
        caption: 'Heights with the size of the blank fitted, mm',
        head: ['direction', 'measured', ...(['quadratic', 'with strengths'] as const)],
        rows: MEASURED.map(([direction, height], i) => [
          `${shown(direction, 0)}°`,
          shown(height, 2),
          shown(by('quadratic').heights[i]!, 2),
          shown(by('with strengths').heights[i]!, 2),
        ]),
      },
    ],
    pictures: [
      chart(
        'Height of the rim over direction',
        { name: 'degrees from the rolling direction', from: 0, to: 360, every: 45 },
        'height, mm',
        [
          { name: 'measured', points: MEASURED, line: null },
          { name: 'quadratic law', points: line(by('quadratic')), line: STROKES[0]! },
          { name: 'with strengths', points: line(by('with strengths')), line: STROKES[1]! },
        ],
      ),
    ],
    verdict: [
      `Does not agree: the size. A gather without any pull needs a blank ${shown(100 * (by('quadratic').value - 1), 0)} to ${shown(100 * (by('with strengths').value - 1), 0)} % larger than the press did, and would be ${shown(gatheredThickness('quadratic', mean), 1)} mm thick at the rim. In the press friction and the holder pull the wall up while it is drawn, and the gap of ${shown((CUP.dieOpening - CUP.punch) / 2, 1)} mm between punch and die irons what gets thicker than that; on the mean its metal is only ${shown(100 * ((CUP.blankRadius / area) ** 2 - 1), 1)} % thicker than the sheet. Nothing of that stands at the bench.`,
      `Agrees in half: the ears. By the quadratic law they stand where they were measured but ${shown(by('quadratic').ears.amplitude / ears.amplitude, 1)} times too high (${shown(by('quadratic, second laboratory').ears.amplitude / ears.amplitude, 1)} times with the r-values of the second laboratory). The law with strengths, fitted to the sheet’s r-values and strengths alike, makes a rim that is nearly level, with ${shown(by('with strengths').ears.amplitude / ears.amplitude, 1)} times the ears: it is as good as a level rim (off by ${shown(by('with strengths').off, 2)} against ${shown(even, 2)} mm) and no better. The truth lies between the two laws, so what an answer says of the grain is known within the difference between them.`,
      'A hand cannot stand in for the press: stretched to reach the height it distorts the ears, by the quadratic law it makes them many times too high and by the one with strengths it turns them by 45°. Fit a hand to gathered corners only.',
    ],
    sources: [
      'A. M. Habraken et al., Analysis of ESAFORM 2021 cup drawing benchmark of an Al alloy, critical factors for accuracy and efficiency of FE simulations, Int. J. Material Forming 15 (2022), doi 10.1007/s12289-022-01672-w: abstract read; sizes of the press, the sheet of two laboratories and the heights of figure 91 (digitised) read in the data of the public repository PolyN.',
      'M. C. Oliveira et al., ESAFORM 2021 cup drawing benchmark of an Al alloy: critical follow up analysis of its potentials, Materials Research Proceedings 28 (2023) 1491, doi 10.21741/9781644902479-161: abstract read: it takes up the forces of ironing.',
    ],
  };
}

/** Square of the blank's radius for the cup's height outside, by equal areas on the middle of the sheet. */
function equalAreaSquare(height: number): number {
  const wall = (CUP.punch + CUP.thickness) / 2;
  const bend = CUP.nose + CUP.thickness / 2;
  const high = height - CUP.thickness / 2;
  return wall ** 2 + 2 * wall * high - (4 - Math.PI) * bend * wall - (Math.PI - 3) * bend ** 2;
}

export interface SquareFineness {
  readonly around: number;
  readonly out: number;
  readonly stepsPerMillimetre: number;
}

export function squareCup({ around, out, stepsPerMillimetre }: SquareFineness): Section {
  const rows = (Object.keys(SHEETS) as (keyof typeof SHEETS)[]).flatMap((sheet) =>
    ([15, 40] as const).map((travel) => ({
      sheet,
      travel,
      ...drawnSquare(sheet, travel, Math.round(travel * stepsPerMillimetre), around, out),
    })),
  );
  return {
    id: 'square-cup',
    title: 'A square cup with its flange: NUMISHEET’93',
    about: [
      'A blank of 150 × 150 is drawn over a square punch of 70 (corners 10, nose 8, die radius 5) with its flange left on, and the edge comes in: at the middle of a side and along the diagonal. The program solves for the blank of a given rim; a flange of whatever width a given blank leaves is asked of the forward judge, in one step (which is the program’s) and in many, without friction and with a holder that only keeps the flange level.',
      'The measured figures were seen second-hand only, as those of an aluminium alloy, and nearly the same are remembered as those of mild steel. They stand beside ours for what they are worth and are no test.',
    ],
    tables: [
      {
        caption: 'How far the edge comes in, mm',
        head: ['sheet', 'travel', 'side, one step', 'many', 'said', 'diagonal, one step', 'many', 'said'],
        rows: rows.map(({ sheet, travel, oneStep, manySteps }) => [
          sheet,
          shown(travel, 0),
          shown(oneStep.side, 1),
          shown(manySteps.side, 1),
          shown(SAID[travel].side, 1),
          shown(oneStep.diagonal, 1),
          shown(manySteps.diagonal, 1),
          shown(SAID[travel].diagonal, 1),
        ]),
      },
    ],
    pictures: [],
    verdict: [
      `Without friction the edge comes in farther than said everywhere, as it must: friction and the holder’s 19.6 kN keep metal back, and the punch stretches it instead. At full travel the sides come in ${signed(rows[1]!.manySteps.side - SAID[40].side, 1)} mm more in many steps and ${signed(rows[1]!.oneStep.side - SAID[40].side, 1)} mm in one. The order of side and diagonal is right, and the alloy hardly matters, so the doubt about it does not either; what friction does, this comparison cannot tell from what the path does.`,
      'The round cup of NUMISHEET’99 (drawing ratio 2.0, draw-in of 27.5 to 32 mm over direction, second-hand) is left out: its sizes were not read, and without them there is nothing to solve.',
    ],
    sources: [
      'A second measured cup, of AA6022-T4 (S. Tian et al., Int. J. Material Forming 10 (2017) 329, doi 10.1007/s12289-016-1282-y; abstract read, heights and r-values seen in PolyN), is left out: the sizes of its press were not found. No box and no shrink flange with measured thickness or outline was found that could be read.',
      'A. Makinouchi et al. (eds), Proc. NUMISHEET’93, Isehara 1993: not read. Sizes and sheets from memory; draw-ins second-hand from a general text on forming.',
    ],
  };
}
