import { assertNever } from '../quantity/assert-never.ts';
import type { Bounds, InputField, InputShape } from './input-shape.ts';

/** A JSON Schema document, draft 2020-12, of the few constructs that inputs are made of. */
export interface JsonSchema {
  readonly [keyword: string]: unknown;
}

/** The JSON Schema of an input, with labels as titles and units under `x-unit`. */
export const jsonSchemaOf = (title: string, shape: InputShape): JsonSchema => ({
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  title,
  ...schemaOf(shape),
  $defs: { sharedPart },
});

const sharedPart: JsonSchema = {
  type: 'object',
  description: 'The part common to every input with the same id, fully correlated; u is a standard uncertainty.',
  properties: { id: { type: 'string', minLength: 1 }, u: { type: 'number', minimum: 0 } },
  required: ['id', 'u'],
  additionalProperties: false,
};

const bounded = ({ above, below, atLeast, atMost }: Bounds): JsonSchema => ({
  ...(above === undefined ? {} : { exclusiveMinimum: above }),
  ...(below === undefined ? {} : { exclusiveMaximum: below }),
  ...(atLeast === undefined ? {} : { minimum: atLeast }),
  ...(atMost === undefined ? {} : { maximum: atMost }),
});

const unitOf = (unit: string | null): JsonSchema => (unit === null ? {} : { 'x-unit': unit });

function schemaOf(shape: InputShape): JsonSchema {
  switch (shape.kind) {
    case 'number':
      return { type: shape.whole ? 'integer' : 'number', ...bounded(shape.bounds), ...unitOf(shape.unit) };
    case 'measured': {
      const value = { type: 'number', ...bounded(shape.bounds) };
      return { ...unitOf(shape.unit), anyOf: [{ ...value, description: 'Exact.' }, estimateSchema(value)] };
    }
    case 'choice':
      return { enum: shape.choices };
    case 'flag':
      return { type: 'boolean' };
    case 'text':
      return { type: 'string', minLength: 1, maxLength: 200 };
    case 'list':
      return { type: 'array', items: schemaOf(shape.of), minItems: shape.atLeast, maxItems: shape.atMost };
    case 'group':
      return groupSchema(shape.fields);
    case 'either':
      return { anyOf: shape.of.map(schemaOf) };
    default:
      return assertNever(shape);
  }
}

const estimateSchema = (value: JsonSchema): JsonSchema => ({
  type: 'object',
  properties: {
    value,
    u: { type: ['number', 'null'], minimum: 0, description: 'Standard uncertainty; null when nobody knows it.' },
    shape: { enum: ['normal', 'rectangular', 'triangular'], default: 'normal' },
    dof: {
      type: ['number', 'null'],
      minimum: 1,
      default: null,
      description: 'Degrees of freedom of u; null or left out means infinite.',
    },
    shared: { $ref: '#/$defs/sharedPart' },
  },
  required: ['value', 'u'],
  additionalProperties: false,
});

const groupSchema = (fields: readonly InputField[]): JsonSchema => ({
  type: 'object',
  properties: Object.fromEntries(
    fields.map(({ key, label, help, preset, shape }) => [
      key,
      {
        title: label,
        ...(help === null ? {} : { description: help }),
        ...(preset === null ? {} : { default: preset }),
        ...schemaOf(shape),
      },
    ]),
  ),
  required: fields.filter(({ required }) => required).map(({ key }) => key),
  additionalProperties: false,
});
