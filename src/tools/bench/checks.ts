/** Checks of tray files with many holes: what a stranger's file costs before anything is solved. */
import { csvRows } from '../../batch/csvRows.ts';
import { readTray } from '../../tray/readTray.ts';
import { type Measured, timeOf } from './measure.ts';

type Contents = Readonly<Record<string, unknown>>;

/** A tray with a square grid of holes of so many corners each, with room all round. */
export function perforated(holes: number, corners: number): Contents {
  const across = Math.ceil(Math.sqrt(holes));
  const pitch = 600 / across;
  const points = Array.from({ length: corners }, (_, k) => {
    const angle = (2 * Math.PI * k) / corners;
    return { x: 0.4 * pitch * Math.cos(angle), y: 0.4 * pitch * Math.sin(angle) };
  });
  return {
    name: 'perforated',
    plan: { length: 720, width: 720, cornerRadius: 40 },
    section: { bottomRadius: 15, height: 30 },
    sheet: { material: 'DC04', thickness: 1 },
    holes: Array.from({ length: holes }, (_, i) => ({
      shape: { kind: 'polygon', points },
      place: {
        on: 'base',
        x: ((i % across) - (across - 1) / 2) * pitch,
        y: (Math.floor(i / across) - (across - 1) / 2) * pitch,
      },
    })),
  };
}

export async function checkTimes(): Promise<Measured[]> {
  const measured: Measured[] = [];
  for (const [holes, corners] of [
    [20, 20],
    [40, 40],
    [200, 80],
  ] as const) {
    const tray = perforated(holes, corners);
    measured.push(await timeOf(`${holes} holes of ${corners} corners`, 9, () => readTray(tray)));
  }
  const base = perforated(12, 12);
  const rows = Array.from({ length: 500 }, (_, i) => `r${i},${700 + i / 10}`).join('\n');
  const table = `name,plan.length\n${rows}\n`;
  measured.push(
    await timeOf('table of 500 rows, 12 holes of 12 corners', 3, () => csvRows(table, base, 'table'), {
      warmUp: 1,
    }),
  );
  return measured;
}
