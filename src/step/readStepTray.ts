/**
 * A tray from a STEP file: recognised as a tray file where its faces are plan loop × section, unfolded as it is
 * where they are not. Node only; loads the kernel on first use.
 */
import { GatherpanError } from '../errors.ts';
import type { SheetSpec } from '../material/sheetSpec.ts';
import { DEFAULTS } from '../tray/limits.ts';
import { readTray } from '../tray/readTray.ts';
import type { TraySpec } from '../tray/spec.ts';
import { words } from '../words/language.ts';
import { checkExchangeFile } from './exchangeCheck.ts';
import type { DevelopedPart } from './freeForm/developPart.ts';
import { type OcctThread, sharedOcct } from './occt/occtThread.ts';
import type { OcctTask } from './occt/tasks.ts';

/** What a STEP file does not say; everything may be left out. */
export interface StepGiven {
  /** Name for the tray; else the product's, where the file has one that can be used. */
  readonly name?: string | undefined;
  /** Sheet material, DC04 when left out. */
  readonly material?: SheetSpec['material'] | undefined;
  /** Rolling direction, degrees from the plan's x axis. */
  readonly grain?: number | undefined;
  /** Sheet thickness in mm, for a part that is a surface; a solid, which has its own, is refused with it. */
  readonly thickness?: number | undefined;
  /** The same should the part be a surface; of no matter for a solid. */
  readonly surfaceThickness?: number | undefined;
  /** mm, 0 when left out */
  readonly trim?: number | undefined;
  /** Most seconds for the kernel's work; the kernel's own limit when left out. */
  readonly limit?: number | undefined;
  /** How a part solved as it is will be cut: by laser, without compensation, when left out. */
  readonly cut?: TraySpec['cut'] | undefined;
  /** `either` when left out. */
  readonly path?: 'recognise' | 'as it is' | 'either' | undefined;
}

/** A tray file with the tray it says, or what became of a part solved as it is: its pattern, or that it has no flat. */
export type StepTray =
  | {
      readonly kind: 'tray';
      readonly file: Record<string, unknown>;
      readonly spec: TraySpec;
      /** In what the part is another than the tray file says; usually none. */
      readonly notes: readonly string[];
    }
  | { readonly kind: 'pattern'; readonly pattern: DevelopedPart };

export const DEFAULT_MATERIAL = 'DC04';

/**
 * @param bytes  the file; not changed
 * @param kernel the process's own when left out
 * @throws GatherpanError BAD_INPUT or TOO_LARGE for a file that cannot be read, NOT_MAKEABLE for a part that is no
 *   one sheet (with `recognise`: no tray of plan loop × section), TIMEOUT
 */
export async function readStepTray(
  bytes: Uint8Array,
  given: StepGiven = {},
  occt: OcctThread = sharedOcct(),
): Promise<StepTray> {
  checkExchangeFile(bytes);
  const name = given.name ?? productName(bytes) ?? 'tray';
  const asked: OcctTask = {
    kind: 'tray',
    bytes,
    path: given.path ?? 'either',
    surfaceOnly: given.thickness !== undefined,
    given: {
      name,
      material: given.material ?? DEFAULT_MATERIAL,
      grain: given.grain ?? 0,
      thickness: given.thickness ?? given.surfaceThickness ?? null,
      trim: given.trim ?? DEFAULTS.trim,
      cut: given.cut ?? { process: DEFAULTS.process, kerf: DEFAULTS.kerf, compensate: DEFAULTS.compensate },
    },
  };
  const answer = await occt.run(asked, given.limit === undefined ? undefined : 1000 * given.limit);
  if (answer.kind === 'pattern') return answer;
  if (answer.kind !== 'tray' || answer.recognised === null) {
    throw new GatherpanError('NOT_MAKEABLE', words().messages.step.part.notOneSection);
  }
  const { file: found, rimSquared } = answer.recognised;
  const forming = { ...(found.forming as object | undefined), trim: given.trim };
  const file = given.trim === undefined ? found : { ...found, forming };
  const notes = rimSquared ? [words().messages.step.part.rimSquared] : [];
  return { kind: 'tray', file, spec: readTray(file), notes };
}

/** Name of the file's product, made fit for a tray; null when there is none. */
export function productName(bytes: Uint8Array): string | null {
  const head = Buffer.from(bytes.buffer, bytes.byteOffset, Math.min(bytes.length, 200_000)).toString(
    'latin1',
  );
  const match = /=\s*PRODUCT\s*\(\s*'((?:[^']|''){0,400})'/.exec(head);
  if (match === null) return null;
  const name = match[1]!
    .replaceAll("''", "'")
    .replace(/\\X2\\((?:[0-9A-F]{4})*)\\X0\\/g, (_, codes: string) => unicodeText(codes))
    .replace(/\\X\\([0-9A-F]{2})/g, (_, code: string) => unicodeText(`00${code}`))
    .replace(/\p{C}+/gu, ' ')
    .trim();
  return /[\p{L}\p{N}]/u.test(name) ? [...name].slice(0, 80).join('').trim() : null;
}

/** Characters from their codes, four hexadecimal digits each (ISO 10303-21, 6.4.3.3). */
const unicodeText = (codes: string): string =>
  String.fromCharCode(...(codes.match(/.{4}/g) ?? []).map((code) => Number.parseInt(code, 16)));
