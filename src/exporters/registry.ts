/** The exporters that are to be had: the built-in ones and whatever a third party adds. */
import { type Fault, GatherpanError } from '../errors.ts';
import { nearest } from '../spelling.ts';
import { words } from '../words/language.ts';
import type { Exporter, ParameterValues } from './contract.ts';
import { exporterFaults } from './exporterFaults.ts';
import { completeValues } from './parameters.ts';

/** A fixed set of exporters, each with an id of its own. */
export interface Registry {
  /** In the order they were given. */
  list(): readonly Exporter[];
  /**
   * The exporter with this id.
   *
   * @throws GatherpanError NOT_FOUND naming the known ids, and the nearest where one is near
   */
  get(id: string): Exporter;
  /**
   * A value for every parameter of `exporter`, ready for `write`: given values are checked, the others are
   * the defaults.
   *
   * @param note takes a sentence on parameters of an earlier version, where such were given
   * @throws GatherpanError BAD_INPUT for an unknown parameter (with those allowed) or a value out of range
   */
  values(
    exporter: Exporter,
    given: Readonly<Record<string, unknown>>,
    note?: (sentence: string) => void,
  ): ParameterValues;
}

/**
 * A registry of `exporters`, usually `[...builtInExporters, mine]`.
 *
 * @throws GatherpanError BAD_INPUT when one is malformed or two have the same id; one fault for each
 */
export function createRegistry(exporters: readonly Exporter[]): Registry {
  const byId = new Map<string, Exporter>();
  const faults: Fault[] = [];
  exporters.forEach((exporter, position) => {
    const wrong = exporterFaults(exporter, position + 1);
    faults.push(...wrong);
    if (wrong.length > 0) return;
    const other = byId.get(exporter.id);
    if (other !== undefined) {
      faults.push({
        path: exporter.id,
        message: words().messages.exporters.sameId(exporter.id, other.label, exporter.label),
      });
      return;
    }
    byId.set(exporter.id, exporter);
  });
  if (faults.length > 0) throw new GatherpanError('BAD_INPUT', faults);

  const list = Object.freeze([...byId.values()]);
  return {
    list: () => list,
    get(id) {
      const exporter = byId.get(id);
      if (exporter === undefined) throw new GatherpanError('NOT_FOUND', notFound(id, [...byId.keys()]));
      return exporter;
    },
    values: completeValues,
  };
}

function notFound(id: string, known: readonly string[]): string {
  const say = words().messages.exporters;
  const format = JSON.stringify(id);
  if (known.length === 0) return say.formatsNone(format);
  // A word of several: of `pdf`, `card-pdf` and others.
  const some = known.filter((each) => each.split('-').includes(id.toLowerCase()));
  if (some.length > 0) return say.formatOfSeveral(format, some.join(', '));
  const near = nearest(id, known);
  return near === undefined
    ? say.formatUnknown(format, known.join(', '))
    : say.formatNear(format, near, known.join(', '));
}
