import type { Measurement, SpecimenRow } from "#core/contract/records/sheet.ts";
import type { JournalChange } from "../../store/repositories/journal-repository.ts";
import { putMeasurement } from "../../store/repositories/row-repository.ts";
import { archiveResult } from "../../store/repositories/superseded-repository.ts";
import type { WriteContext } from "../write-context/in-transaction.ts";
import { stateForTrail } from "./row-from-trail.ts";
import { changesOfRow } from "./row-journal.ts";

/**
 * Puts new results in the place of those of the same dimensions: the old ones are kept, the trail is told both, and the
 * journal gets what differs. Nothing when there is no new result.
 * @param told more of the act for the trail
 */
export function replaceResults(
  ctx: WriteContext,
  row: SpecimenRow,
  now: readonly Measurement[],
  {
    act,
    reason,
    moreDetail = {},
  }: { readonly act: string; readonly reason: string; readonly moreDetail?: object },
): JournalChange[] {
  if (now.length === 0) return [];
  const { db, at, by } = ctx;
  const dimensions = now.map((one) => one.dimension);
  const old = (dimension: string) => row.measurements.find((one) => one.dimension === dimension);
  for (const one of now) {
    const before = old(one.dimension);
    if (before) archiveResult(db, row.id, before, { at, by: by.id, act, reason });
    putMeasurement(db, row.id, one);
  }
  const kept = row.measurements.filter((one) => !dimensions.includes(one.dimension));
  const after = { ...row, measurements: [...kept, ...now] };
  ctx.audit({
    subject: "specimen_row",
    subjectId: row.id,
    reason,
    detail: {
      ...moreDetail,
      size: now.map(({ dimension, size }) => ({
        dimension,
        from: old(dimension)?.size?.value ?? null,
        to: size?.value ?? null,
      })),
      ...stateForTrail(after, dimensions),
    },
  });
  return changesOfRow(row, after);
}
