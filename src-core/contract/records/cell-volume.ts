import { z } from "zod";
import { CARBON_CLASSES } from "../../vocabulary/counting.ts";
import { Id, Name, OptionalLine, StoredDecimal, TypedNumber } from "./primitives.ts";
import { numberAsTyped } from "./typed-number.ts";

/** A relative standard uncertainty with its sign; what has the same key is the same doubt. */
const RelativeDoubt = z.strictObject({ key: z.string(), name: z.string(), relative: StoredDecimal });

/** The doubt of a factor among those of a volume, by its calibration. */
export const factorKey = (calibrationId: string): string => `factor ${calibrationId}`;

/** The mean volume of cells measured on a sheet, as taken from it on one day. */
export const VolumeOfSheet = z.strictObject({
  from: z.literal("sheet"),
  sheetId: Id,
  /** The rows taken: those under this label; null: all that are not struck. */
  label: Name.nullable(),
  /** Key and name of the quantity of the sheet's method. */
  quantity: z.string(),
  name: z.string(),
  cells: z.int().min(1),
  /** Mean of the volumes of the cells, µm³. */
  volume: StoredDecimal,
  /** `cells`: the scatter between the cells; `factor ID` of a calibration: cubed, once for all cells. */
  components: z.array(RelativeDoubt),
  /** SHA-256 of the sheet's data when it was taken. */
  dataSha256: z.string().regex(/^[0-9a-f]{64}$/),
});
export type VolumeOfSheet = z.infer<typeof VolumeOfSheet>;

export const TypedVolume = z.strictObject({
  from: z.literal("typed"),
  /** µm³. */
  volume: TypedNumber,
  /** U (k = 2), µm³; empty when not known. */
  expanded: TypedNumber,
  /** Where it comes from: a list, a table, a year. */
  source: Name,
});

/** As a person gives it. */
export const NewTypedVolume = TypedVolume.extend({
  volume: numberAsTyped({ sign: "positive" }),
  expanded: numberAsTyped({ optional: true, sign: "not negative" }),
});

/** The volume of one counted unit of a category, and the relation its carbon follows. */
export const CellVolume = z.strictObject({
  category: z.string().max(20),
  carbon: z.enum(CARBON_CLASSES),
  of: z.discriminatedUnion("from", [VolumeOfSheet, TypedVolume]),
});
export type CellVolume = z.infer<typeof CellVolume>;

/** What a person says of a cell volume: typed, or which rows of which sheet. */
export const GivenCellVolume = z.strictObject({
  carbon: z.enum(CARBON_CLASSES),
  of: z.discriminatedUnion("from", [
    z.strictObject({
      from: z.literal("sheet"),
      sheetId: Id,
      /** Empty: every row that is not struck. */
      label: OptionalLine,
      quantity: z.string().max(20),
    }),
    NewTypedVolume,
  ]),
});
export type GivenCellVolume = z.infer<typeof GivenCellVolume>;
