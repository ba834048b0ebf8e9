/** Searches once per tray, and applies a change by itself, apart from the search's own way. */
import type { VerdictWord } from '../../src/gather/report.ts';
import { type Change, type ChangeSearch, searchChanges } from '../../src/pattern/changes.ts';
import type { TraySpec } from '../../src/tray/spec.ts';

const searched = new Map<string, ChangeSearch>();

export function searchChangesOf(spec: TraySpec, known?: VerdictWord): ChangeSearch {
  const key = JSON.stringify([spec, known]);
  let found = searched.get(key);
  if (found === undefined) {
    found = searchChanges(spec, known);
    searched.set(key, found);
  }
  return found;
}

/** The tray with another value in the change's field. */
export function changedBy(spec: TraySpec, { path }: Change, to: number | string): TraySpec {
  const copy = structuredClone(spec) as unknown as Record<string, Record<string, unknown>>;
  const [part, field] = path.split('.') as [string, string];
  copy[part]![field] = to;
  return copy as unknown as TraySpec;
}
