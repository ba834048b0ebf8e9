/** A TrueType font with fewer letters (OpenType specification 1.9: glyf, head, loca, post). */
import { create, type Font } from 'fontkit';

/** Tables that a text without kerning and ligatures needs. */
const KEPT = ['OS/2', 'cmap', 'gasp', 'glyf', 'head', 'hhea', 'hmtx', 'loca', 'maxp', 'name', 'post', 'prep'];

const align = (length: number): number => 4 * Math.ceil(length / 4);

/**
 * The font with the outlines of all other letters left empty. Every glyph keeps its number, so nothing else has to change.
 *
 * @param wanted whether the letter of a code point stays
 * @throws Error for a font whose glyphs are found by 16-bit offsets
 */
export function smallFont(file: Buffer, wanted: (code: number) => boolean): Uint8Array {
  const bytes = new Uint8Array(file);
  const view = new DataView(bytes.buffer);
  const tables = new Map<string, Uint8Array>();
  for (let i = 0; i < view.getUint16(4); i++) {
    const entry = 12 + 16 * i;
    const tag = String.fromCharCode(...bytes.subarray(entry, entry + 4));
    const at = view.getUint32(entry + 8);
    if (KEPT.includes(tag)) tables.set(tag, bytes.slice(at, at + view.getUint32(entry + 12)));
  }
  const head = new DataView(tables.get('head')!.buffer);
  if (head.getInt16(50) !== 1) throw new Error('the offsets of this font are short');
  const glyf = tables.get('glyf')!;
  const loca = new DataView(tables.get('loca')!.buffer);
  const outline = (glyph: number): Uint8Array =>
    glyf.subarray(loca.getUint32(4 * glyph), loca.getUint32(4 * glyph + 4));

  const kept = new Set<number>();
  const keep = (glyph: number): void => {
    if (kept.has(glyph)) return;
    kept.add(glyph);
    for (const part of partsOf(outline(glyph))) keep(part);
  };
  const font = create(file) as Font;
  // The first one stands for letters that there are not.
  keep(0);
  for (const code of font.characterSet) if (wanted(code)) keep(font.glyphForCodePoint(code).id);

  const count = loca.byteLength / 4 - 1;
  const offsets = new DataView(new ArrayBuffer(loca.byteLength));
  const outlines: number[] = [];
  for (let glyph = 0; glyph < count; glyph++) {
    if (kept.has(glyph)) outlines.push(...outline(glyph));
    offsets.setUint32(4 * glyph + 4, outlines.length);
  }
  tables.set('glyf', Uint8Array.from(outlines));
  tables.set('loca', new Uint8Array(offsets.buffer));
  // Version 3: no names of glyphs.
  const post = tables.get('post')!.slice(0, 32);
  new DataView(post.buffer).setUint32(0, 0x00030000);
  tables.set('post', post);
  return fontOf(view.getUint32(0), tables);
}

/** The glyphs that a composed one is made of. */
function partsOf(outline: Uint8Array): number[] {
  const parts: number[] = [];
  const view = new DataView(outline.buffer, outline.byteOffset, outline.byteLength);
  if (outline.length === 0 || view.getInt16(0) >= 0) return parts;
  for (let at = 10; ; ) {
    const flags = view.getUint16(at);
    parts.push(view.getUint16(at + 2));
    if ((flags & 0x20) === 0) return parts;
    at += 4 + (flags & 0x1 ? 4 : 2) + (flags & 0x8 ? 2 : flags & 0x40 ? 4 : flags & 0x80 ? 8 : 0);
  }
}

/** The file: directory, tables, and the checksum of the whole in `head`. */
function fontOf(version: number, tables: ReadonlyMap<string, Uint8Array>): Uint8Array {
  const names = [...tables.keys()].sort();
  const begin = 12 + 16 * names.length;
  const file = new Uint8Array(names.reduce((sum, name) => sum + align(tables.get(name)!.length), begin));
  const view = new DataView(file.buffer);
  const sumOf = (from: number, length: number): number => {
    let sum = 0;
    for (let at = from; at < from + length; at += 4) sum = (sum + view.getUint32(at)) >>> 0;
    return sum;
  };
  const power = 2 ** Math.floor(Math.log2(names.length));
  view.setUint32(0, version);
  view.setUint16(4, names.length);
  view.setUint16(6, 16 * power);
  view.setUint16(8, Math.log2(power));
  view.setUint16(10, 16 * (names.length - power));
  let at = begin;
  for (const [i, name] of names.entries()) {
    const bytes = tables.get(name)!;
    file.set(bytes, at);
    if (name === 'head') view.setUint32(at + 8, 0);
    const entry = 12 + 16 * i;
    for (let letter = 0; letter < 4; letter++) file[entry + letter] = name.charCodeAt(letter);
    view.setUint32(entry + 4, sumOf(at, align(bytes.length)));
    view.setUint32(entry + 8, at);
    view.setUint32(entry + 12, bytes.length);
    at += align(bytes.length);
  }
  const head = view.getUint32(12 + 16 * names.indexOf('head') + 8);
  view.setUint32(head + 8, (0xb1b0afba - sumOf(0, file.length)) >>> 0);
  return file;
}
