import { test } from 'vitest';
import { developTray } from '../../src/pattern/developTray.ts';
import { readTray } from '../../src/tray/readTray.ts';
test('x', () => {
  const go = (name: string, vertices: object[], solve = {}) => {
    try { const p = developTray(readTray({ name: 'n', measured:'outside', plan: { vertices }, section: { bottomRadius: 10, height: 20 }, sheet: { material: 'DC04', thickness: 1 } }), {solve}); console.log('OV', name, 'ok', Math.max(...p.field.majorStrain)); } catch (e) { console.log('OV', name, (e as {code:string}).code, (e as Error).message); }
  };
  const [ri, ro] = [80, 170];
  const half = [{x: ro, y: 0, radius: 25, bulge: 1}, {x: -ro, y: 0, radius: 25}, {x: -ri, y: 0, radius: 25, bulge: -1}, {x: ri, y: 0, radius: 25}];
  const q = Math.tan(Math.PI/8);
  const split = [{x: ro, y: 0, radius: 25, bulge: q}, {x: 0, y: ro, radius: 0, bulge: q}, {x: -ro, y: 0, radius: 25}, {x: -ri, y: 0, radius: 25, bulge: -q}, {x: 0, y: ri, radius: 0, bulge: -q}, {x: ri, y: 0, radius: 25}];
  const turned = half.map(({x, y, ...r}) => ({ ...r, x: x*Math.cos(.3)-y*Math.sin(.3), y: x*Math.sin(.3)+y*Math.cos(.3)}));
  go('half single', half); go('half single none', half, {symmetryUse: 'none'}); go('half split', split); go('half split none', split, {symmetryUse:'none'}); go('turned', turned);
  go('big half', [{x: 260, y: 0, radius: 40, bulge: 1}, {x: -260, y: 0, radius: 40}, {x: -100, y: 0, radius: 40, bulge: -1}, {x: 100, y: 0, radius: 40}]);
  go('notched side', [{x:-300,y:-210,radius:40},{x:300,y:-210,radius:40},{x:300,y:210,radius:40},{x:80,y:210,radius:32,bulge:-1},{x:-80,y:210,radius:32},{x:-300,y:210,radius:40}]);
  go('asym notched side', [{x:-300,y:-210,radius:40},{x:300,y:-210,radius:50},{x:300,y:210,radius:40},{x:80,y:210,radius:32,bulge:-1},{x:-80,y:210,radius:32},{x:-300,y:210,radius:40}]);
});
