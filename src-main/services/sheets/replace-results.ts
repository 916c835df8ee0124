import type { Measurement, SpecimenRow } from "#core/contract/records/sheet.ts";
import type { JournalChange } from "../../store/repositories/journal-repository.ts";
import { putMeasurement } from "../../store/repositories/row-repository.ts";
import { archiveResult } from "../../store/repositories/superseded-repository.ts";
import type { WriteContext } from "../write-context/in-transaction.ts";
import { stateForTrail } from "./row-from-trail.ts";
import { changesOfRow } from "./row-journal.ts";

/** Why results are replaced; `train`: the one the rows were read with, and the one they were read with in truth. */
type Replacing = { readonly reason: string } & (
  | { readonly act: "rows.convert" }
  | {
      readonly act: "rows.changeObjective";
      readonly train: { readonly from: string[]; readonly to: string };
    }
);

/**
 * Puts new results in the place of those of the same dimensions: the old ones are kept, the trail is told both, and the
 * journal gets what differs. Nothing when there is no new result.
 */
export function replaceResults(
  ctx: WriteContext,
  row: SpecimenRow,
  now: readonly Measurement[],
  replacing: Replacing,
): JournalChange[] {
  if (now.length === 0) return [];
  const { db, at, by } = ctx;
  const { act, reason } = replacing;
  const dimensions = now.map((one) => one.dimension);
  const old = (dimension: string) => row.measurements.find((one) => one.dimension === dimension);
  for (const one of now) {
    const before = old(one.dimension);
    if (before) archiveResult(db, row.id, before, { at, by: by.id, act, reason });
    putMeasurement(db, row.id, one);
  }
  const kept = row.measurements.filter((one) => !dimensions.includes(one.dimension));
  const after = { ...row, measurements: [...kept, ...now] };
  const size = now.map((one) => ({
    dimension: one.dimension,
    from: old(one.dimension)?.size?.value ?? null,
    to: one.size?.value ?? null,
  }));
  const detail = { size, ...stateForTrail(after, dimensions) };
  const about = { subject: "specimen_row", subjectId: row.id, reason } as const;
  if (replacing.act === "rows.convert") ctx.audit({ act: "rows.convert", ...about, detail });
  else ctx.audit({ act: "rows.changeObjective", ...about, detail: { train: replacing.train, ...detail } });
  return changesOfRow(row, after);
}
