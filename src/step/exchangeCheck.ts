/**
 * Looks through the text of an exchange file before the kernel sees it, in one pass without recursion.
 *
 * The kernel is a large C++ program: a number such as 1.E400 keeps it busy for minutes, and a face that refers to
 * itself comes back as a solid of 1e103 mm³. What is refused here costs milliseconds and no kernel at all.
 * Source of the syntax: ISO 10303-21, exchange structure.
 */
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import { instanceFault } from './instanceRules.ts';

/** Largest file, bytes; a tray is some 100 kB. */
export const MAXIMUM_STEP_SIZE = 30e6;
/** A tray has some tens of faces; a pressed part with every blend some hundreds. */
export const MAXIMUM_FACES = 3000;
const MAXIMUM_INSTANCES = 300_000;
const MAXIMUM_DEPTH = 32;
/** Largest number accepted anywhere in the file. */
const LARGEST = 1e9;

const say = () => words().messages.step.file;

const refuse = (sentence: string): never => {
  throw new GatherpanError('BAD_INPUT', sentence);
};

const HASH = 35;
const QUOTE = 39;
const OPEN = 40;
const CLOSE = 41;
const STAR = 42;
const SLASH = 47;
const SEMICOLON = 59;
const EQUALS = 61;

const isDigit = (code: number): boolean => code >= 48 && code <= 57;
const isLetter = (code: number): boolean => (code >= 65 && code <= 90) || code === 95;
const isSpace = (code: number): boolean => code <= 32;

/**
 * @param bytes the file; not changed
 * @throws GatherpanError TOO_LARGE or BAD_INPUT, one sentence
 */
export function checkExchangeFile(bytes: Uint8Array): void {
  if (bytes.length > MAXIMUM_STEP_SIZE) {
    throw new GatherpanError(
      'TOO_LARGE',
      say().tooLarge((bytes.length / 1e6).toFixed(1), String(MAXIMUM_STEP_SIZE / 1e6)),
    );
  }
  if (bytes.length === 0) refuse(say().empty);
  // One character a byte: the structure is ASCII, and what strings hold is of no interest here.
  const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length).toString('latin1');
  const start = /^(?:\u00EF\u00BB\u00BF)?\s*(?:\/\*[\s\S]{0,2000}?\*\/\s*)*ISO-10303-21\s*;/.exec(
    text.slice(0, 4096),
  );
  if (start === null) refuse(say().notStep);
  if (!/END-ISO-10303-21\s*;\s*$/.test(text.slice(-4096).trimEnd())) {
    refuse(say().cutOff);
  }
  const data = /\bDATA\s*;/g;
  data.lastIndex = start![0].length;
  const section = data.exec(text);
  if (section === null) refuse(say().noData);
  const graph = scan(text, section!.index + section![0].length);
  if (graph.faces === 0) refuse(say().noFaces);
  refuseCycles(graph);
  refuseMisfits(text, graph);
}

/** Instances and what they refer to: references of instance i are targets[first[i]] … targets[first[i + 1] − 1]. */
interface ReferenceGraph {
  readonly numbers: number[];
  readonly first: number[];
  readonly targets: number[];
  /** Where each instance's text begins, behind its =, and ends, at its ;. */
  readonly begins: number[];
  readonly ends: number[];
  readonly faces: number;
}

function scan(text: string, from: number): ReferenceGraph {
  const numbers: number[] = [];
  const first: number[] = [];
  const targets: number[] = [];
  const begins: number[] = [];
  const ends: number[] = [];
  let faces = 0;
  let depth = 0;
  let inside = false; // between an instance's = and its ;
  let closed = false;
  const length = text.length;
  for (let i = from; i < length; ) {
    const code = text.charCodeAt(i);
    if (isSpace(code)) {
      i++;
      continue;
    }
    if (code === QUOTE) {
      const end = text.indexOf("'", i + 1);
      if (end < 0) refuse(say().textWithoutEnd);
      i = end + 1; // a doubled apostrophe is read as two texts in a row: the same in effect
      continue;
    }
    if (code === SLASH && text.charCodeAt(i + 1) === STAR) {
      const end = text.indexOf('*/', i + 2);
      if (end < 0) refuse(say().commentWithoutEnd);
      i = end + 2;
      continue;
    }
    if (code === HASH) {
      let end = i + 1;
      while (isDigit(text.charCodeAt(end))) end++;
      const number = Number(text.slice(i + 1, end));
      if (end === i + 1 || !Number.isSafeInteger(number) || number > 2e9) {
        refuse(say().noInstanceNumber(text.slice(i, i + 12).replace(/\s+/g, ' ')));
      }
      if (inside) targets.push(number);
      else {
        let at = end;
        while (isSpace(text.charCodeAt(at))) at++;
        if (text.charCodeAt(at) !== EQUALS) refuse(say().noEquals(String(number)));
        end = at + 1;
        numbers.push(number);
        first.push(targets.length);
        begins.push(end);
        inside = true;
        if (numbers.length > MAXIMUM_INSTANCES) {
          throw new GatherpanError('TOO_LARGE', say().tooManyInstances(String(MAXIMUM_INSTANCES)));
        }
      }
      i = end;
      continue;
    }
    if (isDigit(code) || code === 43 || code === 45) {
      const match = NUMBER.exec(text.slice(i, i + 64));
      if (match === null) {
        refuse(say().noNumber(text.slice(i, i + 12).replace(/\s+/g, ' ')));
      }
      const value = Number(match![0]);
      if (!(Math.abs(value) <= LARGEST)) {
        refuse(say().numberTooLarge(match![0]));
      }
      i += match![0].length;
      continue;
    }
    if (isLetter(code)) {
      let end = i + 1;
      while (isLetter(text.charCodeAt(end)) || isDigit(text.charCodeAt(end)) || text.charCodeAt(end) === 45)
        end++;
      const word = text.slice(i, end);
      if (inside) {
        if (word === 'ADVANCED_FACE' || word === 'FACE_SURFACE') {
          faces++;
          if (faces > MAXIMUM_FACES) {
            throw new GatherpanError('TOO_LARGE', say().tooManyFaces(String(MAXIMUM_FACES)));
          }
        }
      } else if (word === 'ENDSEC') {
        closed = true;
        break;
      } else refuse(say().noInstance(word.slice(0, 40)));
      i = end;
      continue;
    }
    if (code === OPEN) {
      depth++;
      if (depth > MAXIMUM_DEPTH) refuse(say().nestedTooDeep(String(MAXIMUM_DEPTH)));
    } else if (code === CLOSE) {
      depth--;
      if (depth < 0) refuse(say().closesTooMuch);
    } else if (code === SEMICOLON) {
      if (!inside || depth !== 0) refuse(say().endsWithin);
      inside = false;
      ends.push(i);
    } else if (!ALLOWED.has(code)) {
      refuse(say().character(String(code)));
    }
    if (!inside && code !== SEMICOLON) refuse(say().betweenInstances);
    i++;
  }
  if (!closed) refuse(say().dataWithoutEnd);
  first.push(targets.length);
  return { numbers, first, targets, begins, ends, faces };
}

const NUMBER = /^[+-]?\d{1,40}(?:\.\d{0,40}(?:[Ee][+-]?\d{1,4})?)?(?![\d.])/;
/** , $ . " and = & are what is left between values; letters and digits are dealt with above. */
const ALLOWED = new Set([OPEN, CLOSE, SEMICOLON, STAR, 44, 36, 46, 34, 38, 33]);

/** Instances of a B-rep hold what their kind asks for. */
function refuseMisfits(text: string, { numbers, begins, ends }: ReferenceGraph): void {
  const HEAD = /^\s*([A-Z][A-Z0-9_]*)\s*\(/;
  const keywords = new Map<number, string>();
  const heads = numbers.map((number, i) => {
    const head = HEAD.exec(text.slice(begins[i]!, begins[i]! + 80));
    keywords.set(number, head?.[1] ?? '');
    return head;
  });
  for (const [i, number] of numbers.entries()) {
    const head = heads[i];
    if (head === null || head === undefined) continue;
    const body = text.slice(begins[i]! + head[0].length, ends[i]!).trimEnd();
    if (!body.endsWith(')')) continue;
    const fault = instanceFault(number, head[1]!, body.slice(0, -1), (other) => keywords.get(other));
    if (fault !== null) refuse(fault);
  }
}

/** Every instance may lead to others, but never back to itself; every reference has a target. */
function refuseCycles({ numbers, first, targets }: ReferenceGraph): void {
  const place = new Map<number, number>();
  for (const [i, number] of numbers.entries()) {
    if (place.has(number)) refuse(say().instanceTwice(String(number)));
    place.set(number, i);
  }
  const to = targets.map((number, k) => {
    const found = place.get(number);
    if (found === undefined) {
      const owner = first.findIndex((begin) => begin > k) - 1;
      refuse(say().noTarget(String(number), String(numbers[owner])));
    }
    return found!;
  });
  const state = new Uint8Array(numbers.length); // 1 on the way, 2 done
  const next = Uint32Array.from(first);
  const path: number[] = [];
  for (let root = 0; root < numbers.length; root++) {
    if (state[root] !== 0) continue;
    path.push(root);
    state[root] = 1;
    while (path.length > 0) {
      const at = path[path.length - 1]!;
      if (next[at]! < first[at + 1]!) {
        const child = to[next[at]!]!;
        next[at] = next[at]! + 1;
        if (state[child] === 1) refuse(say().circle(String(numbers[child])));
        if (state[child] === 0) {
          state[child] = 1;
          path.push(child);
        }
      } else {
        state[at] = 2;
        path.pop();
      }
    }
  }
}
