/** Settings that formats do not take, exporters that are none, and what cannot be written. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { nodeFonts } from '../../../src/drawing/nodeFonts.ts';
import { pdfBytes } from '../../../src/drawing/pdf.ts';
import { GatherpanError } from '../../../src/errors.ts';
import { drawingText } from '../../../src/exporters/dxf/drawing.ts';
import type { FilledLayer } from '../../../src/exporters/dxf/layers.ts';
import { loadExporter } from '../../../src/exporters/loadExporter.ts';
import { nodeExporters } from '../../../src/exporters/nodeExporters.ts';
import { createRegistry } from '../../../src/exporters/registry.ts';
import { real } from '../../../src/step/part21.ts';
import { samplePattern } from '../../exporters/samplePattern.ts';
import { box } from './figures.ts';
import { complaints, type Work } from './work.ts';

const registry = createRegistry(nodeExporters);
const setting =
  (id: string, values: Record<string, unknown>): Work =>
  () =>
    registry.values(registry.get(id), values);
/** What is noted of settings, as if it were refused. */
const noted =
  (id: string, values: Record<string, unknown>): Work =>
  () =>
    registry.values(registry.get(id), values, (note) => {
      throw new GatherpanError('BAD_INPUT', note);
    });
const blank = {
  contract: 2 as const,
  id: 'blank',
  label: 'Blank',
  extension: 'txt',
  mediaType: 'text/plain',
  parameters: [],
  write: async () => new Uint8Array(1),
};
const broken = [
  7,
  'text',
  [],
  null,
  undefined,
  () => 1,
  {},
  { contract: 2 },
  { ...blank, contract: 1 },
  { ...blank, id: 'BAD', label: '', extension: '../up', mediaType: 'x', parameters: {}, write: 3 },
  { ...blank, parameters: [7, {}, { name: '1', help: '', type: 'text' }] },
  {
    ...blank,
    parameters: [
      { name: 'a', help: 'h', type: 'number', default: 0, minimum: Number.NaN, maximum: 'x', unit: 3 },
      { name: 'a', help: 'h', type: 'choice', default: 'x', choices: [] },
      { name: 'b', help: 'h', type: 'boolean', default: 'x' },
      { name: 'c', help: 'h', type: 'list', default: '', usual: 'y', choices: ['x'] },
    ],
  },
  { ...blank, label: Symbol('x'), extension: 7n, extensionFor: 'x', leadsTo: 'x', earlier: {} },
];
export const exporters: readonly Work[] = [
  () => real(Number.NaN),
  setting('png', { dotsPerInch: 1, figures: 'yes', form: 'round' }),
  setting('png', { dotsPerInch: [], figures: {}, form: null }),
  setting('template-pdf', { overlap: 'x', margin: -1 }),
  setting('png', { dotPerInch: 5 }),
  setting('dxf', { marks: 'scribe,fold' }),
  setting('dxf', { marks: 'scribe', text: 'none' }),
  noted('dxf', { cutOnly: true }),
  noted('dxf', { text: 'none' }),
  noted('dxf', { text: 'outside' }),
  setting('png', { somethingElse: 5 }),
  () => createRegistry([blank]).values(blank, { any: 1 }),
  () => registry.get('dfx'),
  () => registry.get('pdf'),
  () => registry.get('something'),
  () => createRegistry([]).get('dxf'),
  () => createRegistry([blank, { ...blank, label: 'Other' }]),
  ...broken.map((value) => () => createRegistry([value as typeof blank])),
  () => registry.get('json').write(nonsense(), registry.values(registry.get('json'), {})),
  () => registry.get('formed-step').write({ ...samplePattern(), kind: 'part' }, {}),
  () => drawingText([layer({ kind: 'path', path: { closed: false, vertices: [] } })]),
  () => drawingText([layer({ kind: 'path', path: box(1e9, 1) })]),
  () => drawingText([layer({ kind: 'text', at: { x: Number.NaN, y: 0 }, height: 1, text: 'x' })]),
  () => pdfBytes([{ title: 'x', width: 9000, height: 10, items: [] } as never], 'x', nodeFonts),
];

function layer(shape: object): FilledLayer {
  return { layer: { name: 'CUT' }, shapes: [shape] } as never;
}

function nonsense(): never {
  const { report, ...rest } = samplePattern();
  const outline = [{ x: Number.NaN, y: 0, bulge: 0 }];
  return { ...rest, report: { ...report, outline } } as never;
}

/** Modules of third parties, in a folder of its own that is gone afterwards. */
export async function modules(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'gatherpan-words-'));
  const write = (name: string, text: string): void => {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), text);
  };
  write('package.json', '{ "type": "module" }');
  write('nothing.js', 'export const other = 1;');
  write('empty.js', 'export default [];');
  write('bad.js', 'export default { id: "bad" };');
  write('throws.js', "throw new Error('42');");
  const names = ['./missing.js', 'missing-package', 'nothing.js', './nothing.js', './empty.js', './bad.js'];
  const faults: string[] = [];
  for (const name of [...names, './throws.js'])
    faults.push(...(await complaints(() => loadExporter(name, folder))));
  rmSync(folder, { recursive: true });
  throw new GatherpanError(
    'BAD_INPUT',
    faults.map((message) => ({ path: '', message })),
  );
}
