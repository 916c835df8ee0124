import { z } from "zod";

/** How many containers were pooled, as typed; empty where none are named. */
export const Containers = z
  .string()
  .trim()
  .regex(/^(?:[1-9]\d{0,5})?$/, "must be a whole number of at least 1, or empty");

/** Volume tested, all containers together, mL as typed; empty where none is named. */
export const VolumeTested = z
  .string()
  .trim()
  .regex(/^(?:(?=.*[1-9])\d{1,9}(?:\.\d{1,6})?)?$/, "must be a number greater than zero, or empty");

/** The part of it that was looked at, per cent as typed; empty: all of it. */
export const PortionLookedAt = z
  .string()
  .trim()
  .regex(
    /^(?:100(?:\.0+)?|(?=.*[1-9])\d{1,2}(?:\.\d{1,6})?)?$/,
    "must be a number greater than 0 and at most 100, or empty",
  );

/** What the specimens of a sheet come from; a key is absent where nothing was named. */
export const TESTED_AMOUNT = {
  containers: Containers,
  volume: VolumeTested,
  portion: PortionLookedAt,
} as const;
export type TestedAmount = { readonly [K in keyof typeof TESTED_AMOUNT]?: string | undefined };
export const AMOUNT_KEYS = Object.keys(TESTED_AMOUNT) as readonly (keyof typeof TESTED_AMOUNT)[];
