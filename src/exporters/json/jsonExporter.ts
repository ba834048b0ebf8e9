/**
 * The report as JSON: figures, outline, and the tray they belong to.
 *
 * Every key below is always present, in this order. Lengths mm, areas mm², mass kg, angles degrees, strains
 * engineering per cent. Coordinates have their origin at the plan's origin (a rectangle's centre), x
 * along its length, y up; the DXF drawing has the same. A list of vertices `{x, y, bulge}` is a chain of lines
 * and arcs: bulge = tan(sweep / 4) of the piece from a vertex to the next, positive counter-clockwise, 0 for a
 * line. A later version may add keys; it raises `version` when one changes or goes.
 *
 * | key | what it holds |
 * | --- | --- |
 * | `format`, `version` | `"gatherpan report"`, 2 |
 * | `units` | the units above, by quantity |
 * | `name` | of the tray |
 * | `tray` | the tray file it was solved for, complete, in mm and degrees |
 * | `sheet` | `material`, `thickness`, `grain` (rolling direction from the x axis) |
 * | `rim` | the net rim without trim; closed, counter-clockwise |
 * | `workedRim` | the edge as it is hammered, trim included: gather, thickness, zones and stages are those of this edge; closed, counter-clockwise |
 * | `outline` | what is cut: the worked rim, and trim laid on where there is no wall; closed, counter-clockwise |
 * | `holes` | `name` and `vertices` of each; closed, clockwise |
 * | `scribeLines` | `kind` (`bend-begin`, `bend-end`, `net-rim`, `rim-mark`: the ends of each zone's stretch of rim), `closed`, `vertices` of each |
 * | `blank` | `length`, `width` of the box around the outline, `area`, `mass`, `cutLength`, `segments` |
 * | `developed` | `alongLength`, `alongWidth`: flat distance at mid-side from the bend's beginning to the net rim |
 * | `bounds` | `arcLengthCornerRadius`, `equalAreaCornerRadius`: the two classical answers; null without one |
 * | `corners` | per plan corner: `index`, `letter` (A–B for a curved side), `at`, `cornerRadius`, `flatRimLength`, `formedRimLength` (of the worked rim above the arc), `arcRimToLose` (their difference), `rimToLose` (of the zone, between its marks; null without one), `rimToLoseCorners` (all corners of that zone), `netFlatRimLength`, `netFormedRimLength`, `netRimThickness` (mean; all of the net rim above the arc), `peakGather`, `peakStretch`, `thickest`, `thinnest` |
 * | `thickness` | `min`, `max` of the formed tray |
 * | `gather` | `threshold` (of the contours), `hand`, `spread`; `zones` from 2 % on (`kind`, `corners`, `letters`, `boundary`, `area`, `rim` with its marks `begin` and `end`, `depth`, `peak`, `thickness`), `contours` (`kind`, `level`, `paths`), `work` (equivalent strain of the hardest-worked place on its way from the flat, logarithmic), `anneals` (how often; null where it takes some and must not be heated), `verdict` (`word`, `reasons`), `tucks`, `trimBand` (null where one of the hands has no equilibrium; its `strengths`, how far the rim moves if a sheet with r-values alone is as strong every way, null where nothing is open) |
 * | `solver` | `triangles`, `unknowns`, `steps`, `residual` (relative) |
 * | `notes`, `warnings` | sentences |
 */
import { GatherpanError } from '../../errors.ts';
import { zoneContours } from '../../gather/zones.ts';
import type { Path, Vertex } from '../../geometry/path.ts';
import { cornerName } from '../../pattern/cornerName.ts';
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import { english, type Words } from '../../words/english.ts';
import { words } from '../../words/language.ts';
import { inWords, sentences } from '../../words/statement.ts';
import { CONTRACT_VERSION, type Exporter } from '../contract.ts';
import { yesOrNo } from '../parameterKinds.ts';

export const REPORT_FORMAT = 'gatherpan report';
export const REPORT_VERSION = 2;

export const jsonExporterIn = (table: Words): Exporter => ({
  contract: CONTRACT_VERSION,
  id: 'json',
  label: table.exporters.json.label,
  extension: 'json',
  mediaType: 'application/json',
  leadsTo: () => [],
  parameters: [yesOrNo('compact', false, table.exporters.json.compact)],
  async write(pattern, values) {
    const text = JSON.stringify(
      reportDocument(pattern, table),
      refuseNonFinite,
      values.compact === true ? 0 : 2,
    );
    return new TextEncoder().encode(`${text}\n`);
  },
});

export const jsonExporter = jsonExporterIn(english);

/** Written out key by key, so that the order and the set of keys do not depend on how the report was built. */
function reportDocument(pattern: FlatPattern, table: Words): unknown {
  const { report } = pattern;
  return {
    format: REPORT_FORMAT,
    version: REPORT_VERSION,
    units: { length: 'mm', area: 'mm2', mass: 'kg', angle: 'degree', strain: '%' },
    name: report.name,
    tray: pattern.spec,
    sheet: {
      material: report.sheet.material,
      thickness: report.sheet.thickness,
      grain: report.sheet.grain,
    },
    rim: vertices(report.rim),
    workedRim: vertices(pattern.workedRim.vertices),
    outline: vertices(report.outline),
    holes: pattern.holes.map(({ name, path }) => ({ name, vertices: vertices(path.vertices) })),
    scribeLines: pattern.scribeLines.map(({ kind, path }) => ({
      kind,
      closed: path.closed,
      vertices: vertices(path.vertices),
    })),
    blank: {
      length: report.blank.length,
      width: report.blank.width,
      area: report.blank.area,
      mass: report.blank.mass,
      cutLength: report.blank.cutLength,
      segments: report.blank.segments,
    },
    developed: {
      alongLength: report.developed.alongLength,
      alongWidth: report.developed.alongWidth,
    },
    bounds: {
      arcLengthCornerRadius: report.bounds.arcLengthCornerRadius,
      equalAreaCornerRadius: report.bounds.equalAreaCornerRadius,
    },
    corners: report.corners.map((corner) => ({
      index: corner.index,
      letter: corner.letter,
      at: { x: corner.at.x, y: corner.at.y },
      cornerRadius: corner.cornerRadius,
      flatRimLength: corner.flatRimLength,
      formedRimLength: corner.formedRimLength,
      arcRimToLose: corner.arcRimToLose,
      rimToLose: corner.rimToLose,
      rimToLoseCorners: corner.rimToLoseCorners,
      netFlatRimLength: corner.netFlatRimLength,
      netFormedRimLength: corner.netFormedRimLength,
      netRimThickness: corner.netRimThickness,
      peakGather: corner.peakGather,
      peakStretch: corner.peakStretch,
      thickest: corner.thickest,
      thinnest: corner.thinnest,
    })),
    thickness: { min: report.thickness.min, max: report.thickness.max },
    gather: gatherDocument(pattern, table),
    solver: {
      triangles: report.solver.triangles,
      unknowns: report.solver.unknowns,
      steps: report.solver.steps,
      residual: report.solver.residual,
    },
    notes: sentences(pattern.notes, table),
    warnings: sentences(report.warnings, table),
  };
}

function gatherDocument(pattern: FlatPattern, table: Words): unknown {
  const { gather } = pattern;
  const paths = (list: readonly Path[]): unknown =>
    list.map((path) => ({ closed: path.closed, vertices: vertices(path.vertices) }));
  return {
    threshold: gather.threshold,
    hand: gather.hand,
    spread: gather.spread,
    zones: gather.zones.map((zone) => ({
      kind: zone.kind,
      corners: zone.corners,
      letters: zone.corners.map((index) => cornerName(pattern, index)),
      boundary: paths(zone.boundary),
      area: zone.area,
      rim: zone.rim,
      depth: zone.depth,
      peak: zone.peak,
      thickness: zone.thickness,
    })),
    contours: zoneContours(pattern)
      .flat()
      .map(({ kind, level, paths: lines }) => ({ kind, level, paths: paths(lines) })),
    work: gather.work,
    anneals: gather.anneals,
    verdict: inWords(gather.verdict, table),
    tucks: gather.tucks.map(({ marks, ...rest }) => ({ ...rest, marks: paths(marks) })),
    trimBand: gather.trimBand,
  };
}

const vertices = (list: readonly Vertex[]): Vertex[] => list.map(({ x, y, bulge }) => ({ x, y, bulge }));

/** JSON has no NaN: `JSON.stringify` would write null, and a reader would never learn of it. */
function refuseNonFinite(key: string, value: unknown): unknown {
  if (typeof value === 'number' && !Number.isFinite(value)) {
    throw new GatherpanError('BAD_INPUT', words().messages.exporters.notFinite(key, String(value)));
  }
  return value;
}
