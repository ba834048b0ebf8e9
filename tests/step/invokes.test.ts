/** Calls of the kernel that may be thrown out of: the kernel's exceptions pass through them and unwind what they leave. */
import { expect, it } from 'vitest';
import { areaOf } from '../../src/step/occt/measures.ts';
import { box } from './foreignParts.ts';
import { occt } from './occt.ts';

it('what the kernel throws comes out of it, and it goes on', async () => {
  const k = await occt();
  for (let i = 0; i < 3; i++) {
    // Directions without a length and boxes without sides are exceptions of the kernel (Standard_ConstructionError).
    expect(() => new k.gp_Dir_4(0, 0, 0)).toThrow();
    expect(() => new k.BRepPrimAPI_MakeBox_1(0, 0, 0).Shape()).toThrow();
  }
  expect(areaOf(k, box(k, [0, 0, 0], [1, 2, 3]))).toBeCloseTo(22, 9);
});
