import { seededChance } from "#main/demo/seeded-chance.ts";

export interface NormalChance {
  /** From 0 (included) to 1. */
  readonly uniform: () => number;
  /** Of mean 0 and standard deviation 1, by Box and Muller: its tails are what coverage is about. */
  readonly normal: () => number;
}

/** The same numbers on every machine. */
export function normalChance(seed: number): NormalChance {
  const { even } = seededChance(Math.imul(seed, 0x9e3779b9));
  return {
    uniform: even,
    normal: () => Math.sqrt(-2 * Math.log(1 - even())) * Math.cos(2 * Math.PI * even()),
  };
}
