/** A drawing: its unit, the entities of its model, and its blocks. */
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import { type DxfRecord, notDxf, recordsOf, textOf } from './records.ts';

/** An entity as it stands in the file. */
export interface Entity extends DxfRecord {
  readonly layer: string;
  /** Vertices of an old polyline, which are records of their own. */
  readonly vertices: readonly DxfRecord[];
}

/** Entities that are drawn by name, moved, turned and scaled. */
export interface Block {
  /** The record that begins it: its base point. */
  readonly head: DxfRecord;
  readonly entities: readonly Entity[];
}

export interface Drawing {
  /** `$INSUNITS` as it stands there; undefined when there is none or it is 0, no unit. */
  readonly unit: string | undefined;
  /** Entities of the model, in the order they are drawn. */
  readonly entities: readonly Entity[];
  readonly blocks: ReadonlyMap<string, Block>;
}

/** @throws GatherpanError TOO_LARGE, or BAD_INPUT when the text is not DXF */
export function drawingOf(text: string): Drawing {
  const records = recordsOf(text);
  let unit: string | undefined;
  const entities: Entity[] = [];
  const blocks = new Map<string, Block>();
  for (let at = 0; at < records.length; at++) {
    const record = records[at]!;
    if (record.type !== 'SECTION') continue;
    let end = at + 1;
    while (end < records.length && records[end]!.type !== 'ENDSEC') {
      if (records[end]!.type === 'SECTION' || records[end]!.type === 'EOF') throw notDxf();
      end++;
    }
    const inside = records.slice(at + 1, end);
    const name = textOf(record, 2);
    if (name === 'HEADER') unit = headerUnit(record);
    // A file may have one such section only; of two the first would be lost without a word.
    if (name === 'ENTITIES') for (const entity of entitiesOf(inside)) entities.push(entity);
    if (name === 'BLOCKS') readBlocks(inside, blocks);
    at = end;
  }
  return { unit, entities, blocks };
}

/** The header's variables are groups 9 (the name) with the values behind it. */
function headerUnit({ groups }: DxfRecord): string | undefined {
  const at = groups.findIndex(([code, value]) => code === 9 && value === '$INSUNITS');
  const value = at < 0 ? undefined : groups[at + 1]?.[1];
  return value === undefined || value === '' || Number(value) === 0 ? undefined : value;
}

/** @throws GatherpanError BAD_INPUT when an old polyline has no end */
function entitiesOf(records: readonly DxfRecord[]): Entity[] {
  const entities: Entity[] = [];
  for (let i = 0; i < records.length; i++) {
    const record = records[i]!;
    const vertices: DxfRecord[] = [];
    if (record.type === 'POLYLINE') {
      for (i++; records[i]?.type === 'VERTEX'; i++) vertices.push(records[i]!);
      if (records[i]?.type !== 'SEQEND') throw notDxf();
    }
    // Group 67 tells what lies on a sheet of paper and not in the model.
    if (textOf(record, 67) === '1') continue;
    entities.push({ ...record, layer: textOf(record, 8) ?? '0', vertices });
  }
  return entities;
}

function readBlocks(records: readonly DxfRecord[], blocks: Map<string, Block>): void {
  for (let i = 0; i < records.length; i++) {
    const head = records[i]!;
    if (head.type !== 'BLOCK') continue;
    let end = i + 1;
    while (end < records.length && records[end]!.type !== 'ENDBLK') end++;
    blocks.set(blockKey(textOf(head, 2) ?? ''), { head, entities: entitiesOf(records.slice(i + 1, end)) });
    i = end;
  }
}

/** Capitals make no difference in names of blocks and layers. */
const blockKey = (name: string): string => name.toLowerCase();

/** @throws GatherpanError BAD_INPUT when the drawing has no such block, or only says where it is */
export function blockOf({ blocks }: Drawing, name: string, shown: string): Block {
  const block = blocks.get(blockKey(name));
  // Bits 4 and 8 of group 70: the block is another file.
  if (block === undefined || (Number(textOf(block.head, 70) ?? 0) & 12) !== 0) {
    throw new GatherpanError('BAD_INPUT', words().messages.dxf.blockMissing(shown));
  }
  return block;
}
