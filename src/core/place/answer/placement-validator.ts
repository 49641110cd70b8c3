import type { ValidateFunction } from 'ajv';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { VALIDATOR_OPTIONS } from '../../base/validator-options.js';
import { placementSchema } from './placement-schema.js';

/**
 * Checks a value against the schema of placements. In the built package this module is the code that ajv writes for the schema: making it
 * anew costs every run a quarter of a second.
 */
export const validatePlacement: ValidateFunction = new Ajv2020(VALIDATOR_OPTIONS).compile(placementSchema);
