import { budgetFileFormat } from './budget-file.js';
import type { JsonSchema } from './json-schema.js';

const text = (description: string): JsonSchema => ({ type: 'string', minLength: 1, description });
const number = (description: string): JsonSchema => ({ type: 'number', description });
const positive = (description: string): JsonSchema => ({ type: 'number', exclusiveMinimum: 0, description });
const list = (items: JsonSchema, description: string, minItems = 0): JsonSchema => ({
  type: 'array',
  items,
  minItems,
  description,
});

function record(
  description: string,
  required: Readonly<Record<string, JsonSchema>>,
  optional: Readonly<Record<string, JsonSchema>> = {},
): JsonSchema {
  return {
    type: 'object',
    description,
    properties: { ...required, ...optional },
    required: Object.keys(required),
    additionalProperties: false,
  };
}

const kind = (...kinds: readonly string[]): JsonSchema =>
  kinds.length === 1
    ? { type: 'string', const: kinds[0]!, description: 'kind' }
    : { type: 'string', enum: kinds, description: 'kind' };

const halfWidth = positive('half the distance of the limits');
const topHalfWidth: JsonSchema = { type: 'number', minimum: 0, description: 'half-width of the flat top' };
const halfWidthUncertainty = positive('half-width within which each limit lies');
const sourceKind: JsonSchema = {
  type: 'string',
  enum: ['certificate', 'specification', 'records', 'judgement', 'definition'],
  description: 'where knowledge of the quantity comes from',
};
const degreesOfFreedom = positive('degrees of freedom; left out where infinite');
const jointSource = text('name of the joint evaluation that several inputs share');

const distribution: JsonSchema = {
  description: 'probability distribution, its parameters in the unit of the quantity',
  oneOf: [
    record('no parameters', { kind: kind('normal', 't', 'exponential', 'lognormal') }),
    record('limits', { kind: kind('rectangular', 'triangular', 'arcsine'), halfWidth }),
    record('limits with a flat top', { kind: kind('trapezoidal'), halfWidth, topHalfWidth }),
    record('limits not exactly known', {
      kind: kind('curvilinear trapezoid'),
      halfWidth,
      halfWidthUncertainty,
    }),
    record('counted objects', {
      kind: kind('gamma from counts'),
      counts: { type: 'integer', minimum: 0, description: 'objects counted' },
    }),
    record('sample of values', {
      kind: kind('sample'),
      values: list(number('a value'), 'values of the distribution, two at least', 2),
    }),
  ],
};

const shape: JsonSchema = {
  description: 'shape of the distribution between the limits',
  oneOf: [
    record('no parameters', { kind: kind('rectangular', 'triangular', 'arcsine') }),
    record('flat top', { kind: kind('trapezoidal'), topHalfWidth }),
    record('limits not exactly known', { kind: kind('curvilinear trapezoid'), halfWidthUncertainty }),
  ],
};

/** One way to state an input: what all inputs say of themselves, then what this one needs and may have. */
function input(
  from: string,
  description: string,
  required: Readonly<Record<string, JsonSchema>>,
  optional: Readonly<Record<string, JsonSchema>> = {},
): JsonSchema {
  return record(
    description,
    {
      from: { type: 'string', const: from, description: 'what the quantity is known from' },
      name: text('identifier in the equations: a letter, then letters, digits, underscores'),
      description: text('the quantity in words'),
      unit: text('unit, such as mg/kg, g/mL, °C, 1'),
      source: text('the certificate, records or reasoning behind it'),
      step: text('step of the procedure that the budget groups it under'),
      ...required,
    },
    {
      equipment: text('identifier in the equipment register'),
      withinPrecision: {
        type: 'boolean',
        description: 'whether the observed intermediate precision already holds its variation',
      },
      ...optional,
    },
  );
}

const observations = record('a standard deviation from more records', {
  standardDeviation: positive('pooled standard deviation'),
  degreesOfFreedom: { type: 'integer', minimum: 1, description: 'its degrees of freedom' },
});

const inputs: JsonSchema = {
  description: 'an input quantity',
  oneOf: [
    input(
      'certificate',
      'certified value; the coverage factor or the coverage probability goes with U',
      { value: number('certified value'), expandedUncertainty: positive('U, in the unit of the value') },
      {
        coverageFactor: positive('k'),
        coverageProbability: positive('level of confidence, such as 0.95'),
        degreesOfFreedom,
      },
    ),
    input(
      'limits',
      'two limits',
      { lower: number('lower limit'), upper: number('upper limit'), shape },
      { sourceKind, degreesOfFreedom },
    ),
    input(
      'observations',
      'repeated observations; those of one joint source belong together by position',
      { values: list(number('an observation'), 'observations', 1) },
      { pooled: observations, jointSource },
    ),
    input(
      'judgement',
      'standard uncertainty by judgement',
      { value: number('estimate'), standardUncertainty: positive('standard uncertainty') },
      { reliability: positive('how far it may be wrong, as a fraction: 0.25 for 25 %'), sourceKind },
    ),
    input(
      'counts',
      'objects counted',
      { counts: { type: 'integer', minimum: 0, description: 'objects counted' } },
      { perCount: positive('quantity per object') },
    ),
    input('definition', 'exact value', { value: number('value without uncertainty') }),
    input(
      'statement',
      'standard uncertainty evaluated elsewhere',
      {
        estimate: number('estimate'),
        standardUncertainty: { type: 'number', minimum: 0, description: 'standard uncertainty' },
        sourceKind,
      },
      {
        degreesOfFreedom,
        distribution,
        evaluation: { type: 'string', enum: ['A', 'B'], description: 'type of evaluation' },
        jointSource,
      },
    ),
  ],
};

/** JSON Schema of a budget file: what `decodeBudgetFile` holds a file to before it looks at its meaning. */
export const budgetFileSchema: JsonSchema = {
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  title: 'Budget file: a measurement model with its input quantities',
  ...record(
    'budget file',
    {
      format: { type: 'string', const: budgetFileFormat, description: `the text "${budgetFileFormat}"` },
      title: text('what is measured'),
      equations: list(
        record('one equation', {
          name: text('identifier of the quantity it gives'),
          description: text('the quantity in words'),
          unit: text('unit of the quantity'),
          expression: text('formula over inputs and names of earlier equations'),
        }),
        'equations in order of use',
        1,
      ),
      outputs: list(text('name of an equation'), 'output quantities', 1),
      inputs: list(inputs, 'input quantities', 1),
    },
    {
      correlations: list(
        record('one correlation coefficient', {
          first: text('name of an input'),
          second: text('name of another input'),
          coefficient: number('from -1 to 1'),
        }),
        'correlated pairs',
      ),
      coverageProbability: {
        type: 'number',
        exclusiveMinimum: 0,
        exclusiveMaximum: 1,
        description: 'coverage probability, 0.95 unless stated',
      },
      targets: list(
        record('one target', {
          output: text('name of an output'),
          expandedUncertainty: positive('largest expanded uncertainty that serves the purpose'),
        }),
        'target uncertainties',
      ),
      actions: list(
        record('one action', {
          name: text('what would be done, such as twice as many digestions'),
          changes: list(
            record(
              'what it changes of one input',
              {
                input: text('name of the input'),
                factor: {
                  type: 'number',
                  minimum: 0,
                  description: 'factor on its standard uncertainty: 0.7071 for twice as many repeats',
                },
              },
              { degreesOfFreedom: positive('degrees of freedom after the action, where they change') },
            ),
            'inputs it changes',
            1,
          ),
        }),
        'what the laboratory could do to meet a target',
      ),
      remark: text('where the figures come from, or that they are invented; shown with the result'),
    },
  ),
};
