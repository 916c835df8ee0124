import type { Attachment } from "#core/contract/records/attachment.ts";
import type { SheetBundle } from "./sheet-bundle-type.ts";

/** The pictures that stand beside the rows of a sheet, by row, oldest first; withdrawn ones are left out. */
export function picturesByRow({ pictures = [] }: SheetBundle): ReadonlyMap<string, readonly Attachment[]> {
  const shown = pictures.filter((one) => one.withdrawn === null).toReversed();
  return Map.groupBy(shown, (one) => one.subject.id);
}
