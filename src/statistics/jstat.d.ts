/** The few functions of jstat that this folder uses; the package brings no types of its own. */
declare module 'jstat' {
  interface ContinuousDistribution<P extends number[]> {
    pdf(x: number, ...parameters: P): number;
    cdf(x: number, ...parameters: P): number;
    inv(p: number, ...parameters: P): number;
  }

  export const jStat: {
    normal: ContinuousDistribution<[mean: number, standardDeviation: number]>;
    studentt: ContinuousDistribution<[degreesOfFreedom: number]>;
    chisquare: ContinuousDistribution<[degreesOfFreedom: number]>;
    centralF: ContinuousDistribution<[numerator: number, denominator: number]>;
    beta: ContinuousDistribution<[alpha: number, beta: number]>;
    noncentralt: { cdf(t: number, degreesOfFreedom: number, noncentrality: number): number };
    gammaln(x: number): number;
    erf(x: number): number;
    erfc(x: number): number;
  };
}
