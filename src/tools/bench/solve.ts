/** Bench of the main job: one tray to its DXF, warm, part by part, and from a cold start. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { dxfExporter } from '../../exporters/dxf/dxfExporter.ts';
import { plasticLaw } from '../../material/law.ts';
import { resolveSheet } from '../../material/sheets.ts';
import { arcLengthFlat, prolongFlat, quadraticMesh } from '../../mesh/quadraticMesh.ts';
import { midpoints, refine } from '../../mesh/skeleton.ts';
import { findSymmetry, symmetryVertices } from '../../mesh/symmetry.ts';
import { traySkeleton } from '../../mesh/traySkeleton.ts';
import { flatPatternOf } from '../../pattern/developed.ts';
import { developTray } from '../../pattern/developTray.ts';
import { fitSolvedLine } from '../../pattern/fittedLines.ts';
import { EXACT, NONE } from '../../solve/constitutive.ts';
import { elementGeometry } from '../../solve/elements.ts';
import { equilibrium } from '../../solve/equilibrium.ts';
import { DEFAULT_SOLVE, StructureCache, solveTray } from '../../solve/solveTray.ts';
import { solverStructure } from '../../solve/structure.ts';
import { neutralSurface } from '../../tray/neutralSurface.ts';
import { parseTray, readTray } from '../../tray/readTray.ts';
import type { TraySpec } from '../../tray/spec.ts';
import { type Measured, median, timeOf } from './measure.ts';

const SAMPLES = fileURLToPath(new URL('../../../samples/', import.meta.url));
const ROOT = fileURLToPath(new URL('../../../', import.meta.url));

/** The command of a program, by the folder it stands in. */
export function commandOf(root: string): string {
  const { bin } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as {
    bin: { gatherpan: string };
  };
  return join(root, bin.gatherpan);
}

/** The demo trays that need no other file. */
export function demoTrays(): TraySpec[] {
  return readdirSync(SAMPLES)
    .filter((file) => file.endsWith('.json'))
    .sort()
    .flatMap((file) => {
      const value = parseTray(readFileSync(join(SAMPLES, file), 'utf8')) as { plan?: { dxf?: unknown } };
      return value.plan?.dxf === undefined ? [readTray(value)] : [];
    });
}

const dxfValues = { marks: '', version: 'R2000' } as const;

/** Warm: tray file values to the bytes of a DXF. */
export async function warmSolves(): Promise<Measured[]> {
  const structures = new StructureCache(64);
  const out: Measured[] = [];
  for (const spec of demoTrays()) {
    const pattern = flatPatternOf(developTray(spec, { solve: { structures } }));
    const symmetry = findSymmetry(
      symmetryVertices(spec),
      neutralSurface(spec).loop,
      plasticLaw(resolveSheet(spec.sheet).material, 0).isotropicInPlane
        ? null
        : (spec.sheet.grain * Math.PI) / 180,
    );
    const parts = symmetry === null ? 1 : 2 * symmetry.order;
    out.push(
      await timeOf(
        spec.name,
        parts === 1 ? 9 : 25,
        async () => dxfExporter.write(flatPatternOf(developTray(spec, { solve: { structures } })), dxfValues),
        {
          ...(parts >= 4 ? { bar: 25 } : parts === 1 ? { bar: 250 } : {}),
          note: `1/${parts} of the tray, ${pattern.report.solver.triangles} triangles, ${pattern.report.solver.steps} steps`,
        },
      ),
    );
  }
  return out;
}

/** The parts of one quarter-symmetric solve. */
export async function partsOfSolve(): Promise<Measured[]> {
  const spec = demoTrays().find((tray) => tray.name.includes('propagator'))!;
  const sheet = resolveSheet(spec.sheet);
  const law = plasticLaw(sheet.material, sheet.grain);
  const surface = neutralSurface(spec);
  const symmetry = findSymmetry(symmetryVertices(spec), surface.loop, sheet.grain)!;
  const lines = {
    centreX: 0,
    centreY: 0,
    firstAngle: symmetry.startAngle,
    lastAngle: symmetry.endAngle,
  };
  const meshes = () => {
    const skeleton = traySkeleton(surface, symmetry);
    const middles = midpoints(skeleton);
    const coarse = quadraticMesh(skeleton, middles, lines);
    const fineSkeleton = refine(skeleton, middles);
    return { coarse, fine: quadraticMesh(fineSkeleton, midpoints(fineSkeleton), lines) };
  };
  const { coarse, fine } = meshes();
  const structure = solverStructure(fine);
  const geometry = elementGeometry(fine);
  const system = equilibrium(fine, structure, geometry);
  const flat = prolongFlat(coarse, fine, arcLengthFlat(coarse));
  const structures = new StructureCache();
  const solution = solveTray(surface, symmetry, law, { ...DEFAULT_SOLVE, structures });
  const pattern = flatPatternOf(developTray(spec, { solve: { structures } }));
  const right = new Float64Array(structure.unknownCount).fill(1);
  return [
    await timeOf('both meshes', 40, meshes),
    await timeOf('order of elimination (once per topology)', 20, () => solverStructure(fine)),
    await timeOf('element geometry', 40, () => elementGeometry(fine)),
    await timeOf('residual', 60, () => system.assembler(system, law, flat, null, NONE)),
    await timeOf('residual and tangent', 60, () => system.assembler(system, law, flat, null, EXACT)),
    await timeOf('tangent and factorisation', 60, () => {
      system.assembler(system, law, flat, null, EXACT);
      system.factors.factorise();
    }),
    await timeOf('one solution with the factors', 60, () => system.factors.solve(right.slice())),
    await timeOf('whole solve, both meshes', 25, () =>
      solveTray(surface, symmetry, law, { ...DEFAULT_SOLVE, structures }),
    ),
    await timeOf('outline fit', 40, () =>
      fitSolvedLine(solution, { nodes: solution.mesh.rim, closed: false }),
    ),
    await timeOf('DXF', 60, () => dxfExporter.write(pattern, dxfValues)),
  ];
}

/**
 * The command from a cold start to the file, and the memory it takes.
 *
 * @param root folder of the program
 */
export function coldStart(runs = 7, root = ROOT): Measured[] {
  const folder = mkdtempSync(join(tmpdir(), 'gatherpan-bench-'));
  const times: number[] = [];
  const memory: number[] = [];
  const report = join(folder, 'peak.cjs');
  try {
    const tray = join(SAMPLES, readdirSync(SAMPLES).find((file) => file.includes('propagator'))!);
    // A preload tells the peak resident set when the command ends. Where Linux tells it, not by maxRSS: that of a
    // child begins with what this process had before it.
    const preload = `
      const { existsSync, readFileSync, writeFileSync } = require('fs');
      const status = '/proc/self/status';
      process.on('exit', () => {
        const own = existsSync(status) ? /VmHWM:\\s+(\\d+)/.exec(readFileSync(status, 'utf8')) : null;
        writeFileSync(${JSON.stringify(join(folder, 'peak'))}, String(own?.[1] ?? process.resourceUsage().maxRSS));
      });`;
    writeFileSync(report, preload);
    for (let i = 0; i < runs; i++) {
      const start = performance.now();
      const result = spawnSync(process.execPath, [
        '-r',
        report,
        commandOf(root),
        'make',
        tray,
        '--out',
        folder,
      ]);
      if (result.status !== 0) throw new Error(`cold start failed: ${result.stderr.toString()}`);
      times.push(performance.now() - start);
      memory.push(Number(readFileSync(join(folder, 'peak'), 'utf8')) / 1024);
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  return [
    { name: 'gatherpan make, cold start to DXF', median: median(times), unit: 'ms', runs, bar: 500 },
    { name: 'peak memory of that', median: median(memory), unit: 'MB', runs, bar: 200 },
  ];
}
