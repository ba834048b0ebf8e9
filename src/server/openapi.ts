/**
 * The description of the HTTP interface (OpenAPI 3.1), made from the same declarations that serve it. It is for
 * programmers and in English whatever language the service speaks; only the formats' own words come from the table.
 */

import type { Parameter } from '../exporters/contract.ts';
import { LENGTH_UNITS } from '../papers/lengths.ts';
import { DRAWING_UNITS } from '../tray/planSchema.ts';
import { trayJsonSchema } from '../tray/schema.ts';
import { DEMO_TRAY } from './demoTray.ts';
import { registry } from './formats.ts';
import { megabytes, type ServerLimits } from './limits.ts';
import { PROBLEM_CODES, PROBLEM_TYPE } from './problem.ts';

type Json = Readonly<Record<string, unknown>>;

export function openApi(version: string, limits: ServerLimits): Json {
  const { $schema: _, ...tray } = trayJsonSchema();
  return {
    openapi: '3.1.0',
    info: {
      title: 'gatherpan',
      version,
      license: { name: 'MIT', identifier: 'MIT' },
      description: [
        'Flat blanks for one-piece trays with gathered corners. Lengths in mm, angles in degrees, strains in engineering per cent, mass in kg, unless a name says otherwise.',
        'Nothing is kept: every answer is made from its request alone.',
        `Limits: a tray file ${megabytes(limits.trayBytes)}; a table ${megabytes(limits.tableBytes)} and ${limits.tableRows} rows; a drawing ${megabytes(limits.drawingBytes)}; a solid ${megabytes(limits.solidBytes)}; one job ${limits.jobTime / 1000} s and ${limits.jobMemory} MB; a table ${limits.tableTime / 60_000} min and ${megabytes(limits.archiveBytes)} of files; ${limits.sendTime / 1000} s to take an answer; ${limits.waiting} jobs waiting, ${limits.waitTime / 1000} s to wait; a solid ${limits.solids.jobTime / 1000} s, ${limits.solids.waiting} waiting, ${limits.solids.waitTime / 1000} s to wait; ${limits.tables} tables at a time; ${limits.requestsPerMinute} requests a minute from one address.`,
        'A client that closes its connection stops its job.',
      ].join('\n\n'),
    },
    servers: [{ url: '/' }],
    paths: {
      '/api/health': {
        get: operation('health', 'Whether the process answers', { 200: object('It does', 'status') }, []),
      },
      '/api/ready': {
        get: operation(
          'ready',
          'Whether work is taken: every thread is warm and no stop is under way',
          { 200: object('It is', 'status') },
          ['503'],
        ),
      },
      '/api/about': {
        get: operation('about', 'Name and version', { 200: object('Both', 'name', 'version') }),
      },
      '/api/limits': { get: operation('limits', 'The limits above as data', { 200: object('Limits') }) },
      '/api/openapi.json': { get: operation('openapi', 'This document', { 200: object('OpenAPI') }) },
      '/api/schema': {
        get: operation('schema', 'The JSON Schema of tray files', { 200: object('JSON Schema') }),
      },
      '/api/demo': { get: operation('demo', 'A tray to start from', { 200: trayContent('A tray file') }) },
      '/api/sheets': {
        get: operation('sheets', 'The sheet materials with their properties and sources', {
          200: json('Materials', { type: 'array', items: { type: 'object', required: ['name', 'title'] } }),
        }),
      },
      '/api/formats': {
        get: operation('formats', 'The formats files can be had in, with their parameters', {
          200: json('Formats', {
            type: 'array',
            items: { type: 'object', required: ['id', 'label', 'extension', 'mediaType', 'parameters'] },
          }),
        }),
      },
      '/api/check': {
        post: {
          ...operation(
            'check',
            'Checks a tray file without solving it; answers with the complete tray',
            { 200: trayContent('The tray in mm, nothing left out') },
            ['413', '415', '422', '503'],
          ),
          requestBody: trayBody,
        },
      },
      '/api/preview': {
        post: {
          ...operation(
            'preview',
            'Solves a tray: figures, verdict, cautions and pictures (SVG)',
            {
              200: object(
                'What is to be known of the tray',
                'tray',
                'figures',
                'verdict',
                'anneals',
                'cautions',
                'notes',
                'pictures',
              ),
            },
            ['413', '415', '422', '503'],
          ),
          parameters: [unitParameter],
          requestBody: trayBody,
        },
      },
      '/api/changes': {
        post: {
          ...operation(
            'changes',
            'Looks for single changes of a tray that would turn its verdict',
            {
              200: object(
                'The verdict, the changes found, and those that do not help',
                'verdict',
                'changes',
                'without',
                'cautions',
              ),
            },
            ['413', '415', '422', '503'],
          ),
          parameters: [unitParameter],
          requestBody: trayBody,
        },
      },
      '/api/files/{format}': {
        post: {
          ...operation(
            'file',
            'One file of a tray',
            {
              200: anyFile(),
            },
            ['404', '413', '415', '422', '503'],
          ),
          parameters: fileParameters(),
          requestBody: trayBody,
        },
      },
      '/api/archive': {
        post: {
          ...operation(
            'archive',
            'An archive of a tray: tray file, files, order note for the cutting service, manifest',
            { 200: file({ 'application/zip': {} }, 'The archive') },
            ['404', '413', '415', '422', '503'],
          ),
          parameters: [formatsParameter, quantityParameter(limits), unitParameter, fileNameParameter],
          requestBody: trayBody,
        },
      },
      '/api/upload': {
        post: {
          ...operation(
            'upload',
            'Reads a file of any kind: a tray file, a drawing or the solid of a tray becomes a tray; another STEP part is solved as it is; of a table the rows are counted',
            {
              200: object(
                'The kind (tray, drawing, question, solid, part, table), and the tray (of a drawing with notes on how it was read, of a solid with notes in what it differs), what a preview holds of the part (its tray tells outer sizes only), or the number of rows. A question is asked of a drawing that leaves something open, and nothing is assumed: each has what it is about (units, cornerRadius, layer, loop) and what there is to choose from; send the drawing again with the field of that name',
                'kind',
              ),
            },
            ['400', '413', '415', '422', '503'],
          ),
          parameters: [unitParameter],
          requestBody: upload('The file; what it is, is decided by its content.', {
            units: {
              enum: DRAWING_UNITS,
              description: 'The unit of a drawing that names none; one that names another is refused.',
            },
            cornerRadius: {
              type: 'number',
              description: 'Radius of the corners that a drawing shows sharp, in the unit of the base.',
            },
            layer: { type: 'string', description: 'The layer of a drawing to read; all when left out.' },
            loop: {
              type: 'integer',
              description:
                'Which of several outlines beside each other is the plan, from 1, the largest first.',
            },
          }),
        },
      },
      '/api/part/files/{format}': {
        post: {
          ...operation(
            'partFile',
            'One file of a STEP part that is solved as it is',
            {
              200: anyFile(),
            },
            ['400', '404', '413', '415', '422', '503'],
          ),
          parameters: fileParameters(),
          requestBody: upload('The part.'),
        },
      },
      '/api/part/archive': {
        post: {
          ...operation(
            'partArchive',
            'Makes one archive of a STEP part that is solved as it is: the files of each format that needs no tray file, manifest and order note',
            { 200: file({ 'application/zip': {} }, 'The archive, named after the part') },
            ['400', '404', '413', '415', '422', '503'],
          ),
          parameters: [formatsParameter, quantityParameter(limits), unitParameter, fileNameParameter],
          requestBody: upload('The part.'),
        },
      },
      '/api/table': {
        post: {
          ...operation(
            'table',
            'Solves a table of sizes (CSV) and streams the outcome of every row as it comes',
            {
              200: {
                description:
                  'One JSON object a line: event start (rows), event row (line, ok, figures with the verdict or errors; a tray without a blank has figures with nulls), event end (made: rows with a blank; failed: the others). A stream without an end was broken off.',
                content: { 'application/x-ndjson': { schema: { type: 'string' } } },
              },
            },
            ['400', '413', '415', '422', '503'],
          ),
          parameters: [unitParameter],
          requestBody: upload('The table.'),
        },
      },
      '/api/table/archive': {
        post: {
          ...operation(
            'tableArchive',
            'Solves a table of sizes (CSV) into one archive with a manifest',
            { 200: file({ 'application/zip': {} }, 'The archive, named after the table') },
            ['400', '404', '413', '415', '422', '503'],
          ),
          parameters: [formatsParameter, unitParameter],
          requestBody: upload('The table.'),
        },
      },
    },
    components: {
      schemas: { Tray: tray, Problem: problemSchema },
      responses: Object.fromEntries(
        Object.entries(REFUSALS).map(([status, description]) => [
          `Problem${status}`,
          {
            description,
            ...(status === '503' || status === '429'
              ? { headers: { 'Retry-After': { description: 'Seconds.', schema: { type: 'integer' } } } }
              : {}),
            content: { [PROBLEM_TYPE]: { schema: { $ref: '#/components/schemas/Problem' } } },
          },
        ]),
      ),
    },
  };
}

const REFUSALS: Readonly<Record<string, string>> = {
  400: 'The request is malformed',
  404: 'No such format or material',
  413: 'More data than is taken',
  415: 'Another type of content is taken here',
  422: 'A value is not acceptable, such a tray cannot be made, or it took more time or memory than one job may; one error for each field',
  429: 'Too many requests from one address',
  503: 'No capacity now; try again after Retry-After seconds',
};

/** Problem details, RFC 9457. */
const problemSchema: Json = {
  type: 'object',
  required: ['type', 'title', 'status', 'detail', 'code', 'errors'],
  properties: {
    type: { type: 'string', description: 'Where the code is explained.' },
    title: { type: 'string' },
    status: { type: 'integer' },
    detail: { type: 'string', description: 'One sentence for each fault.' },
    code: { enum: PROBLEM_CODES },
    errors: {
      type: 'array',
      items: {
        type: 'object',
        required: ['path', 'pointer', 'detail'],
        properties: {
          path: { type: 'string', description: 'Dotted path of the field; empty for the file as a whole.' },
          pointer: { type: 'string', description: 'The same as JSON pointer (RFC 6901) in a fragment.' },
          detail: { type: 'string' },
        },
      },
    },
  },
};

function operation(
  operationId: string,
  summary: string,
  responses: Json,
  refusals: readonly string[] = [],
): Json {
  return {
    operationId,
    summary,
    responses: {
      ...responses,
      ...Object.fromEntries(
        [...refusals, '429'].map((status) => [status, { $ref: `#/components/responses/Problem${status}` }]),
      ),
    },
  };
}

const json = (description: string, schema: Json): Json => ({
  description,
  content: { 'application/json': { schema } },
});

const object = (description: string, ...required: string[]): Json =>
  json(description, required.length > 0 ? { type: 'object', required } : { type: 'object' });

const trayContent = (description: string): Json => json(description, { $ref: '#/components/schemas/Tray' });

const file = (content: Json, description: string, headers: Json = {}): Json => ({
  description,
  headers: {
    'Content-Disposition': { description: 'The name of the file (RFC 6266).', schema: { type: 'string' } },
    ...headers,
  },
  content,
});

/** The file of a format. */
const anyFile = (): Json =>
  file(
    Object.fromEntries(
      registry()
        .list()
        .map(({ mediaType }) => [mediaType, {}]),
    ),
    'The file',
    notesHeader,
  );

/** What is said of the settings of a file. */
export const NOTES_HEADER = 'Gatherpan-Notes';

const notesHeader: Json = {
  [NOTES_HEADER]: {
    description:
      'There when a setting of an earlier version was given: what to set instead, as sentences that are percent-encoded (RFC 3986) and separated by spaces.',
    schema: { type: 'string' },
  },
};

const trayBody: Json = {
  required: true,
  content: {
    'application/json': { schema: { $ref: '#/components/schemas/Tray' }, example: DEMO_TRAY },
  },
};

const upload = (description: string, more: Json = {}): Json => ({
  required: true,
  content: {
    'multipart/form-data': {
      schema: {
        type: 'object',
        required: ['file'],
        properties: {
          file: { type: 'string', contentMediaType: 'application/octet-stream', description },
          base: {
            type: 'string',
            contentMediaType: 'application/json',
            description:
              'A tray file: for a table what its rows share, for a drawing or a solid what that does not say (sheet, trim, cut).',
          },
          ...more,
        },
      },
    },
  },
});

const formatParameter = (): Json => ({
  name: 'format',
  in: 'path',
  required: true,
  schema: {
    enum: registry()
      .list()
      .map(({ id }) => id),
  },
  description: registry()
    .list()
    .map(({ id, label }) => `${id}: ${label}`)
    .join('; '),
});

const quantityParameter = (limits: ServerLimits): Json => ({
  name: 'quantity',
  in: 'query',
  description: 'Pieces, for the order note.',
  schema: { type: 'integer', minimum: 1, maximum: limits.quantity, default: 1 },
});

const unitParameter: Json = {
  name: 'unit',
  in: 'query',
  description: 'Unit of lengths in sentences, pictures and papers, and of the tray file in an archive.',
  schema: { enum: LENGTH_UNITS, default: 'mm' },
};

const fileNameParameter: Json = {
  name: 'fileName',
  in: 'query',
  description:
    "Name for the download, any letters; the tray's name when left out. The ending is the format's.",
  schema: { type: 'string' },
};

const formatsParameter: Json = {
  name: 'formats',
  in: 'query',
  description: 'Formats, separated by commas; all when left out.',
  schema: { type: 'string' },
};

const fileParameters = (): Json[] => [
  formatParameter(),
  fileNameParameter,
  ...exporterParameters(),
  ...earlierParameters(),
];

/** The settings of every exporter; one name may belong to several. */
function exporterParameters(): Json[] {
  const byName = new Map<string, { readonly parameter: Parameter; readonly ids: string[] }>();
  for (const { id, parameters } of registry().list()) {
    for (const parameter of parameters) {
      const known = byName.get(parameter.name);
      if (known === undefined) byName.set(parameter.name, { parameter, ids: [id] });
      else known.ids.push(id);
    }
  }
  return [...byName.values()].map(({ parameter, ids }) => ({
    name: parameter.name,
    in: 'query',
    description: `For ${ids.join(', ')}: ${parameter.help}.`,
    // Formats that share a name may accept different values, so only the type is promised then.
    schema: ids.length > 1 ? { type: 'string' } : { ...valuesOf(parameter), default: parameter.default },
  }));
}

/** Settings of an earlier version, where no parameter of this one has the name. */
function earlierParameters(): Json[] {
  const formats = registry().list();
  const named = new Set(formats.flatMap(({ parameters }) => parameters.map(({ name }) => name)));
  return formats.flatMap(({ id, earlier }) =>
    (earlier?.parameters ?? [])
      .filter(({ name }) => !named.has(name))
      .map((parameter) => ({
        name: parameter.name,
        in: 'query',
        deprecated: true,
        description: `For ${id}: ${parameter.help}.`,
        schema: valuesOf(parameter),
      })),
  );
}

function valuesOf(parameter: Parameter): Json {
  switch (parameter.type) {
    case 'boolean':
      return { type: 'boolean' };
    case 'number':
      return { type: 'number', minimum: parameter.minimum, maximum: parameter.maximum };
    case 'choice':
      return { enum: parameter.choices };
    case 'list':
      // Any of the choices, separated by commas.
      return {
        type: 'string',
        pattern: `^(?:(?:${parameter.choices.join('|')})(?:,(?:${parameter.choices.join('|')}))*)?$`,
      };
  }
}
