/** What is scribed on a blank: its bend lines, of which one that cannot be drawn is left out with a warning, and the marks of the rim to lose. */
import type { GatherZone } from '../gather/report.ts';
import { rimMarks } from '../gather/rimMarks.ts';
import type { Path } from '../geometry/path.ts';
import type { SectionLine } from '../mesh/quadraticMesh.ts';
import type { TraySolution } from '../solve/solveTray.ts';
import { type Statement, statement } from '../words/statement.ts';
import { fitSolvedRow } from './fittedLines.ts';
import type { ScribeLine } from './flatPattern.ts';

export interface Scribed {
  readonly scribeLines: readonly ScribeLine[];
  /** On what is left out. */
  readonly warnings: readonly Statement[];
}

/** Lines through solved nodes that are scribed as one kind. */
export interface ScribedNodes {
  readonly kind: 'bend-begin' | 'bend-end';
  readonly lines: readonly Pick<SectionLine, 'nodes' | 'closed'>[];
}

export function scribed(solution: TraySolution, rows: readonly ScribedNodes[]): Scribed {
  const scribeLines: ScribeLine[] = [];
  const missing = new Set<ScribedNodes['kind']>();
  for (const { kind, lines } of rows) {
    const { paths, leftOut } = fitSolvedRow(solution, lines);
    scribeLines.push(...paths.map((path) => ({ kind, path })));
    if (leftOut > 0) missing.add(kind);
  }
  const said = { 'bend-begin': 'pattern.bendBeginLeftOut', 'bend-end': 'pattern.bendEndLeftOut' } as const;
  return { scribeLines, warnings: [...missing].map((kind) => statement(said[kind])) };
}

export const scribedMarks = (zones: readonly GatherZone[], workedRim: Path): ScribeLine[] =>
  rimMarks(zones, workedRim).map((path) => ({ kind: 'rim-mark', path }));
