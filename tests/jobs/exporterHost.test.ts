/** Modules that never answer, end the process, or throw when nobody listens cost one sentence and no more. */
import { readdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { loadExporter } from '../../src/exporters/loadExporter.ts';
import { createRegistry } from '../../src/exporters/registry.ts';
import { hostExporters } from '../../src/jobs/exporterHost.ts';
import { family } from '../batch/batches.ts';
import { inFolder, realCommand } from '../cli/fakes.ts';
import { samplePattern } from '../exporters/samplePattern.ts';
import { refusalOf } from '../support/refusal.ts';
import { changed } from '../tray/trayFiles.ts';

const DESCRIBED =
  "contract: 2, id: 'note', label: 'Note', extension: 'txt', mediaType: 'text/plain', parameters: []";
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
  it.concurrent.each(FAULTY)('%s is stopped', (what, text, says) =>
    inFolder(async (at) => {
      await writeFile(join(at, 'mine.mjs'), text);
      const work = async (): Promise<unknown> => {
        // Only where silence is what is waited for; the others answer when they are ready.
        const [exporter] = await hostExporters('./mine.mjs', at, /never/.test(what) ? 3 : 600);
        return exporter!.write(samplePattern(), {});
      };
      const { code, message } = await refusalOf(work());
      expect(code).toBe('EXPORTER_FAILED');
      expect(message).toMatch(says);
      expect(message).not.toContain('\n');
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

  const ASKED = `
    export default {
      contract: 2, id: 'note', label: 'Note', extension: 'txt', mediaType: 'text/plain',
      parameters: [{ name: 'form', type: 'choice', default: 'plain', choices: ['plain', 'long', 'faulty', 'late'], help: 'Form' }],
      earlier: {
        parameters: [{ name: 'long', type: 'boolean', default: false, help: 'Now form' }],
        instead: ({ long }) => 'Set note.form=' + (long ? 'long' : 'plain') + '.',
      },
      extensionFor: ({ form }) => {
        if (form === 'late') Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0);
        return form === 'faulty' ? '../up.txt' : form === 'long' ? 'long.txt' : 'txt';
      },
      leadsTo: ({ form }) => (form === 'faulty' ? ['eat'] : form === 'long' ? ['weld', 'form'] : []),
      write: async ({ name }, { form }) => new TextEncoder().encode(name + form),
    };`;

  it('names its files, says what they are for and what took the place of a setting as it would itself', () =>
    inFolder(async (at) => {
      await writeFile(join(at, 'mine.mjs'), ASKED);
      const [hosted] = await hostExporters('./mine.mjs', at);
      const [own] = await loadExporter('./mine.mjs', at);
      for (const form of ['plain', 'long', 'plain']) {
        expect(hosted!.extensionFor!({ form })).toBe(own!.extensionFor!({ form }));
        expect(hosted!.leadsTo!({ form })).toEqual(own!.leadsTo!({ form }));
      }
      const notes: string[] = [];
      const { values } = createRegistry([hosted!]);
      expect(values(hosted!, { long: true }, (note) => notes.push(note))).toEqual({
        form: 'plain',
        long: true,
      });
      expect(notes).toEqual(['Set note.form=long.']);
    }));

  it('answers nothing sound, or not at all, is told by that', () =>
    inFolder(async (at) => {
      await writeFile(join(at, 'mine.mjs'), ASKED);
      const [hosted] = await hostExporters('./mine.mjs', at);
      expect(() => hosted!.extensionFor!({ form: 'faulty' })).toThrow(
        /^The exporter note gave no sound answer to extensionFor; its module has to be corrected\.$/,
      );
      expect(() => hosted!.leadsTo!({ form: 'faulty' })).toThrow('no sound answer to leadsTo');
      expect(() => hosted!.extensionFor!({ form: 'late' })).toThrow('note did not answer within 10 s');
      // A file after that has a thread that is whole.
      expect(new TextDecoder().decode(await hosted!.write(samplePattern(), { form: 'long' }))).toBe(
        `${samplePattern().name}long`,
      );
    }));

  it('names its files has them so from make, with the cautions of what they are for', () =>
    inFolder(async (at) => {
      await writeFile(join(at, 'mine.mjs'), ASKED);
      await writeFile(join(at, 'tray.json'), JSON.stringify(changed({ name: 'tray' })));
      const said = async (form: string): Promise<string> => {
        const argv = ['make', 'tray.json', '--format', 'note', '--set', `note.form=${form}`];
        const { exit, out } = await realCommand(at, [...argv, '--exporter', './mine.mjs', '--out', 'out']);
        expect(exit).toBe(0);
        return out;
      };
      const [plain, long] = [await said('plain'), await said('long')];
      expect(await readdir(join(at, 'out'))).toEqual(['tray.long.txt', 'tray.txt']);
      expect(plain).not.toMatch(/weld/i);
      expect(long).toMatch(/weld/i);
    }));

  it.each([
    ['make', ['make', 'tray.json', '--format', 'dxf,note']],
    ['batch', ['batch', 'family.json', '--format', 'note', '--jobs', '1']],
  ])('ends the process gives %s one sentence a tray and exit code 1', (_, argv) =>
    inFolder(async (at) => {
      await writeFile(join(at, 'mine.mjs'), module('process.exit(0);'));
      await writeFile(join(at, 'tray.json'), JSON.stringify(changed({ name: 'tray' })));
      await writeFile(join(at, 'family.json'), family(1));
      const { exit, error } = await realCommand(at, [...argv, '--exporter', './mine.mjs', '--out', 'out']);
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
