/**
 * The dotted keys of a tray file and what may stand under each, read from its schema, so that a new field of
 * the tray file is a new column of a batch without a change here.
 */
import * as z from 'zod';
import { nearest } from '../spelling.ts';
import { trayFileSchema } from '../tray/schema.ts';

/** Kinds of value a cell may hold. */
export type CellKind = 'number' | 'boolean' | 'string';

/** A node of a JSON Schema, as far as it is used here. */
interface SchemaNode {
  readonly type?: string | readonly string[];
  readonly properties?: Readonly<Record<string, SchemaNode>>;
  readonly additionalProperties?: SchemaNode | boolean;
  readonly propertyNames?: { readonly pattern?: string };
  readonly items?: SchemaNode;
  readonly prefixItems?: readonly SchemaNode[];
  readonly anyOf?: readonly SchemaNode[];
  readonly oneOf?: readonly SchemaNode[];
  readonly allOf?: readonly SchemaNode[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly $ref?: string;
  readonly $defs?: Readonly<Record<string, SchemaNode>>;
}

/** Characters of a key that are told, at most; no key of a tray file has as many. */
const LONGEST_KEY = 80;

let root: SchemaNode | undefined;

/** Keys are the same in both units; only limits differ, and those are checked when the tray is read. */
const schema = (): SchemaNode => {
  root ??= z.toJSONSchema(trayFileSchema('mm'), { io: 'input' }) as SchemaNode;
  return root;
};

/** What may stand under a dotted key; empty for a key that a tray file does not have or that holds no value. */
export function cellKinds(key: string): ReadonlySet<CellKind> {
  let nodes = alternatives(schema());
  for (const segment of key.split('.')) nodes = nodes.flatMap((node) => step(node, segment));
  return new Set(nodes.flatMap(kindsOf));
}

/** Every key that holds a value; a place in a list is written 0. */
export function knownKeys(): readonly string[] {
  const keys = new Set<string>();
  const visit = (node: SchemaNode, path: string, depth: number): void => {
    if (depth > 8) return;
    for (const each of alternatives(node)) {
      if (kindsOf(each).length > 0) keys.add(path);
      const deeper = (name: string): string => (path === '' ? name : `${path}.${name}`);
      for (const [name, child] of Object.entries(each.properties ?? {}))
        visit(child, deeper(name), depth + 1);
      const item = each.items ?? each.prefixItems?.[0];
      if (item !== undefined) visit(item, deeper('0'), depth + 1);
    }
  };
  visit(schema(), '', 0);
  keys.delete('$schema');
  return [...keys];
}

/** The known key that is nearest to a misspelt one, if one is near. */
export const nearestKey = (key: string, others: readonly string[] = []): string | undefined =>
  nearest(key, [...knownKeys(), ...others]);

/** A key that may be no key, as the path of a fault. */
export const faultPath = (key: string): string => key.slice(0, LONGEST_KEY);

function alternatives(node: SchemaNode): SchemaNode[] {
  if (node.$ref !== undefined) {
    const name = /^#\/\$defs\/(.+)$/.exec(node.$ref)?.[1];
    const target = name === undefined ? undefined : schema().$defs?.[name];
    return target === undefined ? [] : alternatives(target);
  }
  const inner = [...(node.anyOf ?? []), ...(node.oneOf ?? []), ...(node.allOf ?? [])];
  return inner.length === 0 ? [node] : [node, ...inner.flatMap(alternatives)];
}

function step(node: SchemaNode, segment: string): SchemaNode[] {
  const found: SchemaNode[] = [];
  const { properties, additionalProperties, propertyNames } = node;
  if (properties !== undefined && Object.hasOwn(properties, segment)) found.push(properties[segment]!);
  else if (typeof additionalProperties === 'object' && new RegExp(propertyNames?.pattern ?? '').test(segment))
    found.push(additionalProperties);
  if (/^(0|[1-9]\d{0,3})$/.test(segment)) {
    const item = node.prefixItems?.[Number(segment)] ?? node.items;
    if (item !== undefined) found.push(item);
  }
  return found.flatMap(alternatives);
}

function kindsOf(node: SchemaNode): CellKind[] {
  const values = node.const === undefined ? (node.enum ?? []) : [node.const];
  const types = typeof node.type === 'string' ? [node.type] : (node.type ?? []);
  const kinds = new Set<CellKind>();
  for (const kind of [...types, ...values.map((value) => typeof value)]) {
    if (kind === 'number' || kind === 'integer') kinds.add('number');
    else if (kind === 'boolean' || kind === 'string') kinds.add(kind);
  }
  return [...kinds];
}
