/** A batch with a format of a third party knows the module that its files were made with. */
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { chosenFormat } from '../../src/batch/chosenFormat.ts';
import { poolEngine } from '../../src/batch/pool.ts';
import { hostExporters } from '../../src/jobs/exporterHost.ts';
import { inFolder } from '../cli/fakes.ts';
import { family, run } from './batches.ts';

vi.setConfig({ testTimeout: 180_000 });

const DESCRIBED =
  "contract: 2, id: 'note', label: 'Note', extension: 'txt', mediaType: 'text/plain', parameters: []";
const MODULE = `import { text } from './text.mjs';
export default { ${DESCRIBED}, write: async (pattern) => new TextEncoder().encode(text + pattern.name) };
`;

describe('a batch with a plug-in', () => {
  it('goes on only from files that the very same module made', () =>
    inFolder(async (at) => {
      await writeFile(join(at, 'mine.mjs'), MODULE);
      const modules = { names: ['./mine.mjs'], folder: at };
      const once = async (resume: boolean) => {
        const [exporter] = await hostExporters('./mine.mjs', at);
        const engine = poolEngine({ jobs: 1, modules });
        const formats = [chosenFormat(exporter!, {})];
        const { resumed } = await run(
          family(1),
          { kind: 'folder', path: join(at, 'out') },
          { engine, formats, resume },
        );
        return [resumed, await readFile(join(at, 'out', 'tray-280x200.txt'), 'utf8')];
      };
      await writeFile(join(at, 'text.mjs'), "export const text = 'old ';\n");
      expect(await once(false)).toEqual([0, 'old tray-280x200']);
      expect(await once(true)).toEqual([4, 'old tray-280x200']);
      await writeFile(join(at, 'text.mjs'), "export const text = 'new ';\n");
      expect(await once(true)).toEqual([0, 'new tray-280x200']);
    }));

  it('writes no file with a module that has changed since it was asked for', () =>
    inFolder(async (at) => {
      await writeFile(join(at, 'mine.mjs'), MODULE);
      await writeFile(join(at, 'text.mjs'), "export const text = 'old ';\n");
      const [exporter] = await hostExporters('./mine.mjs', at);
      const formats = [chosenFormat(exporter!, {})];
      await writeFile(join(at, 'text.mjs'), "export const text = 'new ';\n");
      const engine = poolEngine({ jobs: 1, modules: { names: ['./mine.mjs'], folder: at } });
      const { trays } = await run(family(1), { kind: 'folder', path: join(at, 'out') }, { engine, formats });
      for (const { state, error } of trays) {
        expect([state, error?.code]).toEqual(['failed', 'EXPORTER_FAILED']);
        expect(error?.faults[0]?.message).toContain('has changed since the command began');
      }
    }));
});
