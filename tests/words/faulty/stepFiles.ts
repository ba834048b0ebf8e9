/** Texts of STEP files that are none, figures that no file can hold, and a part that is no tray: no kernel is loaded. */
import { checkExchangeFile, MAXIMUM_FACES, MAXIMUM_STEP_SIZE } from '../../../src/step/exchangeCheck.ts';
import type { OcctThread } from '../../../src/step/occt/occtThread.ts';
import { real } from '../../../src/step/part21.ts';
import { readStepTray } from '../../../src/step/readStepTray.ts';
import type { Recognised } from '../../../src/step/recognise/recogniseTray.ts';
import type { Work } from './work.ts';

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const START = 'ISO-10303-21;\nHEADER;\nENDSEC;\n';
const END = '\nEND-ISO-10303-21;\n';
const inFile = (data: string): string => `${START}DATA;\n${data}\nENDSEC;${END}`;

/** A face and its plane, sound by themselves; a fault stands before it. */
const POINT = "#1=CARTESIAN_POINT('',(0.,0.,0.));";
const PLANE = "#2=AXIS2_PLACEMENT_3D('',#1,$,$);\n#3=PLANE('',#2);";
const FACE = "#4=VERTEX_POINT('',#1);\n#5=VERTEX_LOOP('',#4);\n#6=FACE_BOUND('',#5,.T.);";
const SOUND = `${POINT}\n${PLANE}\n${FACE}\n#7=ADVANCED_FACE('',(#6),#3,.T.);`;
const beside = (...instances: readonly string[]): string => inFile(`${instances.join('\n')}\n${SOUND}`);

const repeated = (count: number, instance: (number: number) => string): string =>
  inFile(Array.from({ length: count }, (_, i) => instance(i + 1)).join('\n'));

export const SOUND_FILE = bytes(inFile(SOUND));

const texts: readonly string[] = [
  '',
  'a tray, please',
  START,
  `${START}${END}`,
  inFile(POINT),
  `${START}DATA;\n${SOUND}${END}`,
  `${START}DATA;\n#1=${END}`,
  beside("#9=A('x);").replaceAll("''", '$'),
  beside('#9=A(/* of bees);'),
  beside('#=1.,2.,3.,4.,5.;'),
  beside('#9 A();'),
  beside('#9=A(1.2.3,4.,5.,6.);'),
  beside('#9=A(2000000000.);'),
  beside('TRAY();'),
  beside(`#9=A(${'('.repeat(40)}${')'.repeat(40)});`),
  beside('#9=A());'),
  beside('#9=A((1.);'),
  beside('#9=A(~);'),
  beside('$'),
  beside('#1=A();'),
  beside('#9=A(#99);'),
  beside('#9=A(#10);', '#10=A(#9);'),
  repeated(MAXIMUM_FACES + 1, (i) => `#${i}=ADVANCED_FACE();`),
  repeated(300_001, (i) => `#${i}=A();`),
  // Of the wrong kind
  beside("#9=LINE('',#1);"),
  beside("#9=EDGE_LOOP('',#1);"),
  beside("#9=CARTESIAN_POINT('',(0.,0.,0.,0.));"),
  beside("#9=VECTOR('',#1,1.);"),
  beside("#9=VECTOR('',,1.);"),
  beside("#9=DIRECTION('',(0.,0.,0.));"),
];

/** In a kernel's place: recognises this in every file. */
export const occtThatSees = (recognised: Recognised | null): OcctThread => ({
  started: 0,
  run: async () => ({ kind: 'tray', recognised }),
  close: async () => {},
});

export const stepFiles: readonly Work[] = [
  ...texts.map((text) => () => checkExchangeFile(bytes(text))),
  () => checkExchangeFile(new Uint8Array(MAXIMUM_STEP_SIZE + 1)),
  () => real(-123456789012),
  () => readStepTray(SOUND_FILE, { path: 'recognise' }, occtThatSees(null)),
];
