import { z } from "zod";
import { CountHead } from "./count.ts";
import { DensityRecord } from "./count-results.ts";
import { StoredDecimal } from "./primitives.ts";

/** A count that a doubtful factor reaches, with what another factor would make of its densities. */
export const TouchedCount = z.strictObject({
  count: CountHead,
  countMethodName: z.string(),
  /** The densities that rest on the factor: frozen, or of this moment while the count is open. */
  densities: z.array(
    z.strictObject({
      /** `total` or the name of the category. */
      name: z.string(),
      before: DensityRecord,
      /** Under the replacement; null without one that reaches it. */
      after: DensityRecord.nullable(),
      /** after/before − 1: the factor's change to the power it has in the density. */
      relativeChange: StoredDecimal.nullable(),
    }),
  ),
});
export type TouchedCount = z.infer<typeof TouchedCount>;
