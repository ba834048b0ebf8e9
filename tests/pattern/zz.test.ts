import { test } from 'vitest';
import { polygon, planarIsotropic, solveSpec, symmetryOf } from '../support/trays.ts';
test('x', () => {
  const [ri, ro] = [80, 170];
  const half = [{x: ro, y: 0, radius: 25, bulge: 1}, {x: -ro, y: 0, radius: 25}, {x: -ri, y: 0, radius: 25, bulge: -1}, {x: ri, y: 0, radius: 25}];
  for (const th of [0, .3]) {
  const turned = half.map(({x, y, ...r}) => ({ ...r, x: x*Math.cos(th)-y*Math.sin(th), y: x*Math.sin(th)+y*Math.cos(th)}));
  const spec = polygon(turned, { bottomRadius: 10, height: 20, thickness: 1, measured: 'outside' });
  console.log('OV', JSON.stringify(symmetryOf(spec)));
  for (const use of ['all', 'none'] as const) { try {
  const s = solveSpec(spec, planarIsotropic(1.8,.22), { symmetryUse: use });
  const r = Array.from(s.mesh.rim); const p = (i: number) => [s.flat[2*r[i]!]!.toFixed(4), s.flat[2*r[i]!+1]!.toFixed(4), s.mesh.mirror[r[i]!]];
  console.log('OV', th, use, s.mesh.mirrorLines === null, JSON.stringify([0,1,2,3,4].map(p)), JSON.stringify([5,4,3,2,1].map((k) => p(r.length-k))), s.estimate);
  } catch (e) { console.log('OV', th, use, (e as Error).message); } }
  }
});
