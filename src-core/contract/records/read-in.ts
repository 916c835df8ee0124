import { z } from "zod";
import { Sha256 } from "./attachment.ts";
import { Id, Instant } from "./primitives.ts";

/** How much a file of sheets holds, each record counted once. */
export const DocumentCounts = z.strictObject({
  people: z.int(),
  microscopes: z.int(),
  stageMicrometers: z.int(),
  certificates: z.int(),
  methods: z.int(),
  calibrations: z.int(),
  rows: z.int(),
  amendments: z.int(),
  supersededResults: z.int(),
  signOffs: z.int(),
  /** Not counted by earlier versions. */
  assessments: z.int().default(0),
  checks: z.int().default(0),
  /** Named in the file and not in it: they are not read in. */
  pictures: z.int().default(0),
});
export type DocumentCounts = z.infer<typeof DocumentCounts>;

export const DocumentSheetLine = z.strictObject({
  id: Id,
  number: z.string(),
  sample: z.string(),
  rows: z.int(),
});

/** A file of sheets that was found whole: what it holds, and whether this bench can take it. */
export const DocumentLook = z.strictObject({
  fileName: z.string(),
  /** Of the file, byte by byte. */
  sha256: Sha256,
  /** Of its data, as a workbook of the same sheets prints it. */
  dataSha256: Sha256,
  exportedAt: Instant,
  program: z.string(),
  sheets: z.array(DocumentSheetLine),
  counts: DocumentCounts,
  people: z.array(z.strictObject({ id: Id, name: z.string(), initials: z.string() })),
  /** What stands in the way on this bench, in words such as “2 microscopes”; empty: it can be read in. */
  benchHolds: z.array(z.string()),
});
export type DocumentLook = z.infer<typeof DocumentLook>;

/** A file of sheets that was read into an empty bench. */
export const ReadIn = DocumentLook.omit({ people: true, benchHolds: true }).extend({
  id: Id,
  readAt: Instant,
  readBy: Id,
});
export type ReadIn = z.infer<typeof ReadIn>;
