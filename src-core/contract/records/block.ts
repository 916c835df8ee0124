import { z } from "zod";
import { BLOCK_COLUMN_KINDS } from "../../vocabulary/block-column.ts";
import { Id } from "./primitives.ts";
import { ReadingCell } from "./sheet.ts";

/** Most characters of one part of a staged block: within the body limit of the loopback host in any script. */
export const MOST_CHARACTERS_OF_A_PART = 200_000;
/** Most lines of one block. */
export const MOST_BLOCK_LINES = 50_000;

/** What one column of pasted cells becomes. */
export const BlockColumn = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.enum(BLOCK_COLUMN_KINDS) }),
  z.strictObject({ kind: z.literal("reading"), cell: ReadingCell }),
]);
export type BlockColumn = z.infer<typeof BlockColumn>;

/** How a staged block is taken in; the same choices are sent to the preview and to the act. */
export const BlockChoices = z.strictObject({
  sheetId: Id,
  blockId: Id,
  columns: z.array(BlockColumn).min(1).max(60),
  /** The first line holds headers. */
  skipFirstLine: z.boolean(),
  /** Ordinal of the row the first line goes into; null: new rows at the end. */
  startAt: z.int().min(1).nullable(),
  /** Lines (column null) or single cells left out. Lines and columns count from 1, as pasted. */
  excluded: z.array(z.strictObject({ line: z.int().min(1), column: z.int().min(1).nullable() })).max(5000),
  /** Cells typed anew. */
  corrections: z
    .array(z.strictObject({ line: z.int().min(1), column: z.int().min(1), text: z.string().max(400) }))
    .max(5000),
});
export type BlockChoices = z.infer<typeof BlockChoices>;

export const FailedCell = z.strictObject({
  line: z.int(),
  column: z.int(),
  text: z.string(),
  reason: z.string(),
});
export type FailedCell = z.infer<typeof FailedCell>;

export const BlockPreview = z.strictObject({
  /** Non-empty lines, headers not counted. */
  lines: z.int(),
  /** Rows that would be made and rows that would be filled. */
  newRows: z.int(),
  filledRows: z.int(),
  readings: z.int(),
  /** Per column, in words: what it becomes; with the first texts of the column. */
  columns: z.array(
    z.strictObject({
      becomes: z.string(),
      filled: z.int(),
      failed: z.int(),
      examples: z.array(z.string()),
    }),
  ),
  /** The first 500 cells that cannot be taken in; `failedCount` says how many there are. */
  failed: z.array(FailedCell),
  failedCount: z.int(),
  excludedCells: z.int(),
});
export type BlockPreview = z.infer<typeof BlockPreview>;
