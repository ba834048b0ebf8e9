/**
 * What surrounds the geometry in an exchange file: header, product, units, and the shape's place among them.
 *
 * Sources: ISO 10303-21 (header section), ISO 10303-41 and -43 (product and representation), ISO 10303-214 and
 * -242 (schema names and application contexts).
 */
import { Instances, list, text } from './part21.ts';

/** Which application protocol the file follows. */
export type Protocol = 'AP214' | 'AP242';

const SCHEMAS: Readonly<Record<Protocol, { schema: string; context: string; name: string; year: number }>> = {
  AP214: {
    schema: 'AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }',
    context: 'core data for automotive mechanical design processes',
    name: 'automotive_design',
    year: 2000,
  },
  AP242: {
    schema: 'AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF { 1 0 10303 442 1 1 4 }',
    context: 'managed model based 3d engineering',
    name: 'ap242_managed_model_based_3d_engineering',
    year: 2014,
  },
};

/** The date every file bears: two runs give the same bytes, so no file tells the time. */
const NO_DATE = '1970-01-01T00:00:00';

/** References of a shape to be wrapped up. */
export interface Shape {
  /** Solids (`MANIFOLD_SOLID_BREP`). */
  readonly solids: readonly string[];
  /** Sets of curves (`GEOMETRIC_CURVE_SET`), may be empty. */
  readonly curves: readonly string[];
}

/**
 * A whole exchange file of one product.
 *
 * @param name  of the product
 * @param build adds the geometry to the instances; lengths mm
 * @param description of the product, a sentence or empty
 */
export function exchangeFile(
  name: string,
  protocol: Protocol,
  build: (instances: Instances) => Shape,
  description = '',
): Uint8Array {
  const { schema, context, name: status, year } = SCHEMAS[protocol];
  const data = new Instances();
  const application = data.add(`APPLICATION_CONTEXT(${text(context)})`);
  data.add(
    `APPLICATION_PROTOCOL_DEFINITION('international standard',${text(status)},${year},${application})`,
  );
  const productContext = data.add(`PRODUCT_CONTEXT('',${application},'mechanical')`);
  const product = data.add(`PRODUCT(${text(name)},${text(name)},${text(description)},(${productContext}))`);
  data.add(`PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,(${product}))`);
  const formation = data.add(`PRODUCT_DEFINITION_FORMATION('','',${product})`);
  const definitionContext = data.add(`PRODUCT_DEFINITION_CONTEXT('part definition',${application},'design')`);
  const definition = data.add(`PRODUCT_DEFINITION('design','',${formation},${definitionContext})`);
  const definitionShape = data.add(`PRODUCT_DEFINITION_SHAPE('','',${definition})`);
  const length = data.add('(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))');
  const angle = data.add('(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))');
  const solidAngle = data.add('(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())');
  const uncertainty = data.add(
    `UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-6),${length},'distance_accuracy_value','largest gap')`,
  );
  const space = data.add(
    `(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((${uncertainty}))` +
      `GLOBAL_UNIT_ASSIGNED_CONTEXT((${length},${angle},${solidAngle}))REPRESENTATION_CONTEXT('','3D'))`,
  );
  const { solids, curves } = build(data);
  const origin = data.add("CARTESIAN_POINT('',(0.,0.,0.))");
  const placement = data.add(`AXIS2_PLACEMENT_3D('',${origin},$,$)`);
  const brep = data.add(`ADVANCED_BREP_SHAPE_REPRESENTATION('',${list([placement, ...solids])},${space})`);
  if (curves.length === 0) {
    data.add(`SHAPE_DEFINITION_REPRESENTATION(${definitionShape},${brep})`);
  } else {
    const whole = data.add(`SHAPE_REPRESENTATION('',(${placement}),${space})`);
    data.add(`SHAPE_DEFINITION_REPRESENTATION(${definitionShape},${whole})`);
    const wires = data.add(
      `GEOMETRICALLY_BOUNDED_WIREFRAME_SHAPE_REPRESENTATION('',${list([placement, ...curves])},${space})`,
    );
    data.add(`SHAPE_REPRESENTATION_RELATIONSHIP('','',${whole},${brep})`);
    data.add(`SHAPE_REPRESENTATION_RELATIONSHIP('','',${whole},${wires})`);
  }
  const header =
    `FILE_DESCRIPTION((''),'2;1');\n` +
    `FILE_NAME(${text(name)},'${NO_DATE}',(''),(''),'gatherpan','gatherpan','');\n` +
    `FILE_SCHEMA((${text(schema)}));\n`;
  return new TextEncoder().encode(
    `ISO-10303-21;\nHEADER;\n${header}ENDSEC;\nDATA;\n${data}ENDSEC;\nEND-ISO-10303-21;\n`,
  );
}
