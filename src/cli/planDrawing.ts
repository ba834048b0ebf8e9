/** The drawing that a tray file takes its plan from. */
import { resolve } from 'node:path';
import { MAXIMUM_DRAWING_SIZE } from '../dxf/records.ts';
import { GatherpanError } from '../errors.ts';
import { DRAWING_UNITS } from '../tray/planSchema.ts';
import { words } from '../words/language.ts';
import { withOpenFile } from './files.ts';

/** What may be said on the command line of drawings that do not say it themselves. */
export interface DrawingOptions {
  /** Unit of a drawing that names none. */
  readonly units?: string;
}

/**
 * The tray with the unit of its drawing, where the command line gives one with `--units`.
 *
 * @throws GatherpanError BAD_INPUT when it is no unit, or the tray has no drawing or says another unit
 */
export function withDrawingUnit(tray: unknown, unit: string | undefined): unknown {
  if (unit === undefined) return tray;
  const said = words().messages.cli;
  if (!(DRAWING_UNITS as readonly string[]).includes(unit)) {
    throw new GatherpanError('BAD_INPUT', said.unitUnknown(JSON.stringify(unit), DRAWING_UNITS.join(', ')));
  }
  const plan = (tray as { plan?: { dxf?: unknown; units?: unknown } } | null)?.plan;
  if (typeof plan?.dxf !== 'string') throw new GatherpanError('BAD_INPUT', said.unitWithoutDrawing);
  if (plan.units !== undefined && plan.units !== unit) {
    throw new GatherpanError('BAD_INPUT', {
      path: 'plan.units',
      message: said.unitTwice(JSON.stringify(unit), JSON.stringify(plan.units)),
    });
  }
  return { ...(tray as object), plan: { ...plan, units: unit } };
}

/**
 * What `readTray` wants as `planDxf`, for a tray file that names a drawing; undefined for one that names none.
 *
 * @param tray   what `parseTray` returned
 * @param folder of the tray file; the drawing's path starts there
 */
export async function planDrawing(
  tray: unknown,
  folder: string,
): Promise<((path: string) => string) | undefined> {
  const path = (tray as { plan?: { dxf?: unknown } } | null)?.plan?.dxf;
  if (typeof path !== 'string') return undefined;
  try {
    const text = await drawingText(resolve(folder, path));
    return () => text;
  } catch (error) {
    return () => {
      throw error;
    };
  }
}

/** Letters that are not UTF-8, as in drawings of old, only ever stand in texts, which no plan needs. */
const drawingText = (path: string): Promise<string> =>
  withOpenFile(path, async (handle, found) => {
    if (!found.isFile()) throw new GatherpanError('BAD_INPUT', words().messages.cli.drawingNoFile);
    if (found.size > MAXIMUM_DRAWING_SIZE) {
      throw new GatherpanError(
        'TOO_LARGE',
        words().messages.cli.drawingTooLarge(
          (found.size / 1e6).toFixed(1),
          String(MAXIMUM_DRAWING_SIZE / 1e6),
        ),
      );
    }
    return new TextDecoder('utf-8').decode(await handle.readFile());
  });
