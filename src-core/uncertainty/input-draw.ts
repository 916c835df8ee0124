import type { Even } from "./chance-generator.ts";

/** One value of an input quantity's deviation from its estimate, drawn from the distribution assigned to it. */
export type Draw = (even: Even) => number;

/** N(0, u²) by the pair of uniforms of Box and Muller, JCGM 101:2008 C.4; the second of each pair is not kept. */
export function normalDraw(standard: number): Draw {
  return (even) => standard * Math.sqrt(-2 * Math.log(even())) * Math.cos(2 * Math.PI * even());
}

/**
 * Scaled t with ν degrees of freedom, as JCGM 101:2008 6.4.9 assigns to repeated readings and to a certificate that states
 * ν; its standard deviation is scale·√(ν/(ν − 2)). By R. W. Bailey: Polar generation of random variates with the
 * t-distribution (1994), Math. Comp. 62, 779.
 * @param degreesOfFreedom any number greater than zero
 */
export function studentDraw(scale: number, degreesOfFreedom: number): Draw {
  return (even) => {
    for (;;) {
      const u = 2 * even() - 1;
      const v = 2 * even() - 1;
      const w = u * u + v * v;
      if (w < 1) return scale * u * Math.sqrt((degreesOfFreedom * (w ** (-2 / degreesOfFreedom) - 1)) / w);
    }
  };
}

/** R(−a, a), JCGM 101:2008 6.4.2. */
export function rectangularDraw(halfWidth: number): Draw {
  return (even) => halfWidth * (2 * even() - 1);
}

/**
 * A rectangle whose half-width is itself only known to ± `inexactness`: CTrap(−a, a, d), JCGM 101:2008 6.4.3.4.
 * @param doubt from 0 to a
 */
export function inexactRectangularDraw(halfWidth: number, inexactness: number): Draw {
  return (even) => (halfWidth + inexactness * (2 * even() - 1)) * (2 * even() - 1);
}

/** U(−a, a), the arc sine distribution of a cyclic variation, JCGM 101:2008 6.4.6. */
export function arcSineDraw(halfWidth: number): Draw {
  return (even) => halfWidth * Math.sin(2 * Math.PI * even());
}
