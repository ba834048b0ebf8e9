/** `gatherpan make`: solves each tray and writes its files. */
import { join, resolve } from 'node:path';
import { GatherpanError } from '../../errors.ts';
import type { ExportContext, Exporter, ParameterValues } from '../../exporters/contract.ts';
import { extensionOf, parameterOf, valueFromText } from '../../exporters/parameters.ts';
import { fileKey, fileStem } from '../../fileName.ts';
import { cuttingActs, formingActs, GAUGE_ACTS, hasWeldedCorners } from '../../gather/acts.ts';
import { fileNamesOf } from '../../jobs/fileNames.ts';
import { type Act, type ActCautions, cautionsOf } from '../../material/cautions.ts';
import { ownWriter } from '../../papers/lengths.ts';
import type { Developed, FlatPattern } from '../../pattern/flatPattern.ts';
import { refuseForPart } from '../../step/partPattern.ts';
import { words } from '../../words/language.ts';
import { inWords, sentences } from '../../words/statement.ts';
import type { Dependencies } from '../dependencies.ts';
import { fileLabel } from '../errorText.ts';
import { figureLines, titledLine } from '../figures.ts';
import { isSameFile, writeWhole } from '../files.ts';
import { cautionLines, verdictLines } from '../gatherLines.ts';
import { eachTray } from '../outcomes.ts';
import type { DrawingOptions } from '../planDrawing.ts';
import type { StepOptions } from '../stepTrays.ts';
import { secondsOf } from '../timeLimit.ts';
import { type Job, readTrays } from '../trays.ts';

export interface MakeOptions extends StepOptions, DrawingOptions {
  /** Folder for the files, made when it is not there. */
  readonly out: string;
  /** Formats, separated by commas. */
  readonly format: string;
  /** Modules or packages with further exporters. */
  readonly exporter?: readonly string[];
  /** `format.parameter=value`. */
  readonly set?: readonly string[];
  /** A summary as JSON instead of lines for a person. */
  readonly json?: boolean;
}

/** An exporter that was asked for, with a value for each of its parameters. */
export interface Chosen {
  readonly exporter: Exporter;
  /** Whether it came from a third party's module. */
  readonly foreign: boolean;
  readonly values: ParameterValues;
}

/**
 * Runs the command.
 *
 * Everything that can be refused beforehand (formats, settings, names) is, before the first tray is solved.
 *
 * @returns the exit code, the worst of all trays; 1 for a tray that is not to be made in one piece, whose files are
 *   written all the same where it has a flat
 * @throws GatherpanError when the command cannot begin: an unknown format, a bad setting
 */
export async function make(
  files: readonly string[],
  options: MakeOptions,
  dependencies: Dependencies,
): Promise<number> {
  const chosen = await choose(options, dependencies);
  const read = await readTrays(files, dependencies, options);
  const jobs = await refuseClashes(read, chosen, options, dependencies);
  const told = new Map<Developed, ActCautions[]>();
  return eachTray(
    jobs,
    options,
    dependencies,
    async ({ spec, pattern: solved }) => {
      const pattern = solved ?? (await dependencies.load.developTray())(spec);
      if (pattern.kind === 'no flat') return { pattern, files: [] };
      const written = await writeFiles(
        await filesOf(pattern, chosen, dependencies),
        options.out,
        dependencies,
      );
      const cautions = cautionsFor(pattern, chosen);
      told.set(pattern, cautions);
      return { pattern, files: written, more: { cautions: inWords(cautions, words()) } };
    },
    ({ pattern, files: written }) => {
      const { titles } = words().command.output;
      const lengths = ownWriter(pattern.spec);
      return [
        `${pattern.name}\n`,
        figureLines(pattern, words()),
        verdictLines(pattern.gather.verdict, lengths, words()),
        ...sentences(pattern.notes, words(), lengths).map((note) => titledLine(titles.note, note)),
        ...sentences(pattern.report.warnings, words(), lengths).map((warning) =>
          titledLine(titles.warning, warning),
        ),
        ...written.map((path) => titledLine(titles.wrote, path)),
        cautionLines(told.get(pattern) ?? [], words()),
      ].join('');
    },
  );
}

/** The cautions of what the files lead to. */
function cautionsFor({ spec, sheet, gather }: FlatPattern, chosen: readonly Chosen[]): ActCautions[] {
  const { material } = sheet;
  const uses = new Set(
    chosen.flatMap(({ exporter, values }) => exporter.leadsTo?.(values) ?? (['cut'] as const)),
  );
  const acts: Act[] = [];
  if (uses.has('cut')) acts.push(...cuttingActs(spec));
  if (uses.has('gauges')) acts.push(...GAUGE_ACTS);
  if (uses.has('form')) acts.push(...formingActs(material, gather.anneals, hasWeldedCorners(spec)));
  if (uses.has('weld')) acts.push('weld');
  return cautionsOf(acts, material);
}

/** A file before it is written. */
export interface NewFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** The files of a blank, one a format. All of them first: a tray that one exporter refuses leaves no half set. */
export async function filesOf(
  pattern: FlatPattern,
  chosen: readonly Chosen[],
  { today }: Dependencies,
): Promise<NewFile[]> {
  const context = today === undefined ? {} : { date: today };
  const names = namesOf(pattern.name, chosen);
  const files: NewFile[] = [];
  for (const [i, each] of chosen.entries()) {
    refuseForPart(pattern, each.exporter.id);
    files.push({ name: names[i]!, bytes: await bytesOf(each, pattern, context) });
  }
  return files;
}

/** @returns the paths of what was written, as a person reads them */
export async function writeFiles(
  files: readonly NewFile[],
  out: string,
  { folder }: Dependencies,
): Promise<string[]> {
  for (const { name, bytes } of files) await writeWhole(resolve(folder, out), name, bytes);
  return files.map(({ name }) => join(out, name));
}

/** A third party's exporter may do anything; the person is told which one it was. */
async function bytesOf(
  { exporter, foreign, values }: Chosen,
  pattern: FlatPattern,
  context: ExportContext,
): Promise<Uint8Array> {
  if (!foreign) return exporter.write(pattern, values, context);
  const said = words().messages.cli;
  let bytes: unknown;
  try {
    bytes = await exporter.write(pattern, values, context);
  } catch (error) {
    if (error instanceof GatherpanError) throw error;
    const [reason = ''] = String(error instanceof Error ? error.message : error).split('\n');
    throw new GatherpanError('EXPORTER_FAILED', said.exporterFailed(exporter.id, reason));
  }
  if (!(bytes instanceof Uint8Array)) {
    throw new GatherpanError('EXPORTER_FAILED', said.exporterWithoutBytes(exporter.id));
  }
  return bytes;
}

/** The exporters of `--format`, with the values of `--set`; settings of an earlier version are noted. */
export async function choose(
  options: Pick<MakeOptions, 'format' | 'set' | 'exporter' | 'limit'>,
  { load, folder, error }: Dependencies,
): Promise<Chosen[]> {
  const limit = secondsOf(options.limit);
  const others = (
    await Promise.all((options.exporter ?? []).map((name) => load.exporter(name, folder, limit)))
  ).flat();
  const registry = await load.registry(others);
  const ids = [
    ...new Set(
      options.format
        .split(',')
        .map((id) => id.trim())
        .filter((id) => id !== ''),
    ),
  ];
  if (ids.length === 0) {
    const known = registry.list().map((exporter) => exporter.id);
    throw new GatherpanError('BAD_INPUT', words().messages.cli.noFormat(known.join(', ')));
  }
  const exporters = ids.map((id) => registry.get(id));
  const given = settings(options.set ?? [], exporters);
  return exporters.map((exporter) => ({
    exporter,
    foreign: others.includes(exporter),
    values: registry.values(exporter, Object.fromEntries(given.get(exporter.id) ?? []), (note) =>
      error(titledLine(words().command.output.titles.note, note)),
    ),
  }));
}

function settings(
  texts: readonly string[],
  exporters: readonly Exporter[],
): ReadonlyMap<string, ReadonlyMap<string, unknown>> {
  const said = words().messages.cli;
  const given = new Map<string, Map<string, unknown>>();
  for (const text of texts) {
    const match = /^([^.=]+)\.([^.=]+)=(.*)$/s.exec(text);
    if (match === null) {
      throw new GatherpanError('BAD_INPUT', said.noSetting(JSON.stringify(text)));
    }
    const [, id, name, value] = match as unknown as [string, string, string, string];
    const exporter = exporters.find((candidate) => candidate.id === id);
    if (exporter === undefined) {
      throw new GatherpanError(
        'BAD_INPUT',
        said.settingOfOther(
          JSON.stringify(text),
          JSON.stringify(id),
          exporters.map((each) => each.id).join(', '),
        ),
      );
    }
    const values = given.get(id) ?? new Map<string, unknown>();
    if (values.has(name)) {
      throw new GatherpanError('BAD_INPUT', said.settingTwice(`${id}.${name}`));
    }
    const parameter = parameterOf(exporter, name);
    values.set(name, parameter === undefined ? value : valueFromText(parameter, value));
    given.set(id, values);
  }
  return given;
}

/** Names of a tray's files, one a format. */
const namesOf = (trayName: string, chosen: readonly Chosen[]): string[] =>
  fileNamesOf(
    trayName,
    chosen.map(({ exporter, values }) => ({ id: exporter.id, extension: extensionOf(exporter, values) })),
  );

/**
 * Refuses trays whose files would overwrite one another's, or a tray file of this call.
 *
 * Names are compared without regard to capitals, because some systems do not tell them apart in file names.
 */
async function refuseClashes(
  jobs: readonly Job[],
  chosen: readonly Chosen[],
  options: MakeOptions,
  dependencies: Dependencies,
): Promise<Job[]> {
  const owners = new Map<string, Job[]>();
  for (const job of jobs) {
    if (!('spec' in job)) continue;
    const key = fileKey(fileStem(job.spec.name));
    owners.set(key, [...(owners.get(key) ?? []), job]);
  }
  const taken = new Map<string, { readonly format: string; readonly tray: string }>();
  const result: Job[] = [];
  for (const job of jobs) {
    const error = 'spec' in job ? await clash(job) : undefined;
    result.push(error === undefined ? job : { file: job.file, error });
  }
  return result;

  async function clash(job: Extract<Job, { spec: unknown }>): Promise<GatherpanError | undefined> {
    const said = words().messages.cli;
    const { name } = job.spec;
    const others = (owners.get(fileKey(fileStem(name))) ?? []).filter((other) => other !== job);
    if (others.length > 0) {
      const where = others.map((other) => fileLabel(other.file)).join(', ');
      return new GatherpanError('BAD_INPUT', {
        path: 'name',
        message: said.nameTaken(JSON.stringify(name), where),
      });
    }
    const targets = namesOf(name, chosen);
    for (const [i, { exporter }] of chosen.entries()) {
      const target = targets[i]!;
      const owner = taken.get(fileKey(target));
      if (owner !== undefined) {
        return new GatherpanError(
          'BAD_INPUT',
          said.writtenTwice(target, owner.format, owner.tray, exporter.id, name),
        );
      }
      taken.set(fileKey(target), { format: exporter.id, tray: name });
      const path = resolve(dependencies.folder, options.out, target);
      for (const { file } of jobs) {
        if (file !== '-' && (await isSameFile(path, resolve(dependencies.folder, file)))) {
          return new GatherpanError('BAD_INPUT', said.overwritesTray(join(options.out, target), file));
        }
      }
    }
    return undefined;
  }
}
