/** Chance that is the same for the same seed, on every machine: whole-number and plain arithmetic only. */
export interface Chance {
  /** Evenly from 0 up to 1. */
  even(): number;
  /** Evenly from `least` to `most`. */
  between(least: number, most: number): number;
  /** A whole number from 0 to `below` − 1. */
  whole(below: number): number;
  /** Near enough normal with mean 0 and standard deviation 1: twelve even numbers added, less six. */
  normal(): number;
  /** True with this probability. */
  happens(probability: number): boolean;
  /** An identifier that looks as the program's own do (RFC 9562 version 4). */
  id(): string;
}

/** The generator mulberry32 (public domain): 32 bits of state. */
export function seededChance(seed: number): Chance {
  let state = seed | 0;

  function bits(): number {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return (mixed ^ (mixed >>> 14)) >>> 0;
  }

  const even = (): number => bits() / 2 ** 32;
  const hex = (): string => bits().toString(16).padStart(8, "0");

  return {
    even,
    between: (least, most) => least + (most - least) * even(),
    whole: (below) => Math.floor(even() * below),
    normal() {
      let sum = -6;
      for (let i = 0; i < 12; i++) sum += even();
      return sum;
    },
    happens: (probability) => even() < probability,
    id() {
      const [a, b, c, d] = [hex(), hex(), hex(), hex()];
      return `${a}-${b.slice(0, 4)}-4${b.slice(5)}-a${c.slice(1, 4)}-${c.slice(4)}${d}`;
    },
  };
}
