/** Standard normal numbers. */
export type Normal = () => number;

/** Numbers from 0 to 1, below 1: Mulberry32, the same on every machine. */
export function uniformFrom(seed: number): () => number {
  let state = (seed * 0x9e3779b9) >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** By Box and Muller from the uniform ones. */
export function normalFrom(seed: number): Normal {
  const uniform = uniformFrom(seed);
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}
