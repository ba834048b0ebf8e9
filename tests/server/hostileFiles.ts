/** Files made to hold up whoever reads them: drawings and solids, each with what is to be answered. */
import { writeFormedSolid } from '../../src/step/formedSolid.ts';
import { tray } from '../step/trays.ts';
import { drawnWithBlocks, dxf, type Tag } from '../support/drawnTags.ts';

/** A file, and the code and a part of the sentence that it is refused with; without them it is read all the same. */
export interface HostileFile {
  readonly what: string;
  readonly content: () => string;
  readonly refused?: { readonly code: 'BAD_INPUT' | 'TOO_LARGE'; readonly says: RegExp };
  /** Whether only the geometry kernel can tell: in every run, or in the long form only, because that takes seconds. */
  readonly kernel?: 'always' | 'long';
}

const insert = (name: string, columns = 1, rows = 1, more: readonly Tag[] = []): Tag[] => [
  [0, 'INSERT'],
  [8, '0'],
  [2, name],
  [10, 0],
  [20, 0],
  [44, 1],
  [45, 1],
  [70, columns],
  [71, rows],
  ...more,
];
const dot: Tag[] = [
  [0, 'LINE'],
  [8, '0'],
  [10, 0],
  [20, 0],
  [11, 0],
  [21, 0],
];
const points = (count: number): Tag[] =>
  Array.from({ length: count }, (_, i): Tag[] => [
    [10, i % 7],
    [20, i % 5],
  ]).flat();
/** A closed polyline of so many points, in whole sevens of fives. */
const polylineOf = (count: number): string => {
  const some = points(35)
    .map(([code, value]) => `${code}\n${value}\n`)
    .join('');
  return dxf([
    [
      [0, 'LWPOLYLINE'],
      [8, '0'],
      [70, 1],
      [999, 'points'],
    ],
  ]).replace('999\npoints\n', () => some.repeat(Math.ceil(count / 35)));
};
const spline = (degree: number, count: number, knots: readonly (number | string)[]): Tag[] => [
  [0, 'SPLINE'],
  [8, '0'],
  [70, 8],
  [71, degree],
  ...knots.map((knot): Tag => [40, knot]),
  ...points(count),
];
const circleOf = (radius: number | string): Tag[] => [
  [0, 'CIRCLE'],
  [8, '0'],
  [10, 0],
  [20, 0],
  [40, radius],
];

export const HOSTILE_DRAWINGS: readonly HostileFile[] = [
  {
    what: 'blocks within blocks, each an array of the next',
    content: () =>
      drawnWithBlocks(
        [insert('B0', 30_000, 30_000)],
        Object.fromEntries(
          Array.from({ length: 12 }, (_, i) => [
            `B${i}`,
            { base: [0, 0], entities: [i < 11 ? insert(`B${i + 1}`, 99, 99) : dot] },
          ]),
        ),
      ),
    refused: { code: 'BAD_INPUT', says: /entities/ },
  },
  {
    what: 'blocks that hold one another',
    content: () =>
      drawnWithBlocks([insert('A')], {
        A: { base: [0, 0], entities: [insert('B')] },
        B: { base: [0, 0], entities: [insert('A')] },
      }),
    refused: { code: 'BAD_INPUT', says: /block/ },
  },
  {
    what: 'a block whose entity has 100,000 groups of its own, inserted 100,000 times',
    content: () =>
      drawnWithBlocks([insert('A', 1_000, 100)], {
        A: { base: [0, 0], entities: [[...dot, ...Array.from({ length: 100_000 }, (): Tag => [1_070, 1])]] },
      }),
    refused: { code: 'BAD_INPUT', says: /values/ },
  },
  {
    what: 'a polyline of 100,000 points in one place, inserted 100,000 times',
    content: () =>
      drawnWithBlocks([insert('A', 1_000, 100)], {
        A: {
          base: [0, 0],
          entities: [
            [
              [0, 'LWPOLYLINE'],
              [8, '0'],
              [70, 1],
              ...Array.from({ length: 200_000 }, (_, i): Tag => [i % 2 === 0 ? 10 : 20, 0]),
            ],
          ],
        },
      }),
    refused: { code: 'BAD_INPUT', says: /values/ },
  },
  {
    what: 'a polyline of a million vertices',
    content: () => polylineOf(1_000_000),
    refused: { code: 'TOO_LARGE', says: /MB/ },
  },
  {
    what: 'a polyline of as many vertices as the size allows',
    content: () => polylineOf(380_000),
    refused: { code: 'BAD_INPUT', says: /5000/ },
  },
  {
    what: 'a spline with a knot at 1e300 and one of degree 900,000,000',
    content: () => dxf([spline(3, 4, [0, 0, 0, 0, '1e300', '1e300', '1e300', '1e300']), spline(9e8, 4, [])]),
    refused: { code: 'BAD_INPUT', says: /./ },
  },
  {
    what: 'a spline of 100,000 control points',
    content: () =>
      dxf([
        spline(
          3,
          100_000,
          Array.from({ length: 100_004 }, (_, i) => i),
        ),
      ]),
    refused: { code: 'BAD_INPUT', says: /./ },
  },
  {
    what: 'a circle with NaN for a radius',
    content: () => dxf([circleOf('NaN')]),
    refused: { code: 'BAD_INPUT', says: /./ },
  },
  {
    what: 'a circle of 1e400',
    content: () => dxf([circleOf('1e400')]),
    refused: { code: 'BAD_INPUT', says: /./ },
  },
  {
    what: '40,000 sections of entities',
    content: () =>
      `${'0\nSECTION\n2\nENTITIES\n0\nLINE\n8\n0\n10\n0\n20\n0\n11\n9\n21\n9\n0\nENDSEC\n'.repeat(40_000)}0\nEOF\n`,
    refused: { code: 'BAD_INPUT', says: /5000/ },
  },
  {
    what: 'a drawing cut off within a section',
    content: () => dxf([circleOf(100)]).slice(0, -20),
    refused: { code: 'BAD_INPUT', says: /DXF/ },
  },
];

const SOUND = new TextDecoder().decode(writeFormedSolid(tray('plan radius larger: tori'), 'tray', 'AP214'));
const text = (make: (sound: string) => string) => (): string => {
  const made = make(SOUND);
  if (made === SOUND) throw new Error('the sound file has no such place');
  return made;
};
/** Instances of their own at the beginning of the data. */
const withInstances = (instances: string) =>
  text((sound) => sound.replace(/(?<=\nDATA;\n)/, () => instances));
const many = (count: number, line: (i: number) => string): string =>
  Array.from({ length: count }, (_, i) => `${line(500_000 + i)}\n`).join('');

export const HOSTILE_SOLIDS: readonly HostileFile[] = [
  {
    what: 'a coordinate of 1.E400',
    content: text((sound) =>
      sound.replace("CARTESIAN_POINT('',(0.,0.,0.))", "CARTESIAN_POINT('',(1.E400,0.,0.))"),
    ),
    refused: { code: 'BAD_INPUT', says: /1\.E400/ },
  },
  {
    what: 'a face that refers to itself',
    content: text((sound) => sound.replace(/#(\d+)=ADVANCED_FACE\('',\(/, "#$1=ADVANCED_FACE('',(#$1,")),
    refused: { code: 'BAD_INPUT', says: /./ },
  },
  {
    what: 'brackets 100,000 deep',
    content: withInstances(`#500000=A(${'('.repeat(100_000)}${')'.repeat(100_000)});\n`),
    refused: { code: 'BAD_INPUT', says: /deep/ },
  },
  {
    what: '400,000 loose points',
    content: withInstances(many(400_000, (i) => `#${i}=CARTESIAN_POINT('',(${i}.,0.,0.));`)),
    refused: { code: 'TOO_LARGE', says: /300000 instances/ },
  },
  {
    what: 'a chain of 20,000 references',
    content: withInstances(
      many(20_000, (i) => `#${i}=A(#${i === 519_999 ? 1 : i + 1});`).replace(/A\(#1\)/, 'A()'),
    ),
    kernel: 'long',
  },
  {
    what: 'a circle of 200,000 references',
    content: withInstances(many(200_000, (i) => `#${i}=A(#${i === 699_999 ? 500_000 : i + 1});`)),
    refused: { code: 'BAD_INPUT', says: /circle/ },
  },
  {
    what: 'instances of instances, each holding the one before 100 times',
    content: withInstances(
      many(
        1_000,
        (i) =>
          `#${i}=A((${
            i === 500_000
              ? ''
              : Array(100)
                  .fill(`#${i - 1}`)
                  .join(',')
          }));`,
      ),
    ),
    kernel: 'long',
  },
  {
    what: 'a file cut off in the middle',
    content: text((sound) => sound.slice(0, sound.length / 2)),
    refused: { code: 'BAD_INPUT', says: /cut off/ },
  },
  {
    what: 'the schema of buildings',
    content: text((sound) =>
      sound.replace(/FILE_SCHEMA\(.*?\);/, "FILE_SCHEMA(('IFC4'));").replaceAll('ADVANCED_FACE', 'IFCFACE'),
    ),
    refused: { code: 'BAD_INPUT', says: /no faces/ },
  },
  {
    what: 'a text of 15 MB without an end',
    content: withInstances(`#500000=A('${'x'.repeat(15_000_000)});\n`),
    refused: { code: 'BAD_INPUT', says: /./ },
  },
  {
    what: '10,000 faces',
    content: withInstances(many(10_000, (i) => `#${i}=ADVANCED_FACE('',(),$,.T.);`)),
    refused: { code: 'TOO_LARGE', says: /3000 faces/ },
  },
  {
    what: 'a number of 1,000,000 digits',
    content: withInstances(`#500000=A(${'9'.repeat(1_000_000)}.);\n`),
    refused: { code: 'BAD_INPUT', says: /number/ },
  },
  {
    what: 'coordinates of 900,000 km',
    content: text((sound) =>
      sound.replace(/CARTESIAN_POINT\('',\((-?\d+\.\d*),/g, "CARTESIAN_POINT('',(900000000.,"),
    ),
    refused: { code: 'BAD_INPUT', says: /./ },
    kernel: 'always',
  },
];
