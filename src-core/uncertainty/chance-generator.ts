/** Numbers evenly spread over (0, 1), neither end included. */
export type Even = () => number;

/** Whole numbers from 0 to 2³² − 1. */
export type Bits = () => number;

/**
 * xoshiro128**, period 2¹²⁸ − 1. D. Blackman, S. Vigna: Scrambled linear pseudorandom number generators (2021),
 * ACM Trans. Math. Softw. 47(4), 36; the authors' code is in the public domain.
 * @param state four 32-bit words, not all zero
 */
export function xoshiro128(state: readonly [number, number, number, number]): Bits {
  let [a, b, c, d] = state;
  return () => {
    const product = Math.imul(b, 5);
    const result = Math.imul((product << 7) | (product >>> 25), 9) >>> 0;
    const shifted = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= shifted;
    d = (d << 11) | (d >>> 21);
    return result;
  };
}

/**
 * The same numbers for the same seed, on every machine. The seed is spread over the state of `xoshiro128` by
 * multiplications and shifts (the finalizer of MurmurHash3, A. Appleby, public domain). Steps of 2⁻³².
 */
export function evenChance(seed: number): Even {
  let word = seed | 0;
  const spread = (): number => {
    word = (word + 0x9e3779b9) | 0;
    const half = Math.imul(word ^ (word >>> 16), 0x85ebca6b);
    const mixed = Math.imul(half ^ (half >>> 13), 0xc2b2ae35);
    return mixed ^ (mixed >>> 16);
  };
  const bits = xoshiro128([spread(), spread(), spread(), spread()]);
  return () => (bits() + 0.5) / 2 ** 32;
}
