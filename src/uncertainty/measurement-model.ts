/**
 * One equation: `name` = `expression`, over inputs and names of earlier equations.
 * The expression is data: numbers, names, + - * / ^, parentheses, unary signs and the functions listed in the parser.
 */
export interface ModelEquation {
  readonly name: string;
  readonly description: string;
  readonly unit: string;
  readonly expression: string;
}

/** A measurement model in stages (GUM 4.1; GUM-6:2020): equations in order of use, and which of them are output quantities. */
export interface MeasurementModel {
  readonly title: string;
  readonly equations: readonly ModelEquation[];
  readonly outputs: readonly string[];
}
