import type { PartDensity } from '../../src/step/freeForm/meshSizes.ts';
import type { PartGiven } from '../../src/step/freeForm/partGiven.ts';

/** What a person says of a part: nothing that changes its flat. */
export const GIVEN: PartGiven = {
  name: 'part',
  material: 'DC04',
  grain: 0,
  thickness: null,
  trim: 0,
  cut: { process: 'laser', kerf: 0, compensate: false },
};

/** A mesh for what does not depend on its fineness. */
export const COARSE: PartDensity = { strained: 0.7, bent: 1.2, growth: 0.4, error: 0.02 };
