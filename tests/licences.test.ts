/** Licences of what the package brings along: those that ask for more than a notice are named in the README. */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';

const read = (file: string): string => readFileSync(new URL(`../${file}`, import.meta.url), 'utf8');

interface Locked {
  readonly license?: string;
  readonly dev?: boolean;
}

/** Licences that ask for no more than their notice to be kept (SPDX identifiers). */
const PERMISSIVE = new Set([
  '0BSD',
  'Apache-2.0',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'BlueOak-1.0.0',
  'ISC',
  'MIT',
  'Unlicense',
  'Zlib',
]);
/** Packages whose own file says MIT although their package.json says nothing. */
const SAYS_SO_ELSEWHERE = new Set(['png-js']);

/** Whether one of the choices an expression gives is permissive; all of its parts have to be. */
const isPermissive = (expression: string): boolean =>
  expression
    .replace(/[()]/g, '')
    .split(' OR ')
    .some((choice) => choice.split(' AND ').every((name) => PERMISSIVE.has(name.trim())));

it('of production dependencies are permissive or named in the README', () => {
  const { packages } = JSON.parse(read('package-lock.json')) as { packages: Record<string, Locked> };
  const licences = read('README.md').split('## Licence')[1]!;
  const unnamed: string[] = [];
  let count = 0;
  for (const [path, { license, dev }] of Object.entries(packages)) {
    const name = path.split('node_modules/').at(-1)!;
    if (path === '' || dev === true || SAYS_SO_ELSEWHERE.has(name)) continue;
    count++;
    if (license !== undefined && isPermissive(license)) continue;
    // Ready-built parts of a package are named by the package.
    const family = name.replace(/-(android|darwin|linux|win32)-.*$/, '');
    const short = (license ?? 'none').split(' AND ').find((each) => !PERMISSIVE.has(each)) ?? '';
    const named = licences.includes(family) || licences.includes(short);
    if (!named || !licences.includes(short.replace('-only', ''))) unnamed.push(`${name}: ${license}`);
  }
  expect(count).toBeGreaterThan(100);
  expect(unnamed).toEqual([]);
});
