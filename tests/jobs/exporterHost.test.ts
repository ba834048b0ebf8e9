/** Modules that never answer, end the process, or throw when nobody listens cost one sentence and no more. */
import { readdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { hostExporters } from '../../src/jobs/exporterHost.ts';
import { family } from '../batch/batches.ts';
import { command } from '../batch/command.ts';
import { inFolder } from '../cli/fakes.ts';
import { samplePattern } from '../exporters/samplePattern.ts';
import { changed } from '../tray/trayFiles.ts';

const DESCRIBED = "id: 'note', label: 'Note', extension: 'txt', mediaType: 'text/plain', parameters: []";
const module = (write: string, before = ''): string =>
  `${before}\nexport default { ${DESCRIBED}, async write(pattern) { ${write} } };\n`;

/** Which of its two acts is found to be silent, loading or writing, is the machine's choice when it is busy. */
const SILENT = /(note|mine\.mjs).* did not answer within 3 s and was stopped/;

const FAULTY: readonly (readonly [what: string, text: string, says: RegExp])[] = [
  ['never answers', module('return new Promise(() => {});'), SILENT],
  ['never stops', module('for (;;);'), SILENT],
  ['ends the process', module('process.exit(0);'), /"?note"? ended without an answer/],
  [
    'throws late',
    module("setTimeout(() => { throw new Error('late'); }); return new Promise(() => {});"),
    /"?note"? failed \(late\)/,
  ],
  [
    'leaves a failure to nobody',
    module("Promise.reject(new Error('lost')); return new Promise(() => {});"),
    /"?note"? failed \(lost\)/,
  ],
  ['throws', module("throw new TypeError('no hole fits\\n at x');"), /"?note"? failed \(no hole fits\)/],
  ['throws no error', module("throw 'no';"), /"?note"? failed \(no\)/],
  ['returns a text', module("return 'text';"), /"?note"? returned no bytes/],
  ['ends the process as it is loaded', module('', 'process.exit(0);'), /mine\.mjs.* ended without an answer/],
  [
    'never ends loading',
    module('', 'await new Promise(() => {});'),
    /mine\.mjs.* (did not answer|ended without)/,
  ],
];

describe('a module that', () => {
  it.each(FAULTY)('%s is stopped', (what, text, says) =>
    inFolder(async (at) => {
      await writeFile(join(at, 'mine.mjs'), text);
      const work = async (): Promise<unknown> => {
        // Only where silence is what is waited for; the others answer when they are ready.
        const [exporter] = await hostExporters('./mine.mjs', at, /never/.test(what) ? 3 : 600);
        return exporter!.write(samplePattern(), {});
      };
      const error = await work().then(
        () => undefined,
        (reason: unknown) => reason,
      );
      expect(error).toBeInstanceOf(GatherpanError);
      expect((error as GatherpanError).code).toBe('EXPORTER_FAILED');
      expect((error as GatherpanError).message).toMatch(says);
      expect((error as GatherpanError).message).not.toContain('\n');
    }),
  );

  it('throws one of our own errors is told by that', () =>
    inFolder(async (at) => {
      const errors = JSON.stringify(new URL('../../dist/errors.js', import.meta.url).href);
      const text = module(
        "throw new GatherpanError('NOT_MAKEABLE', 'Too narrow for a label.');",
        `import { GatherpanError } from ${errors};`,
      );
      await writeFile(join(at, 'mine.mjs'), text);
      const [exporter] = await hostExporters('./mine.mjs', at);
      await expect(exporter!.write(samplePattern(), {})).rejects.toMatchObject({
        code: 'NOT_MAKEABLE',
        message: 'Too narrow for a label.',
      });
    }));

  it('was changed is not asked again by who knew it as it was', () =>
    inFolder(async (at) => {
      await writeFile(join(at, 'mine.mjs'), module('process.exit(1);'));
      const [exporter] = await hostExporters('./mine.mjs', at);
      await expect(exporter!.write(samplePattern(), {})).rejects.toThrow('ended without an answer');
      await writeFile(join(at, 'mine.mjs'), module('return new Uint8Array(1);'));
      await expect(exporter!.write(samplePattern(), {})).rejects.toThrow(
        /^The module of the exporter note has changed since the command began; run the command again\.$/,
      );
    }));

  it('is sound is asked again and again, also after a file that it could not make', () =>
    inFolder(async (at) => {
      const text = module(
        'if (globalThis.asked++ === 1) process.exit(1); return new TextEncoder().encode(pattern.name);',
        'globalThis.asked = 0;',
      );
      await writeFile(join(at, 'mine.mjs'), text);
      const [exporter] = await hostExporters('./mine.mjs', at);
      const pattern = samplePattern();
      const name = new TextEncoder().encode(pattern.name);
      expect(await exporter!.write(pattern, {})).toEqual(name);
      await expect(exporter!.write(pattern, {})).rejects.toThrow('ended without an answer');
      expect(await exporter!.write(pattern, {})).toEqual(name);
    }));

  it.each([
    ['make', ['make', 'tray.json', '--format', 'dxf,note']],
    ['batch', ['batch', 'family.json', '--format', 'note', '--jobs', '1']],
  ])('ends the process gives %s one sentence a tray and exit code 1', (_, argv) =>
    inFolder(async (at) => {
      await writeFile(join(at, 'mine.mjs'), module('process.exit(0);'));
      await writeFile(join(at, 'tray.json'), JSON.stringify(changed({ name: 'tray' })));
      await writeFile(join(at, 'family.json'), family(1));
      const { exit, error } = await command(at, [...argv, '--exporter', './mine.mjs', '--out', 'out']);
      expect(exit).toBe(1);
      for (const line of error.trimEnd().split('\n'))
        expect(line).toMatch(/The exporter note ended without an answer/);
      const made = (await readdir(join(at, 'out')).catch(() => [])).filter((name) =>
        /\.(dxf|txt)$/.test(name),
      );
      expect(made).toEqual([]);
    }),
  );
});
