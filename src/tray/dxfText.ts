/**
 * From the text of a DXF file to its entities.
 *
 * The package dxf-parser reads them; what it stumbles over is dealt with before: counts and ends that it
 * trusts, and vertex numbers after which it stops reading a polyline.
 */
import dxfParser, { type IEntity } from 'dxf-parser';
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';

/** The package's types promise a named export; what it exports at run time is the class itself. */
const DxfParser = dxfParser as unknown as typeof dxfParser.DxfParser;

/** Size of a drawing, characters. */
export const MAXIMUM_DRAWING_SIZE = 8_000_000;

export interface Drawing {
  /** `$INSUNITS`, 0 when there is none. */
  readonly unit: number;
  /** Entities of the model, in the order they are drawn; texts, dimensions and points are left out. */
  readonly entities: readonly IEntity[];
}

/** Entities that show no edges. */
const ANNOTATION: ReadonlySet<string> = new Set(['TEXT', 'MTEXT', 'ATTDEF', 'DIMENSION', 'POINT']);

/**
 * @throws GatherpanError TOO_LARGE, or BAD_INPUT when the text is not DXF; the sentence goes after the name of
 *   the drawing
 */
export function drawingOf(text: string): Drawing {
  if (text.length > MAXIMUM_DRAWING_SIZE) {
    throw new GatherpanError(
      'TOO_LARGE',
      words().messages.tray.drawing.tooLarge(
        (text.length / 1e6).toFixed(1),
        String(MAXIMUM_DRAWING_SIZE / 1e6),
      ),
    );
  }
  const guarded = guardedText(text);
  let document: ReturnType<InstanceType<typeof DxfParser>['parseSync']> = null;
  try {
    document = new DxfParser().parseSync(guarded);
  } catch {
    throw notDxf();
  }
  if (document === null) throw notDxf();
  const unit = document.header?.$INSUNITS;
  return {
    unit: typeof unit === 'number' ? unit : 0,
    entities: (document.entities ?? [])
      .filter((entity) => entity.inPaperSpace !== true && !ANNOTATION.has(entity.type))
      .map((entity) => ({ ...entity, layer: entity.layer ?? '0' })),
  };
}

const notDxf = (): GatherpanError => new GatherpanError('BAD_INPUT', words().messages.tray.drawing.notDxf);

/**
 * The text with what the parser would stumble over taken out.
 *
 * @throws GatherpanError BAD_INPUT where tags are not pairs, or a polyline has no end
 */
function guardedText(text: string): string {
  const lines = text.split(/\r\n|\r|\n/);
  while (lines.at(-1)?.trim() === '') lines.pop();
  if (lines.length < 4 || lines.length % 2 !== 0) throw notDxf();
  const kept: string[] = [];
  let entity = '';
  let inPolyline = false;
  let count = -1;
  let points = 0;
  const endEntity = (): void => {
    // The parser trusts this count.
    if (count >= 0) kept[count] = String(points);
    count = -1;
    points = 0;
  };
  for (let i = 0; i < lines.length; i += 2) {
    const code = lines[i]!.trim();
    const value = lines[i + 1]!.trim();
    if (!/^-?\d{1,4}$/.test(code)) throw notDxf();
    if (code === '0') {
      endEntity();
      if (inPolyline && value !== 'VERTEX' && value !== 'SEQEND') throw notDxf();
      inPolyline = value === 'POLYLINE' || (inPolyline && value === 'VERTEX');
      entity = value;
    }
    if (entity === 'LWPOLYLINE') {
      if (code === '91') continue;
      if (code === '90') count = kept.length + 1;
      if (code === '10') points++;
    }
    kept.push(code, lines[i + 1]!);
  }
  if (inPolyline || entity !== 'EOF') throw notDxf();
  return kept.join('\n');
}
