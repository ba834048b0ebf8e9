/** Holes that are not where they can be. */
import { type Corner, ell, reads, rectangle, withPlan } from './plans.ts';
import type { Work } from './work.ts';

export const point = (x: number, y: number): Corner => ({ x, y });
export const onBase = (x: number, y: number): object => ({ on: 'base', x, y });
export const onTop = (along: number, height: number): object => ({ on: 'wall', edge: 'top', along, height });
export const round = (diameter: number, place: object, more: object = {}): object => ({
  shape: { kind: 'round', diameter },
  place,
  ...more,
});
export const holed = (holes: unknown, more: Record<string, unknown> = {}): unknown =>
  withPlan(rectangle, { holes, ...more });

const square = [point(-5, -5), point(5, -5), point(5, 5), point(-5, 5)];
const polygonHole = (points: object[]): object => ({
  shape: { kind: 'polygon', points },
  place: onBase(0, 0),
});
export const holes: readonly Work[] = reads([
  ...[
    [round(30, onBase(130, 0))],
    [round(30, onBase(124.5, 0))],
    [round(10, onTop(0, 12))],
    [round(10, onTop(110, 20))],
    [round(300, onTop(0, 20))],
    [round(30, onTop(0, 20))],
    [round(30, onBase(0, 0)), round(30, onBase(20, 0))],
    [round(30, onBase(0, 0)), round(30, onBase(30.5, 0))],
    [round(9, onBase(0, 0), { name: 'a' }), round(9, onBase(50, 0), { name: 'a' })],
    [{ shape: { kind: 'slot', length: 8, width: 8 }, place: onBase(0, 0) }],
    [polygonHole([square[0]!, square[2]!, square[1]!, square[3]!])],
    [polygonHole([...square].reverse())],
    [polygonHole([square[0]!, square[0]!, square[1]!, square[2]!])],
    [{ shape: { kind: 'square' }, place: onBase(0, 0) }],
    [round(9, { on: 'lip' })],
    [round(9, { ...onTop(0, 20), edge: 4 })],
    [round(9, { ...onTop(0, 20), edge: 'front' })],
  ].map((list) => holed(list)),
  holed([round(9, onTop(0, 20))], { 'plan.openEdges': ['top'] }),
  withPlan(ell(20, 40), { holes: [round(9, onTop(0, 20))] }),
]);
