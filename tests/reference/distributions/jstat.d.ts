/** The part of jstat that the tests use; the package has no types of its own. */
declare module "jstat" {
  interface Continuous {
    inv(p: number, ...parameters: number[]): number;
    cdf(x: number, ...parameters: number[]): number;
  }
  export const studentt: Continuous;
  export const normal: Continuous;
  export const chisquare: Continuous;
  export const centralF: Continuous;
  export const beta: Continuous;
  export const binomial: { pdf(k: number, n: number, p: number): number };
}
