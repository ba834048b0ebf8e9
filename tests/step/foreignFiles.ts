/**
 * What a part goes through in the files of other programs: other units (ISO 10303-41, conversion based units), and a
 * place in an assembly (ISO 10303-44, next assembly usage occurrence). Changes to the text of a file of one part in mm
 * and radians.
 */

const text = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);
const bytes = (file: string): Uint8Array => new TextEncoder().encode(file);

const MILLIMETRE = /\( ?LENGTH_UNIT\(\) ?NAMED_UNIT\(\*\) ?SI_UNIT\(\.MILLI\.,\.METRE\.\) ?\)/;
const RADIAN = /\( ?NAMED_UNIT\(\*\) ?PLANE_ANGLE_UNIT\(\) ?SI_UNIT\(\$,\.RADIAN\.\) ?\)/;

/** Replaces what has to be there. */
function replaced(file: string, what: RegExp, by: string): string {
  if (!what.test(file)) throw new Error(`the file has no ${what.source}`);
  return file.replace(what, by);
}

const withInstances = (file: string, instances: readonly string[]): string =>
  replaced(file, /ENDSEC;\s*END-ISO/, `${instances.join('\n')}\nENDSEC;\nEND-ISO`);

/** The numbers stay: they are inches now. */
export function inInches(file: Uint8Array): Uint8Array {
  const unit = "(CONVERSION_BASED_UNIT('INCH',#90001)LENGTH_UNIT()NAMED_UNIT(#90002))";
  return bytes(
    withInstances(replaced(text(file), MILLIMETRE, unit), [
      '#90001=LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(25.4),#90003);',
      '#90002=DIMENSIONAL_EXPONENTS(1.,0.,0.,0.,0.,0.,0.);',
      '#90003=(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.));',
    ]),
  );
}

/** The numbers stay: they are metres now. */
export const inMetres = (file: Uint8Array): Uint8Array =>
  bytes(replaced(text(file), MILLIMETRE, '(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT($,.METRE.))'));

/** The half angles of cones are said in degrees. */
export function inDegrees(file: Uint8Array): Uint8Array {
  const unit = "(CONVERSION_BASED_UNIT('DEGREE',#90011)NAMED_UNIT(#90012)PLANE_ANGLE_UNIT())";
  const cones = text(file).replace(
    /(CONICAL_SURFACE\('[^']*',#\d+,[^,]+,)([^)]+)\)/g,
    (_, before: string, angle: string) => `${before}${((Number(angle) * 180) / Math.PI).toFixed(12)})`,
  );
  return bytes(
    withInstances(replaced(cones, RADIAN, unit), [
      `#90011=PLANE_ANGLE_MEASURE_WITH_UNIT(PLANE_ANGLE_MEASURE(${Math.PI / 180}),#90013);`,
      '#90012=DIMENSIONAL_EXPONENTS(0.,0.,0.,0.,0.,0.,0.);',
      '#90013=(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.));',
    ]),
  );
}

/** The part as one of an assembly's, once for each height at which it stands, turned by a right angle. */
export function inAssembly(file: Uint8Array, heights: readonly number[]): Uint8Array {
  const whole = text(file);
  const found = (what: RegExp): string => {
    const match = what.exec(whole);
    if (match === null) throw new Error(`the file has no ${what.source}`);
    return match[1]!;
  };
  const shape = found(/(#\d+) ?= ?ADVANCED_BREP_SHAPE_REPRESENTATION/);
  const origin = found(/ADVANCED_BREP_SHAPE_REPRESENTATION\('[^']*',\((#\d+)/);
  const space = found(/ADVANCED_BREP_SHAPE_REPRESENTATION\('[^']*',\([^)]*\),(#\d+)/);
  const part = found(/(#\d+) ?= ?PRODUCT_DEFINITION\(/);
  const design = found(/PRODUCT_DEFINITION\('[^']*','[^']*',#\d+,(#\d+)/);
  const context = found(/PRODUCT\('[^']*',\s*'[^']*','[^']*',\((#\d+)\)/);
  const places = heights.map((_, i) => `#${90_200 + 20 * i}`);
  return bytes(
    withInstances(whole, [
      `#90101=PRODUCT('bench','bench','',(${context}));`,
      "#90102=PRODUCT_DEFINITION_FORMATION('','',#90101);",
      `#90103=PRODUCT_DEFINITION('design','',#90102,${design});`,
      "#90104=PRODUCT_DEFINITION_SHAPE('','',#90103);",
      `#90105=SHAPE_REPRESENTATION('',(${[origin, ...places].join(',')}),${space});`,
      '#90106=SHAPE_DEFINITION_REPRESENTATION(#90104,#90105);',
      ...heights.flatMap((height, i) => {
        const at = (k: number): string => `#${90_200 + 20 * i + k}`;
        return [
          `${at(0)}=AXIS2_PLACEMENT_3D('',${at(1)},${at(2)},${at(3)});`,
          `${at(1)}=CARTESIAN_POINT('',(40.,-25.,${height.toFixed(6)}));`,
          `${at(2)}=DIRECTION('',(1.,0.,0.));`,
          `${at(3)}=DIRECTION('',(0.,1.,0.));`,
          `${at(4)}=NEXT_ASSEMBLY_USAGE_OCCURRENCE('${i + 1}','','',#90103,${part},$);`,
          `${at(5)}=PRODUCT_DEFINITION_SHAPE('','',${at(4)});`,
          `${at(6)}=ITEM_DEFINED_TRANSFORMATION('','',${origin},${at(0)});`,
          `${at(7)}=(REPRESENTATION_RELATIONSHIP('','',${shape},#90105)REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION(${at(6)})SHAPE_REPRESENTATION_RELATIONSHIP());`,
          `${at(8)}=CONTEXT_DEPENDENT_SHAPE_REPRESENTATION(${at(7)},${at(5)});`,
        ];
      }),
    ]),
  );
}

/** The solid's shell used against its own direction. */
export function insideOut(file: Uint8Array): Uint8Array {
  const whole = text(file);
  const shell = /MANIFOLD_SOLID_BREP\('[^']*',(#\d+)\)/.exec(whole)![1]!;
  return bytes(
    withInstances(replaced(whole, /(MANIFOLD_SOLID_BREP\('[^']*',)#\d+\)/, '$1#90021)'), [
      `#90021=ORIENTED_CLOSED_SHELL('',*,${shell},.F.);`,
    ]),
  );
}

/** Every face said to lie on the other side of its surface, as faulty exporters write it. */
export const facesTurned = (file: Uint8Array): Uint8Array =>
  bytes(
    text(file).replace(
      /(ADVANCED_FACE\([^;]*),\.([TF])\.\)/g,
      (_, before: string, sense: string) => `${before},.${sense === 'T' ? 'F' : 'T'}.)`,
    ),
  );
