import { LaboratorySettings, NEW_BENCH_LABORATORY } from "#core/contract/records/laboratory.ts";
import { all, one, type ReadableDb, run, type WritableDb } from "../connection.ts";

const KEY = "laboratory";

export function laboratorySettings(db: ReadableDb): LaboratorySettings {
  const row = one(db, "SELECT value FROM bench_setting WHERE key = ?", KEY);
  return row ? LaboratorySettings.parse(JSON.parse(String(row.value))) : NEW_BENCH_LABORATORY;
}

export function keepLaboratorySettings(db: WritableDb, settings: LaboratorySettings): void {
  run(
    db,
    "INSERT INTO bench_setting (key, value) VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value",
    KEY,
    JSON.stringify(settings),
  );
}

/** Under which names settings are kept. */
export function settingKeys(db: ReadableDb): string[] {
  return all(db, "SELECT key FROM bench_setting ORDER BY key").map((row) => String(row.key));
}
