/**
 * The tray file as a person writes it, as a schema.
 *
 * The same schema checks a file (`readTray.ts`) and is published as JSON Schema, so that an editor can
 * complete and check the file while it is written. The message of every rule is the second half of a
 * sentence, "what would be accepted"; `sentences.ts` puts the field and the value found in front.
 */
import { z } from 'zod';
import { choice, fileName, length, number, object, text, UNITS, type Units } from './fields.ts';
import { gaugeSystemNames, gaugeSystems } from './gauge.ts';
import { holes } from './holeSchema.ts';
import { DEFAULTS, LIMITS, MOST_STAGES } from './limits.ts';
import { plan } from './planSchema.ts';
import { section } from './sectionSchema.ts';

const CORNERS_ACCEPTED = '"gather" or "notch", or a list of them, one for every corner';

const UNITS_DESCRIPTION = 'Unit of every length in this file: mm or in.';

/** Ranges of a material's own numbers: wide enough for any sheet metal. */
const customMaterial = object(
  {
    name: text('a name for the material', 'What to call the material on drawings.'),
    K: number([1, 10_000], 'N/mm²', 'Swift hardening, flow stress = K (epsilon0 + strain)^n: strength K.'),
    epsilon0: number([1e-5, 0.5], '', 'Swift hardening: strain offset.'),
    n: number([0.01, 0.8], '', 'Swift hardening: exponent.'),
    r0: number([0.01, 20], '', 'Lankford coefficient along the rolling direction.'),
    r45: number([0.01, 20], '', 'Lankford coefficient at 45 degrees to the rolling direction.'),
    r90: number([0.01, 20], '', 'Lankford coefficient across the rolling direction.'),
    density: number([0.5, 25], 'kg/dm³', 'Density, the same number as in g/cm³.'),
    youngsModulus: number([1000, 1_000_000], 'N/mm²', "Young's modulus."),
    yieldStrength: number([1, 5000], 'N/mm²', 'Yield strength Re or Rp0.2.'),
    tensileStrength: number([1, 5000], 'N/mm²', 'Tensile strength Rm.'),
    uniformElongation: number([0.1, 200], '%', 'Uniform elongation, engineering strain.'),
    strainBudget: number(
      [0.01, 3],
      '',
      'Logarithmic equivalent strain the sheet takes between anneals; from the uniform elongation when left out.',
    ).optional(),
    annealTemperature: z
      .array(number([0, 2000], '°C', 'A temperature.'), {
        error: 'a list of two temperatures in °C, the lower one first',
      })
      .length(2, { error: 'a list of two temperatures in °C, the lower one first' })
      .meta({
        description: 'Lowest and highest annealing temperature in °C; left out when it must not be annealed.',
      })
      .optional(),
  },
  'the name of a material, or an object with its properties',
  'A sheet material in full, in place of a name.',
);

const sheet = (units: Units) =>
  object(
    {
      material: z
        .union(
          [
            text(
              'the name of a material, or an object with its properties',
              'Name of a material of the table, for example DC04.',
            ),
            customMaterial,
          ],
          { error: 'the name of a material, or an object with its properties' },
        )
        .meta({ description: 'Name of a material of the table, or a material in full.' }),
      thickness: z
        .union(
          [
            length(units, LIMITS.thickness, 'Thickness of the sheet.'),
            object(
              {
                gauge: z
                  .int({ error: 'a whole gauge number from 0 to 36' })
                  .min(0, { error: 'a whole gauge number from 0 to 36' })
                  .max(36, { error: 'a whole gauge number from 0 to 36' })
                  .meta({ description: 'Gauge number.' }),
                system: choice(
                  gaugeSystemNames as [string, ...string[]],
                  `The gauge system, because one number means different thicknesses: ${gaugeSystems
                    .map((system) => `${system.name} (${system.usedFor})`)
                    .join(', ')}.`,
                ),
              },
              'a number, or an object with gauge and system',
              'Thickness by gauge number of a named system.',
            ),
          ],
          {
            error: `${units === 'mm' ? 'a number in mm' : 'a number in inches'}, or an object with gauge and system`,
          },
        )
        .meta({ description: 'Thickness of the sheet, or a gauge number and its system.' }),
      grain: number(
        LIMITS.grain,
        'degrees',
        'Rolling direction, counter-clockwise from the x axis of the plan.',
      ).default(DEFAULTS.grain),
    },
    'an object with material and thickness',
    'The sheet the tray is made of.',
  );

const making = choice(
  ['gather', 'notch'],
  'In one piece (gather), or cut out so that the sides meet at a mitre and are welded (notch).',
);

const forming = (units: Units) =>
  object(
    {
      trim: z
        .union(
          [
            length(units, LIMITS.trim, 'Extra material outside the net rim, cut off after forming.'),
            choice(['auto'], 'As much as the rims of different hands lie apart.'),
          ],
          { error: `a number in ${units === 'mm' ? 'mm' : 'inches'}, or "auto"` },
        )
        .meta({
          description:
            'Extra material outside the net rim, cut off after forming: a length, or "auto" for as much as the rims of different hands lie apart. 4 mm when left out.',
        })
        .optional(),
      hand: number(
        LIMITS.hand,
        '',
        'Share of the gather that goes to length up the wall, 0 (all to thickness) to 1. The sheet’s own when left out.',
      ).optional(),
      spread: number(
        LIMITS.spread,
        '%',
        'Area gained by planishing where the sheet is worked. 0 when left out.',
      ).optional(),
      zoneThreshold: number(
        LIMITS.zoneThreshold,
        '%',
        'In-plane shrink from which a part of the blank counts as a gather zone. 2 when left out.',
      ).optional(),
      stages: z
        .array(number(LIMITS.stageAngle, 'degrees', 'Angle of the wall from the base’s plane.'), {
          error: 'a list of angles in degrees',
        })
        .min(1, { error: 'a list of at least one angle' })
        .max(MOST_STAGES, { error: `a list of at most ${MOST_STAGES} angles` })
        .meta({
          description:
            'Angles from the base’s plane to which the wall is turned up, stage by stage, the last one being its own; thirds of that when left out.',
        })
        .optional(),
      corners: z
        .union(
          [
            making,
            z
              .array(making, { error: CORNERS_ACCEPTED })
              .meta({ description: 'One for every corner of the plan, in their order.' }),
          ],
          { error: CORNERS_ACCEPTED },
        )
        .meta({ description: 'How the corners are made, all alike or one by one. "gather" when left out.' })
        .optional(),
      weldGap: length(
        units,
        LIMITS.weldGap,
        'Gap between the edges of a notched corner for the weld. 0 when left out.',
      ).optional(),
    },
    'an object with trim',
    'How it is formed.',
  );

/**
 * The schema of a tray file written in `units`.
 *
 * Two schemas instead of one, so that the limits an editor or an error names are in the person's own units.
 */
export function trayFileSchema(units: Units) {
  return object(
    {
      $schema: z
        .string({ error: 'the address of the JSON Schema' })
        .meta({ description: 'Where the JSON Schema of tray files is, for editors.' })
        .optional(),
      name: fileName(
        'Name of the tray and of the files made from it: letters, digits, - _ and . inside. From the file name when left out.',
      ).optional(),
      units:
        units === 'mm'
          ? choice(['mm'], UNITS_DESCRIPTION, UNITS).default(DEFAULTS.units)
          : choice(['in'], UNITS_DESCRIPTION, UNITS),
      measured: choice(
        ['outside', 'inside'],
        'The skin of the sheet that lengths, radii and heights refer to.',
      ).default(DEFAULTS.measured),
      plan: plan(units),
      section: section(units),
      holes: holes(units).optional(),
      sheet: sheet(units),
      forming: forming(units).optional(),
      cut: object(
        {
          process: choice(['laser', 'plasma', 'water jet', 'hand'], 'How the blank is cut.').default(
            DEFAULTS.process,
          ),
          kerf: length(units, LIMITS.kerf, 'Width of the cut. 0.2 mm when left out.').optional(),
          compensate: z
            .boolean({ error: 'true or false' })
            .meta({
              description:
                'Move the outline out by half the kerf. Cutting services usually do that themselves: leave it false unless the cutter asks for it.',
            })
            .default(DEFAULTS.compensate),
        },
        'an object with process, kerf and compensate',
        'How the blank is cut out.',
      ).optional(),
    },
    'an object with name, plan, section and sheet',
    'A tray of one piece, shaped by hand from flat sheet.',
  );
}

/** A tray file that has passed the schema, in its own units, with the schema's defaults filled in. */
export type TrayFile = z.output<ReturnType<typeof trayFileSchema>>;

/**
 * The JSON Schema (draft 2020-12) of tray files, for editors.
 *
 * Lengths have one set of limits in mm and one in inches; `units` chooses between them.
 */
export function trayJsonSchema(): Record<string, unknown> {
  const branch = (units: Units): Record<string, unknown> => {
    const { $schema: _, ...rest } = z.toJSONSchema(trayFileSchema(units), { io: 'input' });
    return rest;
  };
  return {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    title: 'Tray file',
    description: 'A tray of one piece, shaped by hand from flat sheet.',
    type: 'object',
    properties: {
      units: {
        enum: UNITS,
        default: DEFAULTS.units,
        description: UNITS_DESCRIPTION,
      },
    },
    if: { properties: { units: { const: 'in' } }, required: ['units'] },
    // biome-ignore lint/suspicious/noThenProperty: a keyword of JSON Schema
    then: branch('in'),
    else: branch('mm'),
  };
}
