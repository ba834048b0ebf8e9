import { test } from 'vitest';
import { developTray } from '../../src/pattern/developTray.ts';
import { readTray } from '../../src/tray/readTray.ts';
test('x', () => {
  const C = (height: number, gap: number) => { const a = gap/2*Math.PI/180, b = Math.tan((360-gap)/8*Math.PI/180); const [ri, ro] = [80, 170];
   return readTray({ name: 'n', measured:'outside', plan: { vertices: [
    {x: ro*Math.cos(a), y: ro*Math.sin(a), radius: 25, bulge: b}, {x: -ro, y: 0, radius: 0, bulge: b}, {x: ro*Math.cos(a), y: -ro*Math.sin(a), radius: 25},
    {x: ri*Math.cos(a), y: -ri*Math.sin(a), radius: 25, bulge: -b}, {x: -ri, y: 0, radius: 0, bulge: -b}, {x: ri*Math.cos(a), y: ri*Math.sin(a), radius: 25} ] }, section: { bottomRadius: 10, height },
      sheet: { material: 'DC04', thickness: 1 } }); };
  for (const [h, g] of [[11, 25], [11, 60], [11, 120], [20, 120], [20, 178], [11, 178]] as const) {
    const t0 = performance.now();
    try { const p = developTray(C(h, g)); console.log('OV', h, g, 'ok', Math.max(...p.field.majorStrain), p.report.solver.steps, performance.now()-t0); } catch (e) { console.log('OV', h,g, (e as {code:string}).code, (e as Error).message, performance.now()-t0); }
  }
});
