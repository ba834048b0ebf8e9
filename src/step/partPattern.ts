/** What can be made of a part that was solved as it is, and what needs the tray file that it has not. */
import { GatherpanError } from '../errors.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { words } from '../words/language.ts';

/** Built-in formats that draw a tray's section, which only a tray file says. */
const NEED_A_SECTION: ReadonlySet<string> = new Set([
  'card-pdf',
  'card-svg',
  'gauges-dxf',
  'gauges-pdf',
  'former-dxf',
  'former-pdf',
  'strip-dxf',
  'strip-pdf',
]);

/**
 * @param format id of an exporter
 * @throws GatherpanError NOT_MAKEABLE when the pattern is of a part and the format needs a tray file
 */
export function refuseForPart(pattern: FlatPattern, format: string): void {
  if (pattern.kind !== 'part' || !NEED_A_SECTION.has(format)) return;
  throw new GatherpanError('NOT_MAKEABLE', words().parts.errors.needsSection(format, pattern.name));
}
