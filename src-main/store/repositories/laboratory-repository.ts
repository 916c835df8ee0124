import { LaboratorySettings, NEW_BENCH_LABORATORY } from "#core/contract/records/laboratory.ts";
import { all, one, type ReadableDb, run, type WritableDb } from "../connection.ts";

const KEY = "laboratory";

export function laboratorySettings(db: ReadableDb): LaboratorySettings {
  const row = one(db, "SELECT value FROM bench_setting WHERE key = ?", KEY);
  return row ? LaboratorySettings.parse(JSON.parse(String(row.value))) : NEW_BENCH_LABORATORY;
}

export function keepLaboratorySettings(db: WritableDb, settings: LaboratorySettings): void {
  keepSetting(db, KEY, JSON.stringify(settings));
}

/** Keeps the value of a setting of the bench, in the place of the one before. */
export function keepSetting(db: WritableDb, key: string, value: string): void {
  run(
    db,
    "INSERT INTO bench_setting (key, value) VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value",
    key,
    value,
  );
}

/** Under which names settings are kept. */
export function settingKeys(db: ReadableDb): string[] {
  return all(db, "SELECT key FROM bench_setting ORDER BY key").map((row) => String(row.key));
}
