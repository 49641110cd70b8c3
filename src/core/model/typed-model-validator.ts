import type { ValidateFunction } from 'ajv';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { VALIDATOR_OPTIONS } from '../base/validator-options.js';
import { typedModelSchema } from './typed-model-schema.js';

/** Checks a model without a photo against the schema of what is accepted. In the built package: the code that ajv writes for it. */
export const validateTypedModel: ValidateFunction = new Ajv2020(VALIDATOR_OPTIONS).compile(typedModelSchema);
