/**
 * A solid that was made elsewhere: a tray file where it is the solid of one, else solved as it is. What a solid does
 * not say comes from the tray on the page.
 */
import { createHash } from 'node:crypto';
import type { LengthUnit } from '../papers/lengths.ts';
import { flatPatternOf } from '../pattern/developed.ts';
import type { Developed, FlatPattern } from '../pattern/flatPattern.ts';
import { type OcctThread, occtThread } from '../step/occt/occtThread.ts';
import { readStepTray, type StepTray } from '../step/readStepTray.ts';
import { readTray } from '../tray/readTray.ts';
import { inUnits } from '../tray/writtenTray.ts';
import { developForFiles } from './develop.ts';
import { formedSvg } from './formedPicture.ts';
import type { Base, Read, ThreadLimits } from './jobs.ts';
import { preview } from './preview.ts';

const keyOf = (bytes: Uint8Array, name: string, base: Base): string =>
  createHash('sha256')
    .update(bytes)
    .update(JSON.stringify([name, base]))
    .digest('hex');

/** Reads solids in a kernel of its own, and keeps the part that was solved last: whoever looks at it takes its files next. */
export class Solids {
  private readonly occt: OcctThread;
  private last: { readonly key: string; readonly pattern: Developed } | null = null;

  /**
   * The kernel's time is shorter than that of the job, so that the sentence is about the file and the thread stays.
   * Its memory is apart from that of the thread that asks, so that too large a part ends the kernel and nothing else.
   */
  constructor({ jobTime }: ThreadLimits) {
    this.occt = occtThread({ timeLimit: 0.8 * jobTime, occtMemory: 1024, threadMemory: 512 });
  }

  /**
   * @param name for the tray
   * @param unit of lengths in what is said of a part
   * @throws GatherpanError when the solid is not one sheet, or what comes from `base` is not acceptable
   */
  async read(bytes: Uint8Array, name: string, base: Base, unit: LengthUnit): Promise<Read> {
    const read = await this.solved(bytes, name, base);
    return read.kind === 'tray'
      ? { kind: 'solid', tray: read.spec, notes: read.notes }
      : { kind: 'part', preview: preview(read.pattern, { unit, formed: formedSvg }) };
  }

  /** The flat pattern of a solid, for files. @throws GatherpanError as `read`, NO_FLAT where there is none */
  async forFiles(bytes: Uint8Array, name: string, base: Base): Promise<FlatPattern> {
    if (this.last?.key === keyOf(bytes, name, base)) return flatPatternOf(this.last.pattern);
    const read = await this.solved(bytes, name, base);
    return read.kind === 'tray' ? developForFiles(read.spec) : flatPatternOf(read.pattern);
  }

  private async solved(bytes: Uint8Array, name: string, base: Base): Promise<StepTray> {
    const { sheet, forming, cut } = inUnits(base, 'mm') as Readonly<
      Record<string, Readonly<Record<string, unknown>> | undefined>
    >;
    // A tray large enough for any sheet: only what is said of sheet, trim and cut is of interest in it.
    const said = readTray({
      name,
      plan: { length: 1500, width: 1500, cornerRadius: 400 },
      section: { bottomRadius: 200, height: 300 },
      sheet: { material: 'DC04', thickness: 1, ...sheet },
      ...(typeof forming?.trim === 'number' ? { forming: { trim: forming.trim } } : {}),
      ...(cut === undefined ? {} : { cut }),
    });
    const read = await readStepTray(
      bytes,
      {
        name,
        material: said.sheet.material,
        grain: said.sheet.grain,
        surfaceThickness: sheet?.thickness === undefined ? undefined : said.sheet.thickness,
        trim: said.forming.trim,
        cut: said.cut,
      },
      this.occt,
    );
    this.last = read.kind === 'pattern' ? { key: keyOf(bytes, name, base), pattern: read.pattern } : null;
    return read;
  }
}
