/** The bend lines of a blank. One that cannot be drawn is left out with a warning. */
import type { SectionLine } from '../mesh/quadraticMesh.ts';
import type { TraySolution } from '../solve/solveTray.ts';
import { type Statement, statement } from '../words/statement.ts';
import type { ScribeLine } from './flatPattern.ts';
import { fitSolvedRow } from './lines.ts';

export interface Scribed {
  readonly scribeLines: readonly ScribeLine[];
  /** On what is left out. */
  readonly warnings: readonly Statement[];
}

/** Lines through solved nodes that are scribed as one kind. */
export interface ScribedNodes {
  readonly kind: ScribeLine['kind'];
  readonly lines: readonly Pick<SectionLine, 'nodes' | 'closed'>[];
}

export function scribed(solution: TraySolution, rows: readonly ScribedNodes[]): Scribed {
  const scribeLines: ScribeLine[] = [];
  const missing = new Set<ScribeLine['kind']>();
  for (const { kind, lines } of rows) {
    const { paths, leftOut } = fitSolvedRow(solution, lines);
    scribeLines.push(...paths.map((path) => ({ kind, path })));
    if (leftOut > 0) missing.add(kind);
  }
  const said = { 'bend-begin': 'pattern.bendBeginLeftOut', 'bend-end': 'pattern.bendEndLeftOut' } as const;
  return { scribeLines, warnings: [...missing].map((kind) => statement(said[kind])) };
}
