import type { CellVolume } from "#core/contract/records/cell-volume.ts";
import { trailOf } from "../../store/repositories/audit-trail.ts";
import { sheetDataSha256 } from "../../store/repositories/sheet-digest.ts";
import { volumeNow } from "../counts/cell-volumes.ts";
import type { CountUnderCheck } from "./count-under-check.ts";

interface VolumeDetail {
  readonly category?: string;
  readonly cellVolume?: { readonly to: CellVolume | null };
}

/**
 * Cell volumes as the trail last told them; one from a sheet that is as it was then is recomputed from its readings.
 */
export function checkCellVolumes({ db, count, where, differences }: CountUnderCheck): void {
  const told = new Map<string, CellVolume | null>();
  for (const line of trailOf(db, count.id)) {
    const { category, cellVolume }: VolumeDetail = JSON.parse(line.detail);
    if (category !== undefined && cellVolume) told.set(category, cellVolume.to);
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
