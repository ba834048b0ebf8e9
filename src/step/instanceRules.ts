/**
 * What the geometry and topology instances of an exchange file must hold.
 *
 * The kernel takes an instance of the wrong kind on trust and runs into memory that is not its own; here it costs
 * one sentence. Kinds of arguments as in ISO 10303-42 for the instances every B-rep consists of; others are left to
 * the kernel.
 */
import { words } from '../words/language.ts';

/** s text, r number, l logical; # a reference to one of these; ? may be left out with $; + a list of one or more. */
type Rule = readonly string[];

const POINT = '#CARTESIAN_POINT';
const PLACE = '#AXIS2_PLACEMENT_3D';
const CURVES = '#~CURVE';
const SURFACES = '#~SURFACE';

const RULES: Readonly<Record<string, Rule>> = {
  CARTESIAN_POINT: ['s', '+r'],
  DIRECTION: ['s', '+r'],
  VECTOR: ['s', '#DIRECTION', 'r'],
  AXIS2_PLACEMENT_3D: ['s', POINT, '?#DIRECTION', '?#DIRECTION'],
  AXIS1_PLACEMENT: ['s', POINT, '?#DIRECTION'],
  LINE: ['s', POINT, '#VECTOR'],
  CIRCLE: ['s', '#AXIS2_PLACEMENT_3D|AXIS2_PLACEMENT_2D', 'p'],
  PLANE: ['s', PLACE],
  CYLINDRICAL_SURFACE: ['s', PLACE, 'p'],
  CONICAL_SURFACE: ['s', PLACE, 'r', 'r'],
  SPHERICAL_SURFACE: ['s', PLACE, 'p'],
  TOROIDAL_SURFACE: ['s', PLACE, 'p', 'p'],
  DEGENERATE_TOROIDAL_SURFACE: ['s', PLACE, 'p', 'p', 'l'],
  VERTEX_POINT: ['s', POINT],
  EDGE_CURVE: ['s', '#VERTEX_POINT', '#VERTEX_POINT', CURVES, 'l'],
  ORIENTED_EDGE: ['s', '*', '*', '#EDGE_CURVE|ORIENTED_EDGE', 'l'],
  EDGE_LOOP: ['s', '+#ORIENTED_EDGE'],
  FACE_BOUND: ['s', '#EDGE_LOOP|VERTEX_LOOP|POLY_LOOP', 'l'],
  FACE_OUTER_BOUND: ['s', '#EDGE_LOOP|VERTEX_LOOP|POLY_LOOP', 'l'],
  ADVANCED_FACE: ['s', '+#FACE_BOUND|FACE_OUTER_BOUND', SURFACES, 'l'],
  FACE_SURFACE: ['s', '+#FACE_BOUND|FACE_OUTER_BOUND', SURFACES, 'l'],
  CLOSED_SHELL: ['s', '+#ADVANCED_FACE|FACE_SURFACE|ORIENTED_FACE'],
  OPEN_SHELL: ['s', '+#ADVANCED_FACE|FACE_SURFACE|ORIENTED_FACE'],
  MANIFOLD_SOLID_BREP: ['s', '#CLOSED_SHELL|ORIENTED_CLOSED_SHELL'],
};

/** Instances of the table that are no curves, and that are no surfaces; what is not in the table may be either. */
const RULED_CURVES = ['LINE', 'CIRCLE'];
const RULED_SURFACES = Object.keys(RULES).filter(
  (keyword) => keyword === 'PLANE' || keyword.endsWith('_SURFACE'),
);

/**
 * What is wrong with an instance, a sentence, or null.
 *
 * @param number    of the instance
 * @param keyword   its keyword, empty for a complex instance
 * @param body      its arguments without the outer brackets
 * @param keywordOf keyword of an instance by its number, undefined when there is none
 */
export function instanceFault(
  number: number,
  keyword: string,
  body: string,
  keywordOf: (number: number) => string | undefined,
): string | null {
  const rule = RULES[keyword];
  if (rule === undefined) return null;
  const say = words().messages.step.misfit;
  const instance = String(number);
  const values = split(body);
  if (values.length !== rule.length)
    return say.values(instance, String(values.length), keyword, String(rule.length));
  for (const [i, kind] of rule.entries()) {
    const value = values[i]!;
    const many = kind.startsWith('+');
    const list = many ? listed(value) : [value];
    if (list === null || list.length === 0) return say.noList(instance, shown(value), keyword);
    if (kind === '+r' && list.length > 3) return say.coordinates(instance, String(list.length));
    for (const one of list) {
      if (!fits(one, many ? kind.slice(1) : kind, keywordOf))
        return say.value(instance, shown(one), String(i + 1), keyword);
    }
  }
  if (keyword === 'DIRECTION' && !listed(values[1]!)!.some((one) => Math.abs(Number(one)) > 1e-9)) {
    return say.noLength(instance);
  }
  return null;
}

function fits(value: string, kind: string, keywordOf: (number: number) => string | undefined): boolean {
  if (kind.startsWith('?')) return value === '$' || fits(value, kind.slice(1), keywordOf);
  switch (kind) {
    case 's':
      return value === '$' || value.startsWith("'");
    case 'r':
      return isNumber(value);
    case 'p':
      return isNumber(value) && Number(value) > 1e-9;
    case 'l':
      return value === '.T.' || value === '.F.';
    case '*':
      return value === '*' || value.startsWith('#');
  }
  if (!/^#\d+$/.test(value)) return false;
  const target = keywordOf(Number(value.slice(1)));
  if (target === undefined) return false;
  if (kind === CURVES) return RULED_CURVES.includes(target) || !(target in RULES);
  if (kind === SURFACES) return RULED_SURFACES.includes(target) || !(target in RULES);
  return kind.slice(1).split('|').includes(target);
}

const isNumber = (value: string): boolean => /^[+-]?\d+\.?\d*(E[+-]?\d+)?$/i.test(value);

function shown(value: string): string {
  if (value === '') return words().messages.step.misfit.nothing;
  return value.length > 30 ? `${value.slice(0, 30)}…` : value;
}

/** Values between commas outside of brackets and texts, blanks and comments taken off. */
function split(body: string): string[] {
  const out: string[] = [];
  let depth = 0;
  let value = '';
  for (let i = 0; i < body.length; i++) {
    const letter = body[i]!;
    if (letter === "'") {
      const end = body.indexOf("'", i + 1);
      value += body.slice(i, end + 1);
      i = end < 0 ? body.length : end;
      continue;
    }
    if (letter === '/' && body[i + 1] === '*') {
      const end = body.indexOf('*/', i + 2);
      i = end < 0 ? body.length : end + 1;
      continue;
    }
    if (letter <= ' ') continue;
    if (letter === '(') depth++;
    if (letter === ')') depth--;
    if (letter === ',' && depth === 0) {
      out.push(value);
      value = '';
    } else value += letter;
  }
  out.push(value);
  return out;
}

function listed(value: string): string[] | null {
  if (!value.startsWith('(') || !value.endsWith(')')) return null;
  return value === '()' ? [] : split(value.slice(1, -1));
}
