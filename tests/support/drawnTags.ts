/** Drawings written tag by tag. Source: DXF Reference, HEADER and ENTITIES sections. */

export type Tag = readonly [code: number, value: string | number];

/** A drawing of entities. @param unit $INSUNITS, left out when absent */
export const dxf = (entities: readonly (readonly Tag[])[], unit?: number): string =>
  [
    [0, 'SECTION'],
    [2, 'HEADER'],
    ...(unit === undefined ? [] : [[9, '$INSUNITS'] as Tag, [70, unit] as Tag]),
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'ENTITIES'],
    ...entities.flat(),
    [0, 'ENDSEC'],
    [0, 'EOF'],
  ]
    .map(([code, value]) => `${code}\n${value}\n`)
    .join('');

export const line = (x0: number, y0: number, x1: number, y1: number, layer = '0'): Tag[] => [
  [0, 'LINE'],
  [8, layer],
  [10, x0],
  [20, y0],
  [11, x1],
  [21, y1],
];
export const circle = (x: number, y: number, radius: number, layer = '0'): Tag[] => [
  [0, 'CIRCLE'],
  [8, layer],
  [10, x],
  [20, y],
  [40, radius],
];

/**
 * @param points with the bulge of the edge that begins there
 * @param more   what each point has besides
 */
export const polyline = (
  points: readonly (readonly [number, number, number?])[],
  closed = true,
  more: readonly Tag[] = [],
  layer = '0',
): Tag[] => [
  [0, 'LWPOLYLINE'],
  [8, layer],
  [90, points.length],
  [70, closed ? 1 : 0],
  ...points.flatMap(([x, y, bulge]): Tag[] => [
    [10, x],
    [20, y],
    ...(bulge === undefined ? [] : ([[42, bulge]] as Tag[])),
    ...more,
  ]),
];

interface DrawnBlock {
  readonly base: readonly [number, number];
  readonly entities: readonly (readonly Tag[])[];
}

/** A drawing with blocks by name. */
export function drawnWithBlocks(
  entities: readonly (readonly Tag[])[],
  blocks: Readonly<Record<string, DrawnBlock>>,
): string {
  const section: Tag[] = [
    [0, 'SECTION'],
    [2, 'BLOCKS'],
    ...Object.entries(blocks).flatMap(([name, block]): Tag[] => [
      [0, 'BLOCK'],
      [8, '0'],
      [2, name],
      [70, 0],
      [10, block.base[0]],
      [20, block.base[1]],
      ...block.entities.flat(),
      [0, 'ENDBLK'],
      [8, '0'],
    ]),
    [0, 'ENDSEC'],
  ];
  return section.map(([code, value]) => `${code}\n${value}\n`).join('') + dxf(entities);
}
