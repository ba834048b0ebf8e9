/** A plug-in's hash changes with everything it is made of, and with nothing else. */
import { mkdir, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { moduleSource } from '../../src/exporters/moduleSource.ts';
import { inFolder } from '../cli/fakes.ts';

const FILES: Readonly<Record<string, string>> = {
  'mine.mjs': "import { a } from './a.mjs';\nimport fs from 'node:fs';\nimport 'scale';\nexport default a;\n",
  'a.mjs': "export * from './lib/b.js';\nexport * from '@shop/pens';\nimport './mine.mjs';\n",
  'lib/b.js': 'const c = await import("./c.json");\nconst d = require(\'./d\');\n',
  'lib/c.json': '{"pens":3}',
  'lib/d.js': 'module.exports = 1;\n',
  'node_modules/scale/package.json': '{"name":"scale","version":"1.2.0","main":"x.js"}',
  'node_modules/scale/x.js': '',
  'node_modules/@shop/pens/package.json': '{"name":"@shop/pens","version":"3.0.0","exports":"./x.js"}',
  'node_modules/@shop/pens/x.js': '',
};

const sourceOf = (change: Readonly<Record<string, string>> = {}): Promise<string> => {
  let source = '';
  return inFolder(async (at) => {
    for (const [name, text] of Object.entries({ ...FILES, ...change })) {
      await mkdir(dirname(join(at, name)), { recursive: true });
      await writeFile(join(at, name), text);
    }
    source = moduleSource(pathToFileURL(join(at, 'mine.mjs')).href);
  }).then(() => source);
};

describe('the hash of a module', () => {
  it('is the same in another folder, with other files beside it', async () => {
    const source = await sourceOf();
    expect(source).toMatch(/^[0-9a-f]{64}$/);
    expect(await sourceOf({ 'other.mjs': '1' })).toBe(source);
  });

  it.each(['mine.mjs', 'a.mjs', 'lib/b.js', 'lib/c.json', 'lib/d.js'])(
    'is another one when %s changes',
    async (name) => {
      expect(await sourceOf({ [name]: `${FILES[name]} ` })).not.toBe(await sourceOf());
    },
  );

  it.each(['scale', '@shop/pens'])('is another one with another version of the package %s', async (name) => {
    const file = `node_modules/${name}/package.json`;
    expect(await sourceOf({ [file]: FILES[file]!.replace('.0"', '.1"') })).not.toBe(await sourceOf());
  });

  it('does without a file that is not there', async () => {
    const [one, other] = [
      await sourceOf({ 'a.mjs': "import './none.mjs';" }),
      await sourceOf({ 'a.mjs': '' }),
    ];
    expect(one).not.toBe(other);
  });
});
