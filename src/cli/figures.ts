/** The figures of a solved tray: for a person as lines, for a program as plain data. */
import type { CornerReport, FlatPattern, Report } from '../pattern/flatPattern.ts';

/** What `--json` gives of a tray: the report without the name and the long lists of vertices. */
export type Figures = Omit<Report, 'name' | 'rim' | 'outline'>;

export function figures({ report }: FlatPattern): Figures {
  const { name: _name, rim: _rim, outline: _outline, ...rest } = report;
  return rest;
}

/** The figures that matter at the bench, one thing a line, each line indented and ended. */
export function figureLines({ report }: FlatPattern): string {
  const { blank, developed, corners, thickness, sheet } = report;
  const lines = [
    ['sheet', `${sheet.material}, ${sheet.thickness.toFixed(2)} mm, grain ${sheet.grain} degrees`],
    [
      'blank',
      `${mm(blank.length)} x ${mm(blank.width)} mm, ${(blank.area / 1e6).toFixed(4)} m², ${blank.mass.toFixed(3)} kg`,
    ],
    ['cut', `${(blank.cutLength / 1000).toFixed(3)} m in ${blank.segments} lines and arcs`],
    ...developedLines(developed),
    ...cornerLines(corners, (corner) =>
      [
        `rim to lose ${mm(corner.rimToLose)} mm`,
        `gather ${corner.peakGather.toFixed(1)} %`,
        `stretch ${corner.peakStretch.toFixed(1)} %`,
        `${corner.thinnest.toFixed(2)} to ${corner.thickest.toFixed(2)} mm thick`,
      ].join(', '),
    ),
    ...cornerLines(
      corners,
      (corner) =>
        `flat radius ${mm(corner.flatCornerRadius)} mm (equal area ${mm(corner.equalAreaCornerRadius)}, arc length ${mm(corner.arcLengthCornerRadius)})`,
    ),
    ['thickness', `${thickness.min.toFixed(2)} to ${thickness.max.toFixed(2)} mm`],
  ];
  return lines.map(([title, text]) => `  ${title!.padEnd(10)} ${text}\n`).join('');
}

/** Only a rectangle has a middle of its sides to measure at. */
function developedLines({ alongLength, alongWidth }: Report['developed']): string[][] {
  if (alongLength === null || alongWidth === null) return [];
  return [['developed', `${mm(alongLength)} mm along the length, ${mm(alongWidth)} mm along the width`]];
}

/** What there is to say of each corner, equal ones on one line. */
function cornerLines(corners: readonly CornerReport[], text: (corner: CornerReport) => string): string[][] {
  const groups = new Map<string, number[]>();
  for (const corner of corners) {
    groups.set(text(corner), [...(groups.get(text(corner)) ?? []), corner.index]);
  }
  return [...groups].map(([words, numbers]) =>
    groups.size === 1 && numbers.length > 1
      ? ['corners', `each ${words}`]
      : [numbers.length > 1 ? 'corners' : 'corner', `${numbers.join(', ')}: ${words}`],
  );
}

const mm = (length: number): string => length.toFixed(1);
