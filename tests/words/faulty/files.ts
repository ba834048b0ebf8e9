/** Files whose fields are missing, unknown or odd, one by one or together, and texts that are no files. */
import { gaugeThickness } from '../../../src/tray/gauge.ts';
import { parseTray } from '../../../src/tray/readTray.ts';
import { changed, customMaterial, goodFile } from '../../tray/trayFiles.ts';
import { holed, onBase, onTop, point, round } from './holes.ts';
import { ell, reads, withPlan } from './plans.ts';
import type { Work } from './work.ts';

/** Values that do not belong where they stand. */
const ODD: readonly unknown[] = [
  undefined,
  null,
  true,
  '12',
  '1,5',
  'x y',
  '',
  -1,
  1e9,
  [],
  [1, 2],
  {},
  { kind: 'bead' },
  () => 1,
];

/** The paths of all values of a file, inner ones too. */
function pathsOf(value: unknown, prefix = ''): string[] {
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => [
    `${prefix}${key}`,
    ...pathsOf(inner, `${prefix}${key}.`),
  ]);
}

/** Sound files that have every field between them. */
const SOUND: readonly object[] = [
  {
    ...goodFile(),
    $schema: 'x',
    units: 'mm',
    measured: 'inside',
    plan: { length: 420, width: 280, cornerRadius: [45, 45, 0, 0], openEdges: ['bottom'] },
    section: {
      bottomRadius: 22,
      height: 60,
      draft: 5,
      rim: { kind: 'lip', direction: 'out', bendRadius: 5, width: 20 },
    },
    forming: {
      trim: 'auto',
      hand: 0.4,
      spread: 1,
      zoneThreshold: 2,
      stages: [30, 60],
      corners: 'gather',
      weldGap: 1,
      notchRelief: 3,
    },
    cut: { process: 'laser', kerf: 0.2, compensate: true },
  },
  {
    ...goodFile(),
    plan: { ...ell(30, 40), cornerRadius: 30, openEdges: [1] },
    section: { bottomRadius: 22, heights: [60, 60, 60, 60, 60, 60], runOut: 0, rim: { kind: 'plain' } },
    sheet: {
      material: { ...customMaterial, strainBudget: 0.3, annealTemperature: [600, 700] },
      thickness: { gauge: 18, system: 'SWG' },
      grain: 0,
    },
    forming: { corners: ['gather', 'gather', 'gather', 'gather', 'gather', 'gather'] },
    holes: [
      round(9, onBase(60, 60), { name: 'drain' }),
      { shape: { kind: 'slot', length: 20, width: 6, angle: 0 }, place: { ...onTop(0, 40), edge: 0 } },
      {
        shape: { kind: 'polygon', points: [point(-5, -5), point(5, -5), point(0, 5)] },
        place: onBase(80, 100),
      },
    ],
  },
  { ...goodFile(), plan: { dxf: 'plan.dxf', layer: 'PLAN', cornerRadius: 30, openEdges: [0] } },
];

/** One odd value at a time in the place of every value of a sound file. */
export const oneOddValue: readonly Work[] = SOUND.flatMap((file) =>
  pathsOf(file).flatMap((path) => reads(ODD.map((value) => changed({ [path]: value }, file)))),
);

/** Files of other lists, in inches and with fields that do not belong. */
export const wholeFiles: readonly Work[] = reads([
  undefined,
  null,
  [],
  7,
  7n,
  'a tray',
  changed({ name: undefined }),
  changed({ name: 'a\nb' }),
  changed({ units: 'in' }),
  changed({ units: 'in', 'forming.trim': 'all', 'sheet.thickness': 'thick' }),
  changed({ 'plan.lenght': 5 }),
  changed({ 'plan.vertices': [] }),
  changed({ 'section.grain': 5 }),
  changed({ 'section.rim': { kind: 'plain', width: 5 } }),
  changed({ 'sheet.colour of the paint': 5 }),
  changed({ 'sheet.material': 'x'.repeat(300) }),
  changed({ 'sheet.material': 'tin\u0007' }),
  changed({ 'sheet.thickness': { gauge: 2, system: 'Galvanized Sheet' } }),
  changed({ 'sheet.material': { ...customMaterial, tensileStrength: 100 } }),
  changed({ 'sheet.material': { ...customMaterial, strengths: 1 } }),
  changed({ 'sheet.material': { ...customMaterial, family: 'titanium', strengths: { at45: 1, at90: 1 } } }),
  changed({ 'sheet.material': { ...customMaterial, family: 'other', strengths: { at45: 1, at90: 1 } } }),
  changed({ 'sheet.material': { ...customMaterial, family: 'steel', strengths: { at45: 0.5, at90: 2 } } }),
  changed({ 'sheet.material': { ...customMaterial, annealTemperature: [700, 600] } }),
  changed({ 'sheet.material': { ...customMaterial, coating: 'zinc', annealTemperature: [600, 700] } }),
  changed({ 'sheet.material': { ...customMaterial, family: 'magnesium', annealTemperature: [600, 700] } }),
  changed({ 'sheet.material': { ...customMaterial, strainBudget: 0.2, annealedStrainBudget: 0.1 } }),
  changed({ 'forming.stages': Array.from({ length: 40 }, (_, i) => i + 1) }),
  changed({ 'plan.openEdges': ['top', 'left', 'bottom', 'right', 'top'] }),
  withPlan({ vertices: Array.from({ length: 400 }, (_, i) => point(i, i)) }),
  withPlan({ ...ell(20, 40), openEdges: Array.from({ length: 400 }, () => 0) }),
  changed({ 'section.heights': Array.from({ length: 400 }, () => 5) }),
  holed(Array.from({ length: 400 }, () => round(3, onBase(0, 0)))),
  holed([{ shape: { kind: 'polygon', points: [point(0, 0)] }, place: onBase(0, 0) }]),
  changed({ name: Symbol('x') }),
]);

export const texts: readonly Work[] = [
  '',
  '{',
  '{"a" 1}',
  '{"a": 1 2}',
  '{"a": 1,}',
  '[1,]',
  '[',
  '{} 1',
  '[1',
  `"${'x'.repeat(2_000_000)}"`,
  '{"a":}',
  '{a: 1}',
  '[}',
].map((text) => () => parseTray(text));

export const gauges: readonly Work[] = [
  () => gaugeThickness(18, 'SVG'),
  () => gaugeThickness(18, 'a ruler'),
  () => gaugeThickness(99, 'SWG'),
];
