/**
 * One of the two programs that a bench compares, in a process of its own: solves trays as it is asked to. Uses only what
 * every commit has that can be compared.
 */
import { pathToFileURL } from 'node:url';

export interface Asked {
  readonly file: unknown;
}

export interface Answered {
  /** ms from the values of a tray file to the bytes of its drawing. */
  readonly milliseconds: number;
  /** Null where there is no flat. */
  readonly solved: { readonly rim: Float64Array; readonly triangles: number } | null;
}

interface Modules {
  readonly readTray: (file: unknown) => unknown;
  readonly developTray: (spec: unknown) => Developed;
  readonly dxfExporter: { write(pattern: Developed, values: unknown): unknown };
  readonly createRegistry: (exporters: unknown[]) => { values(exporter: unknown, given: object): unknown };
}

interface Developed {
  readonly kind?: string;
  readonly field: { readonly flat: Float64Array; readonly rimNodes: Uint32Array };
  readonly report: { readonly solver: { readonly triangles: number } };
}

/** x y per node of a rim, mm. */
export const rimOf = (flat: Float64Array, nodes: Uint32Array): Float64Array =>
  Float64Array.from({ length: 2 * nodes.length }, (_, i) => flat[2 * nodes[i >> 1]! + (i & 1)]!);

const [root] = process.argv.slice(2);

/** What only a process that was started for it does; the module is imported for its types too. */
if (root !== undefined && process.send !== undefined) {
  const from = async (path: string): Promise<object> => import(`${pathToFileURL(root)}/dist/${path}.js`);
  const modules = Object.assign(
    {},
    ...(await Promise.all(
      ['tray/readTray', 'pattern/developTray', 'exporters/dxf/dxfExporter', 'exporters/registry'].map(from),
    )),
  ) as Modules;
  const { readTray, developTray, dxfExporter, createRegistry } = modules;
  const values = createRegistry([dxfExporter]).values(dxfExporter, {});
  process.on('message', async ({ file }: Asked) => {
    const started = performance.now();
    let solved: Answered['solved'] = null;
    let pattern: Developed | null = null;
    try {
      pattern = developTray(readTray(file));
      if (pattern.kind === 'no flat') pattern = null;
      else await dxfExporter.write(pattern, values);
    } catch {
      pattern = null;
    }
    const milliseconds = performance.now() - started;
    if (pattern !== null) {
      const { field, report } = pattern;
      solved = { rim: rimOf(field.flat, field.rimNodes), triangles: report.solver.triangles };
    }
    process.send!({ milliseconds, solved } satisfies Answered);
  });
  process.on('disconnect', () => process.exit());
  process.send('ready');
}
