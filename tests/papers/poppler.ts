/**
 * PDF files as poppler reads them (the Debian package poppler-utils): page boxes, text, and lines in mm.
 *
 * pdftocairo writes a page as SVG whose coordinates it took from the PDF; here they are brought to mm with the
 * origin at the lower left corner of the page, as in our pictures.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { SVGPathData } from 'svg-pathdata';
import type { Point } from '../../src/geometry/path.ts';
import { needed } from '../support/needs.ts';

const MM_PER_POINT = 25.4 / 72;

/** A drawn path: its own points (ends of lines and of curves) and points along its curves. */
export interface ReadPath {
  /** Line weight, mm. */
  readonly weight: number;
  readonly dashed: boolean;
  readonly points: readonly Point[];
  /** Also eight points inside each curve. */
  readonly fine: readonly Point[];
  readonly length: number;
}

export interface ReadPage {
  /** mm */
  readonly width: number;
  readonly height: number;
}

function withFile<T>(bytes: Uint8Array, act: (file: string, folder: string) => T): T {
  needed('poppler');
  const folder = mkdtempSync(join(tmpdir(), 'papers-'));
  try {
    const file = join(folder, 'paper.pdf');
    writeFileSync(file, bytes);
    return act(file, folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Sizes of all pages. */
export const readPages = (bytes: Uint8Array): ReadPage[] =>
  withFile(bytes, (file) => {
    const text = execFileSync('pdfinfo', ['-f', '1', '-l', '9999', file], { encoding: 'utf8' });
    return [...text.matchAll(/Page +\d+ size: +([\d.]+) x ([\d.]+) pts/g)].map(([, width, height]) => ({
      width: Number(width) * MM_PER_POINT,
      height: Number(height) * MM_PER_POINT,
    }));
  });

/** The text of one page (from 1), or of all. */
export const readText = (bytes: Uint8Array, page?: number): string =>
  withFile(bytes, (file) =>
    execFileSync(
      'pdftotext',
      [...(page === undefined ? [] : ['-f', `${page}`, '-l', `${page}`]), file, '-'],
      {
        encoding: 'utf8',
      },
    ),
  );

/** Boxes of the words of one page, mm from its left and upper edge. */
export const readWords = (bytes: Uint8Array, page: number): { word: string; width: number }[] =>
  withFile(bytes, (file) => {
    const text = execFileSync('pdftotext', ['-bbox', '-f', `${page}`, '-l', `${page}`, file, '-'], {
      encoding: 'utf8',
    });
    return [...text.matchAll(/<word xMin="([\d.]+)" yMin="[\d.]+" xMax="([\d.]+)"[^>]*>([^<]*)</g)].map(
      ([, left, right, word]) => ({ word: word!, width: (Number(right) - Number(left)) * MM_PER_POINT }),
    );
  });

/** Every stroked path of a page (from 1), in the order it was drawn. */
export const readPaths = (bytes: Uint8Array, page: number): ReadPath[] =>
  withFile(bytes, (file, folder) => {
    const out = join(folder, 'page.svg');
    execFileSync('pdftocairo', [
      '-svg',
      '-noshrink',
      '-nocenter',
      '-f',
      `${page}`,
      '-l',
      `${page}`,
      file,
      out,
    ]);
    const svg = readFileSync(out, 'utf8');
    const height = Number(/height="([\d.]+)pt"/.exec(svg)![1]);
    return [...svg.matchAll(/<path style="([^"]*)" d="([^"]*)" transform="matrix\(([^)]*)\)"/g)]
      .filter(([, style]) => !/stroke:none/.test(style!) && /stroke-width/.test(style!))
      .map(([, style, data, matrix]) => {
        const [a, b, c, d, e, f] = matrix!.split(',').map(Number) as [
          number,
          number,
          number,
          number,
          number,
          number,
        ];
        const toMm = (x: number, y: number): Point => ({
          x: (a * x + c * y + e) * MM_PER_POINT,
          y: (height - (b * x + d * y + f)) * MM_PER_POINT,
        });
        return {
          weight: Number(/stroke-width:([\d.]+)/.exec(style!)![1]) * Math.hypot(a, b) * MM_PER_POINT,
          dashed: /stroke-dasharray/.test(style!),
          ...tracedPoints(data!, toMm),
        };
      });
  });

function tracedPoints(
  data: string,
  toMm: (x: number, y: number) => Point,
): Pick<ReadPath, 'points' | 'fine' | 'length'> {
  const points: Point[] = [];
  const fine: Point[] = [];
  let length = 0;
  let at: Point = { x: 0, y: 0 };
  let start: Point = at;
  const go = (to: Point): void => {
    length += Math.hypot(to.x - at.x, to.y - at.y);
    fine.push(to);
    at = to;
  };
  for (const command of new SVGPathData(data).toAbs().commands) {
    switch (command.type) {
      case SVGPathData.MOVE_TO:
        at = toMm(command.x, command.y);
        start = at;
        // poppler ends a closed path with a lone move to its start: that draws nothing.
        points.push(at);
        fine.push(at);
        break;
      case SVGPathData.LINE_TO:
        go(toMm(command.x, command.y));
        points.push(at);
        break;
      case SVGPathData.CURVE_TO: {
        const from = at;
        const [p, q, r] = [
          toMm(command.x1, command.y1),
          toMm(command.x2, command.y2),
          toMm(command.x, command.y),
        ];
        for (let k = 1; k <= 32; k++) {
          const t = k / 32;
          const u = 1 - t;
          const mix = (of: (point: Point) => number): number =>
            u ** 3 * of(from) + 3 * u * u * t * of(p) + 3 * u * t * t * of(q) + t ** 3 * of(r);
          go({ x: mix((point) => point.x), y: mix((point) => point.y) });
        }
        points.push(at);
        break;
      }
      case SVGPathData.CLOSE_PATH:
        go(start);
        break;
      default:
        throw new Error(`poppler wrote a path command of type ${command.type}`);
    }
  }
  return { points, fine, length };
}
