/** The tallest wall with which a refused tray would still work, for the sentence that refuses it. */
import { GatherpanError } from '../errors.ts';
import { turnedAngle } from '../tray/planLoop.ts';
import { lipAngle } from '../tray/section.ts';
import type { TraySpec } from '../tray/spec.ts';

/** Heights tried; each halves what is left to know. */
const TRIES = 5;
/** Times a height is lowered by a tenth when the full solve does not agree. */
const LOWERED = 4;

/**
 * The largest height, rounded down to whole mm (or tenths below 10 mm), with which `works` accepts the tray, or
 * null when none of those tried does.
 *
 * @param works  solves a tray quickly and says whether that went well; errors other than the project's own pass
 *               through
 * @param surely the same at full accuracy: what the quick look finds is lowered until this agrees
 */
export function largestHeight(
  spec: TraySpec,
  works: (spec: TraySpec) => boolean,
  surely: (spec: TraySpec) => boolean,
): number | null {
  let low = leastHeight(spec);
  let high = spec.section.height;
  let found: number | null = null;
  for (let k = 0; k < TRIES; k++) {
    const height = rounded((low + high) / 2);
    if (height <= low || height >= high) break;
    if (succeeds(works, withHeight(spec, height))) {
      found = height;
      low = height;
    } else {
      high = height;
    }
  }
  for (let k = 0; found !== null && k < LOWERED; k++) {
    if (succeeds(surely, withHeight(spec, found))) return found;
    const lower = rounded(0.9 * found);
    found = lower > leastHeight(spec) ? lower : null;
  }
  return null;
}

const rounded = (height: number): number => (height < 10 ? Math.floor(height * 10) / 10 : Math.floor(height));

function succeeds(works: (spec: TraySpec) => boolean, spec: TraySpec): boolean {
  try {
    return works(spec);
  } catch (error) {
    if (error instanceof GatherpanError) return false;
    throw error;
  }
}

/** Height of a tray without a straight wall. */
function leastHeight(spec: TraySpec): number {
  const { bottomRadius, draft, rim } = spec.section;
  const angle = turnedAngle(draft);
  let straight = bottomRadius * Math.tan(angle / 2);
  if (rim.kind === 'lip') straight += rim.bendRadius * Math.tan(lipAngle(spec, rim) / 2);
  return straight * Math.sin(angle);
}

/** The same tray with another largest height; heights by side are cut down to it. */
function withHeight(spec: TraySpec, height: number): TraySpec {
  const { heights, ...section } = spec.section;
  return {
    ...spec,
    section: {
      ...section,
      height,
      ...(heights === undefined ? {} : { heights: heights.map((own) => Math.min(own, height)) }),
    },
  };
}
