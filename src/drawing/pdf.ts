/**
 * Pictures as the pages of a PDF file, through the library pdfkit.
 *
 * A page is as large as its picture; one mm is 72/25.4 points, so a print at 100 % is true to scale. PDF has no
 * arcs: an arc becomes cubic Bézier pieces of at most 30°, whose distance from the arc is below 4·10⁻⁷ of the
 * radius. The file has no date, so that the same pictures always give the same bytes.
 */
import { GatherpanError } from '../errors.ts';
import { arcOf, pieceCount, pieceEnd } from '../geometry/arc.ts';
import type { Path, Point } from '../geometry/path.ts';
import { MILLIMETRES_PER_INCH } from '../units.ts';
import { words } from '../words/language.ts';
import type { Fonts } from './fonts.ts';
import type { GroupItem, Item, PathItem, Picture, TextItem } from './picture.ts';
import { HALO } from './svg.ts';
import { fontSize, textWidth } from './textWidth.ts';

const POINTS = 72 / MILLIMETRES_PER_INCH;
/** Largest side of a page, points (ISO 32000-1, annex C.2: 14,400 units). */
const LARGEST_PAGE = 14_400;
const LARGEST_BEZIER = Math.PI / 6;

type Document = PDFKit.PDFDocument;

/**
 * Letters at their own widths, as `textWidth` counts them: no kerning, no ligatures. The types of pdfkit know
 * only a list of features to add; what it hands to fontkit may also be a table that switches them off.
 */
export const NO_FEATURES = {
  kern: false,
  liga: false,
  clig: false,
} as unknown as PDFKit.Mixins.OpenTypeFeatures[];

/** Letters that look the same whatever stands beside them: no marks and tones, nothing unseen, no bar of a fraction. */
const APART =
  /^(?:(?![\p{M}\p{Cf}\p{Sk}\u2044])[\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}\p{Script=Common}])*$/u;

/** Whether the letters of a text take no notice of each other once kerning and ligatures are off. */
export const standApart = (text: string): boolean => APART.test(text);

/** The part of a font that lays out a text, as pdfkit has it. */
interface Setting {
  readonly font: { glyphsForString(text: string): readonly { readonly advanceWidth: number }[] };
  /** Thousandths of the em in a unit of the font. */
  readonly scale: number;
  layout(text: string, features?: unknown): unknown;
}

/**
 * Has letters that stand apart set one behind the other. The library asks the font's tables what neighbours do to each
 * other, for every text anew, which took half the time of a page.
 */
function setApart(document: Document): void {
  const setting = (document as unknown as { readonly _font: Setting })._font;
  if (Object.hasOwn(setting, 'layout')) return;
  const shaped = setting.layout;
  setting.layout = (text, features) => {
    if (!standApart(text)) return shaped.call(setting, text, features);
    const glyphs = setting.font.glyphsForString(text);
    const positions = glyphs.map((glyph) => {
      const advanceWidth = glyph.advanceWidth * setting.scale;
      return { xAdvance: advanceWidth, yAdvance: 0, xOffset: 0, yOffset: 0, advanceWidth };
    });
    return { glyphs, positions };
  };
}

/** Where a group stands: p ↦ at + scale·turn(p), in mm on the paper, y up. */
interface Frame {
  readonly x: number;
  readonly y: number;
  readonly scale: number;
  readonly angle: number;
}

/** A document with the typeface that its texts are set in. */
interface Sheet {
  readonly document: Document;
  readonly typeface: string;
}

/**
 * The file's bytes.
 *
 * @param pages are taken one at a time; with a generator no two of them need be there at once
 * @param fonts asked once for each page, with all its letters
 * @throws GatherpanError TOO_LARGE for a page that PDF does not have
 */
export async function pdfBytes(pages: Iterable<Picture>, title: string, fonts: Fonts): Promise<Uint8Array> {
  const { default: PdfDocument } = await import('pdfkit');
  const document = new PdfDocument({
    autoFirstPage: false,
    // Only the fonts below.
    font: '',
    pdfVersion: '1.4',
    info: { Title: title, Producer: 'gatherpan', Creator: 'gatherpan', CreationDate: new Date(0) },
  });
  const registered = new Set<string>();
  const chunks: Uint8Array[] = [];
  const ended = new Promise<void>((resolve, reject) => {
    document.on('data', (chunk: Uint8Array) => chunks.push(chunk));
    document.on('end', resolve);
    document.on('error', reject);
  });
  for (const page of pages) {
    refuseTooLarge(page);
    const { name, regular, bold } = await fonts(lettersOf(page.items));
    if (!registered.has(name)) {
      registered.add(name);
      document.registerFont(`${name} regular`, regular as Buffer);
      document.registerFont(`${name} bold`, bold as Buffer);
    }
    document.addPage({ size: [page.width * POINTS, page.height * POINTS], margin: 0 });
    // From here on mm, y up.
    document.transform(POINTS, 0, 0, -POINTS, 0, page.height * POINTS);
    const frame: Frame = { x: 0, y: 0, scale: 1, angle: 0 };
    for (const item of page.items) draw({ document, typeface: name }, item, frame);
    // The page before is packed meanwhile; without a pause all of them would wait in memory.
    await new Promise((resume) => setTimeout(resume));
  }
  document.end();
  await ended;
  const bytes = new Uint8Array(chunks.reduce((sum, chunk) => sum + chunk.length, 0));
  let offset = 0;
  for (const chunk of chunks) {
    bytes.set(chunk, offset);
    offset += chunk.length;
  }
  return bytes;
}

function refuseTooLarge({ width, height }: Picture): void {
  if (!(Math.max(width, height) * POINTS <= LARGEST_PAGE)) {
    throw new GatherpanError(
      'TOO_LARGE',
      words().messages.drawing.pageTooLarge(
        String(Math.round(width)),
        String(Math.round(height)),
        String(Math.floor(LARGEST_PAGE / POINTS)),
      ),
    );
  }
}

const lettersOf = (items: readonly Item[]): string =>
  items
    .map((item) => (item.kind === 'text' ? item.text : item.kind === 'group' ? lettersOf(item.items) : ''))
    .join('');

function draw(sheet: Sheet, item: Item, frame: Frame): void {
  switch (item.kind) {
    case 'path':
      drawPaths(sheet.document, item, frame);
      return;
    case 'text':
      drawText(sheet, item, frame);
      return;
    case 'group':
      drawGroup(sheet, item, frame);
      return;
  }
}

function place({ x, y, scale, angle }: Frame, point: Point): Point {
  const c = Math.cos(angle) * scale;
  const s = Math.sin(angle) * scale;
  return { x: x + c * point.x - s * point.y, y: y + s * point.x + c * point.y };
}

function drawGroup(sheet: Sheet, group: GroupItem, frame: Frame): void {
  const { document } = sheet;
  const inside: Frame = {
    ...place(frame, group.at),
    scale: frame.scale * group.scale,
    angle: frame.angle + (group.angle ?? 0),
  };
  const { clip } = group;
  if (clip !== undefined) {
    document.save();
    const corners = [
      { x: clip.x, y: clip.y },
      { x: clip.x + clip.width, y: clip.y },
      { x: clip.x + clip.width, y: clip.y + clip.height },
      { x: clip.x, y: clip.y + clip.height },
    ].map((corner) => place(inside, corner));
    corners.forEach(({ x, y }, i) => {
      if (i === 0) document.moveTo(x, y);
      else document.lineTo(x, y);
    });
    document.closePath().clip();
  }
  for (const item of group.items) draw(sheet, item, inside);
  if (clip !== undefined) document.restore();
}

function drawPaths(document: Document, item: PathItem, frame: Frame): void {
  const { paths, stroke, fill } = item;
  const rule = item.overlapping === true ? 'non-zero' : 'even-odd';
  if (!paths.some((path) => pieceCount(path) > 0)) return;
  for (const path of paths) trace(document, path, frame);
  if (stroke !== undefined) {
    document.lineWidth(stroke.weight).lineJoin('round');
    if (stroke.dash === undefined) document.undash().lineCap('round');
    else {
      // pdfkit takes dash and gap apart only for one pair; a list goes through as it is.
      document.lineCap('butt').dash(stroke.dash as unknown as number, {});
    }
  }
  if (fill !== undefined && stroke !== undefined) {
    document.fillAndStroke(fill, stroke.colour, rule);
  } else if (fill !== undefined) document.fill(fill, rule);
  else if (stroke !== undefined) document.strokeColor(stroke.colour).stroke();
}

function trace(document: Document, path: Path, frame: Frame): void {
  const first = path.vertices[0];
  if (first === undefined) return;
  const start = place(frame, first);
  document.moveTo(start.x, start.y);
  for (let i = 0; i < pieceCount(path); i++) {
    const from = path.vertices[i]!;
    const to = pieceEnd(path, i);
    const arc = arcOf(from, to);
    if (arc === null) {
      const end = place(frame, to);
      if (!(path.closed && i === pieceCount(path) - 1)) document.lineTo(end.x, end.y);
      continue;
    }
    const pieces = Math.max(1, Math.ceil(Math.abs(arc.sweep) / LARGEST_BEZIER));
    const step = arc.sweep / pieces;
    // Handles of a Bézier piece that touches the arc at its middle too: (4/3)·tan(step/4) of the radius.
    const handle = (4 / 3) * Math.tan(step / 4) * arc.radius;
    for (let k = 0; k < pieces; k++) {
      const a = arc.startAngle + k * step;
      const b = a + step;
      const at = (angle: number, along: number): Point =>
        place(frame, {
          x: arc.centre.x + arc.radius * Math.cos(angle) - along * Math.sin(angle),
          y: arc.centre.y + arc.radius * Math.sin(angle) + along * Math.cos(angle),
        });
      const c1 = at(a, handle);
      const c2 = at(b, -handle);
      const end = k === pieces - 1 ? place(frame, to) : at(b, 0);
      document.bezierCurveTo(c1.x, c1.y, c2.x, c2.y, end.x, end.y);
    }
  }
  if (path.closed) document.closePath();
}

function drawText({ document, typeface }: Sheet, item: TextItem, frame: Frame): void {
  const text = item.text.replaceAll(/\p{Cc}/gu, ' ');
  if (text === '') return;
  const at = place(frame, item.at);
  const width = textWidth(text, item.height, item.bold);
  const back = item.align === 'left' ? 0 : item.align === 'center' ? width / 2 : width;
  const angle = frame.angle + (item.angle ?? 0);
  document.save();
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  // Letters stand upright in coordinates with y down.
  document.transform(c, s, s, -c, at.x, at.y);
  document.font(`${typeface} ${item.bold === true ? 'bold' : 'regular'}`, fontSize(item.height));
  setApart(document);
  // Its width in points is wanted for links only; pdfkit would lay the letters out once more to find it.
  const known = { textWidth: width, wordCount: 1 };
  const options = { lineBreak: false, baseline: 'alphabetic' as const, features: NO_FEATURES, ...known };
  if (item.halo === true) {
    document
      .undash()
      .lineJoin('round')
      .lineWidth(HALO * item.height)
      .strokeColor('#ffffff');
    document.text(text, -back, 0, { ...options, fill: false, stroke: true });
  }
  document.fillColor(item.colour ?? '#000000');
  document.text(text, -back, 0, { ...options, fill: true, stroke: false });
  document.restore();
}
