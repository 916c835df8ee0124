import type { Attachment } from "../contract/records/attachment.ts";

/**
 * The pictures that stand beside the fields of a count, by number of the field, oldest first. Withdrawn ones are left out,
 * and those of fields that were taken back; begun again, such a field has its pictures again.
 * @param pictures newest first, as the bench gives them
 * @param fields how many fields the count has
 */
export function picturesOfFields(
  pictures: readonly Attachment[],
  fields: number,
): ReadonlyMap<number, readonly Attachment[]> {
  const shown = pictures.filter(
    ({ withdrawn, subject }) => withdrawn === null && (subject.field ?? 0) <= fields,
  );
  return Map.groupBy(shown.toReversed(), ({ subject }) => subject.field ?? 0);
}
