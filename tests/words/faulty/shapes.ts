/** Trays whose numbers do not go together. */
import { changed, WAIST } from '../../tray/trayFiles.ts';
import type { Corner } from './plans.ts';
import { dee, disc, ell, mouth, polygon, reads, rectangle, withPlan } from './plans.ts';
import type { Work } from './work.ts';

const waist = polygon(WAIST);
const cleft = (radius: number, outer = 20): { vertices: Corner[] } =>
  polygon([
    [0, 0, outer],
    [300, 0, outer],
    [300, 100, outer],
    [100, 100, radius],
    [100, 150, radius],
    [300, 150, outer],
    [300, 250, outer],
    [0, 250, outer],
  ]);

const lip = (more: object = {}): object => ({
  kind: 'lip',
  direction: 'out',
  bendRadius: 5,
  width: 15,
  ...more,
});

export const shapes: readonly Work[] = reads([
  // Bottom radius and thickness
  changed({ 'section.bottomRadius': 200, 'section.height': 200 }),
  changed({ 'section.bottomRadius': 400, 'section.draft': 10, 'section.height': 400 }),
  changed({ plan: { length: 200, width: 280, cornerRadius: 45 }, 'section.bottomRadius': 150 }),
  changed({
    plan: { length: 200, width: 280, cornerRadius: 45 },
    'section.bottomRadius': 150,
    'section.draft': 10,
  }),
  withPlan({ length: 300, width: 24, openEdges: ['left', 'right', 'top'] }, { 'section.bottomRadius': 30 }),
  withPlan({ length: 24, width: 300, openEdges: ['left', 'bottom', 'top'] }, { 'section.bottomRadius': 30 }),
  changed({ 'section.bottomRadius': 3, 'sheet.thickness': 2 }),
  changed({ 'section.bottomRadius': 3, 'sheet.thickness': 4 }),
  changed({ measured: 'inside', 'section.bottomRadius': 3, 'sheet.thickness': 4 }),
  changed({ measured: 'inside', 'section.bottomRadius': 0.5, 'sheet.thickness': 4 }),
  changed({ 'section.bottomRadius': 0.5, 'sheet.thickness': 0.4 }),
  changed({ measured: 'inside', 'section.bottomRadius': 0.05, 'sheet.thickness': 0.4 }),
  // Corners
  changed({ 'plan.cornerRadius': 20 }),
  changed({ 'plan.cornerRadius': 8, 'section.draft': 10 }),
  changed({ 'plan.cornerRadius': 150 }),
  changed({ plan: { length: 200, width: 280, cornerRadius: 120 } }),
  changed({ 'plan.cornerRadius': [100, 200, 90, 45] }),
  changed({ 'plan.cornerRadius': [300, 200, 45, 45] }),
  withPlan({ length: 300, width: 200, cornerRadius: [0, 40, 250, 0], openEdges: ['right'] }),
  withPlan({ length: 300, width: 200, cornerRadius: [0, 0, 350, 30], openEdges: ['top'] }),
  withPlan({ length: 300, width: 200, cornerRadius: [0, 350, 40, 0], openEdges: ['right'] }),
  withPlan({ length: 300, width: 200, cornerRadius: [0, 0, 40, 350], openEdges: ['top'] }),
  withPlan({ length: 300, width: 200, cornerRadius: [350, 0, 0, 40], openEdges: ['left'] }),
  changed({ 'plan.cornerRadius': 0.5, 'section.bottomRadius': 22 }),
  withPlan(ell(0, 40)),
  withPlan(ell(20, 0)),
  withPlan(ell(20, 0.3)),
  withPlan(ell(8, 40)),
  withPlan(ell(5, 40), { 'section.draft': 20 }),
  withPlan(disc(8)),
  withPlan(disc(6), { 'section.draft': 20, 'section.height': 12 }),
  withPlan(
    polygon([
      [150, 0, 20, 0.6],
      [-150, 0, 20],
      [-150, -150, 20],
      [150, -150, 20],
    ]),
  ),
  withPlan(
    polygon([
      [150, 0, 200, 0.6],
      [-150, 0, 20],
      [-150, -150, 20],
      [150, -150, 20],
    ]),
  ),
  withPlan(
    polygon([
      [60, 0, 300, 0.4],
      [-60, 0, 300],
      [-60, -20, 8],
      [60, -20, 8],
    ]),
  ),
  withPlan({ vertices: ell(20, 140).vertices.map((v, i) => (i === 2 ? { ...v, radius: 10 } : v)) }),
  withPlan({ vertices: ell(20, 200).vertices, openEdges: [1, 4] }),
  withPlan({ ...rectangle, cornerRadius: [0, 40, 40, 40], openEdges: ['right'] }),
  withPlan(
    { ...rectangle, cornerRadius: [40, 0, 40, 40] },
    {
      'forming.corners': ['notch', 'notch', 'gather', 'gather'],
    },
  ),
  withPlan(ell(0, 0), { 'forming.corners': 'notch' }),
  ...[
    { 'section.bottomRadius': 8, 'section.height': 9, 'cut.kerf': 10 },
    { 'section.bottomRadius': 19.9, 'section.height': 40 },
    { 'section.bottomRadius': 12, 'section.height': 30, 'forming.notchRelief': 20 },
  ].map((more) => withPlan({ length: 40, width: 60 }, { 'forming.corners': 'notch', ...more })),
  withPlan(
    polygon([
      [0, 0],
      [200, 0],
      [200, 96],
      [196, 100],
      [0, 100],
    ]),
    { 'forming.corners': 'notch', 'section.bottomRadius': 2, 'section.height': 30, 'forming.weldGap': 5 },
  ),
  withPlan(ell(0, 0), { 'forming.corners': ['notch', 'notch', 'notch', 'notch', 'notch', 'notch'] }),
  withPlan(dee(0.4), { 'forming.corners': ['notch', 'gather', 'gather', 'gather'] }),
  withPlan(ell(20, 40), { 'forming.corners': ['notch', 'gather', 'gather', 'gather', 'gather', 'gather'] }),
  withPlan({ ...ell(20, 40), openEdges: [0] }),
  withPlan(rectangle, { 'forming.corners': ['notch'] }),
  // Plan
  withPlan(
    polygon([
      [50, 0, 0, 1],
      [-50, 0],
    ]),
  ),
  withPlan({ vertices: disc(60).vertices.map((v) => ({ ...v, bulge: -1 })) }),
  withPlan(dee(-0.9, 15)),
  withPlan(dee(1, 10)),
  withPlan(dee(0.995)),
  withPlan(
    polygon([
      [0, 0, 20],
      [100, 0, 20],
      [200, 0, 20],
      [200, 200, 20],
      [0, 200, 20],
    ]),
  ),
  withPlan(
    polygon([
      [0, 0, 20],
      [200, 0, 20],
      [200, 200, 20],
      [0, 0, 20],
    ]),
  ),
  withPlan(
    polygon([
      [0, 0, 2],
      [5, 0, 2],
      [5, 200, 2],
      [0, 200, 2],
    ]),
  ),
  withPlan({ ...rectangle, cornerRadius: undefined }),
  withPlan({ ...rectangle, openEdges: ['top', 0] }),
  withPlan({ ...rectangle, openEdges: ['top', 'left', 'bottom', 'right'] }),
  withPlan({ ...ell(20, 40), openEdges: [7] }),
  withPlan({ ...waist, cornerRadius: 15 }, { 'section.bottomRadius': 14 }),
  withPlan(cleft(2, 4), { 'section.bottomRadius': 4, 'section.draft': 30, 'section.height': 80 }),
  withPlan(
    polygon([
      [0, 0, 40, 0.2],
      [300, 0, 40],
      [150, 260, 40],
    ]),
    { 'section.bottomRadius': 130, 'section.height': 200 },
  ),
  withPlan(
    {
      vertices: polygon([
        [0, 0],
        [300, 0],
        [300, 40],
        [0, 40],
      ]).vertices,
      openEdges: [1],
    },
    { 'forming.corners': 'notch', 'section.bottomRadius': 25 },
  ),
  withPlan(
    { length: 60, width: 300, openEdges: ['top', 'bottom'] },
    {
      'section.bottomRadius': 10,
      'section.rim': lip({ direction: 'in', width: 45 }),
    },
  ),
  // A neck that no bend goes through, walls of a cleft, a rounded corner in the way of a wall.
  withPlan(
    {
      ...polygon([
        [0, 0],
        [100, 0],
        [100, 99.6],
        [120, 99.6],
        [120, 0],
        [220, 0],
        [220, 200],
        [120, 200],
        [120, 100.4],
        [100, 100.4],
        [100, 200],
        [0, 200],
      ]),
      cornerRadius: 5,
    },
    { 'section.bottomRadius': 4 },
  ),
  withPlan(mouth, { section: { bottomRadius: 4, height: 30, draft: 15 } }),
  withPlan(
    { length: 300, width: 56, cornerRadius: [29.6, 0, 0, 0], openEdges: ['left'] },
    {
      section: { bottomRadius: 10, height: 30, rim: lip({ direction: 'in', width: 29 }) },
      'forming.corners': ['gather', 'gather', 'gather', 'notch'],
    },
  ),
  // Arcs of less than a millimetre
  withPlan(
    polygon([
      [0.3, 100, 0, 1],
      [-0.3, 100],
      [-50, 0, 20],
      [50, 0, 20],
    ]),
  ),
  withPlan(
    polygon([
      [0.4, 0, 20, 0.6],
      [-0.4, 0, 20],
      [-50, -150, 20],
      [50, -150, 20],
    ]),
  ),
  withPlan({
    vertices: polygon([
      [0, 0, 20],
      [300, 0, 20],
      [300, 30],
      [0, 200, 20],
    ]).vertices.map((v, i) => (i === 1 ? { ...v, radius: 60 } : v)),
  }),
  // Heights and lips
  changed({ 'section.height': 11 }),
  changed({ 'section.height': 8, 'section.draft': 10 }),
  withPlan(rectangle, { section: { bottomRadius: 10, height: 14, rim: lip() } }),
  withPlan(rectangle, { section: { bottomRadius: 10, height: 30, rim: lip({ width: 4 }) } }),
  withPlan(rectangle, { section: { bottomRadius: 10, height: 30, rim: lip({ bendRadius: 0.5 }) } }),
  withPlan(rectangle, {
    section: { bottomRadius: 10, height: 30, rim: lip({ direction: 'in', bendRadius: 1.5 }) },
  }),
  withPlan(rectangle, {
    section: { bottomRadius: 10, height: 30, rim: lip({ direction: 'in', bendRadius: 0.9 }) },
  }),
  withPlan(rectangle, {
    section: { bottomRadius: 10, height: 30, rim: lip({ direction: 'in', width: 45 }) },
  }),
  withPlan(
    { length: 300, width: 60, openEdges: ['left', 'right'] },
    { section: { bottomRadius: 10, height: 30, rim: lip({ direction: 'in', width: 35 }) } },
  ),
  withPlan(cleft(12), { section: { bottomRadius: 10, height: 30, rim: lip() } }),
  withPlan(cleft(26), { section: { bottomRadius: 10, height: 30, rim: lip({ width: 25.5 }) } }),
  withPlan(cleft(12), { section: { bottomRadius: 10, height: 30, draft: 10, rim: lip() } }),
  withPlan(ell(20, 5), { 'section.draft': 20 }),
  withPlan(ell(20, 3), { measured: 'inside', 'sheet.thickness': 3 }),
  withPlan(dee(-0.9, 15), { section: { bottomRadius: 10, height: 30, rim: lip() } }),
  withPlan(
    polygon([
      [300, 200, 30, -0.9],
      [0, 200, 30],
      [0, 0, 30],
      [300, 0, 30],
    ]),
    { section: { bottomRadius: 10, height: 30, rim: lip({ width: 180 }) } },
  ),
  withPlan(disc(60), { section: { bottomRadius: 10, height: 30, rim: lip({ direction: 'in', width: 61 }) } }),
  withPlan(rectangle, { section: { bottomRadius: 10 } }),
  withPlan(rectangle, { section: { bottomRadius: 10, heights: [50, 30] } }),
  withPlan(rectangle, { section: { bottomRadius: 10, height: 40, heights: [50, 30, 30, 30] } }),
  withPlan(rectangle, { section: { bottomRadius: 10, heights: { top: 50 } } }),
  withPlan(rectangle, { section: { bottomRadius: 10, height: 30, heights: { 'A–C': 50 } } }),
  withPlan(rectangle, { section: { bottomRadius: 10, height: 30, heights: { any: 50 } } }),
  withPlan(rectangle, { 'forming.corners': { E: 'notch' } }),
  withPlan(rectangle, { section: { bottomRadius: 10, height: 30, heights: { 'A–B': 50, 'B–A': 40 } } }),
  withPlan(rectangle, { section: { bottomRadius: 10, heights: [50, 30, 10.5, 30] } }),
  withPlan(rectangle, { section: { bottomRadius: 10, heights: [50, 30, 30, 30], rim: lip() } }),
  withPlan(dee(1), { section: { bottomRadius: 10, heights: { top: 50 } } }),
  withPlan(dee(1), { section: { bottomRadius: 10, heights: [30, 50, 50, 30] } }),
  withPlan(
    { ...rectangle, cornerRadius: [40, 0, 40, 40] },
    {
      section: { bottomRadius: 10, heights: [50, 30, 30, 50] },
      'forming.corners': ['gather', 'notch', 'gather', 'gather'],
    },
  ),
  withPlan(rectangle, { section: { bottomRadius: 10, heights: [50, 30, 30, 30], runOut: 70 } }),
]);
