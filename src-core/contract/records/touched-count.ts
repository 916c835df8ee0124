import { z } from "zod";
import { CountHead } from "./count.ts";
import { DensityRecord } from "./count-results.ts";
import { StoredDecimal } from "./primitives.ts";

/** A count that a doubtful factor reaches, with what another factor would make of its densities and cell volumes. */
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
  /** Volumes of counted cells that were measured with the factor, whose biovolume and carbon rest on it. */
  cellVolumes: z.array(
    z.strictObject({
      category: z.string(),
      name: z.string(),
      /** Mean of the cells, µm³. */
      before: StoredDecimal,
      /** Null without a replacement that reaches it, or where cells were measured with another factor as well. */
      after: StoredDecimal.nullable(),
      /** after/before − 1: the factor's change cubed. */
      relativeChange: StoredDecimal.nullable(),
    }),
  ),
});
export type TouchedCount = z.infer<typeof TouchedCount>;
