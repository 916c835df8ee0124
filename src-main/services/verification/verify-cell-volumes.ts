import type { CellVolume } from "#core/contract/records/cell-volume.ts";
import { eventsOf } from "../../store/repositories/audit-trail.ts";
import { sheetDataSha256 } from "../../store/repositories/sheet-digest.ts";
import { volumeNow } from "../counts/cell-volumes.ts";
import type { CountUnderCheck } from "./count-under-check.ts";

/**
 * Cell volumes as the trail last told them; one from a sheet that is as it was then is recomputed from its readings.
 */
export function checkCellVolumes({ db, count, where, differences }: CountUnderCheck): void {
  const told = new Map<string, CellVolume | null>();
  for (const { act, detail } of eventsOf(db, count.id)) {
    if (act === "counts.giveCellVolume") told.set(detail.category, detail.cellVolume.to);
  }
  const stored = new Map((count.cellVolumes ?? []).map((one) => [one.category, one]));
  for (const category of new Set([...told.keys(), ...stored.keys()])) {
    const place = `${where}, cell volume of ${category}`;
    const found = stored.get(category) ?? null;
    differences.compare(`${place}, as told by the trail`, found, told.get(category) ?? null);
    if (found?.of.from !== "sheet") continue;
    const { of } = found;
    if (sheetDataSha256(db, of.sheetId) === of.dataSha256) {
      differences.compare(`${place}, from its sheet`, of, volumeNow(db, of));
    }
  }
}
