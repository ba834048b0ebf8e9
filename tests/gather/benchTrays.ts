/** Trays of a nursery's potting bench for the tests of the gather. */
import type { TraySpec } from '../../src/tray/spec.ts';

interface Differences {
  readonly plan?: TraySpec['plan'];
  readonly section?: Partial<TraySpec['section']>;
  readonly sheet?: Partial<TraySpec['sheet']>;
  readonly forming?: Partial<TraySpec['forming']>;
}

/** A small tray with corners that gather a good deal, and what is said to differ. */
export function benchTray(differences: Differences = {}): TraySpec {
  return {
    name: 'cutting-drip-tray',
    measured: 'outside',
    plan: differences.plan ?? { length: 320, width: 240, cornerRadius: 30 },
    section: { bottomRadius: 15, height: 35, draft: 0, rim: { kind: 'plain' }, ...differences.section },
    sheet: { material: 'DC04', thickness: 1, grain: 0, ...differences.sheet },
    forming: { trim: 3, ...differences.forming },
    cut: { process: 'laser', kerf: 0.2, compensate: false },
  };
}

/** A sheet that is alike in all directions of its plane, otherwise about as mild steel. */
export const EVEN_SHEET = {
  name: 'even steel',
  K: 520,
  epsilon0: 0.004,
  n: 0.22,
  r0: 1,
  r45: 1,
  r90: 1,
  density: 7.85,
  youngsModulus: 210_000,
  yieldStrength: 160,
  tensileStrength: 310,
  uniformElongation: 22,
} as const;

/** A round tray without trim, as high as it says: a square plan with corners of half its width. */
export const roundTraySpec = (diameter: number, bottomRadius: number, height: number): TraySpec =>
  benchTray({
    plan: { length: diameter, width: diameter, cornerRadius: diameter / 2 },
    section: { bottomRadius, height },
    sheet: { material: EVEN_SHEET },
    forming: { trim: 0 },
  });
