import { LaboratorySettings, NEW_BENCH_LABORATORY } from "#core/contract/records/laboratory.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { firstText, insert, sql } from "../sql.ts";

const KEY = "laboratory";

export function laboratorySettings(db: ReadableDb): LaboratorySettings {
  const row = sql`SELECT value FROM bench_setting WHERE key = ${KEY}`.one(db);
  return row ? LaboratorySettings.parse(JSON.parse(String(row.value))) : NEW_BENCH_LABORATORY;
}

export function keepLaboratorySettings(db: WritableDb, settings: LaboratorySettings): void {
  keepSetting(db, KEY, JSON.stringify(settings));
}

/** Keeps the value of a setting of the bench, in the place of the one before. */
export function keepSetting(db: WritableDb, key: string, value: string): void {
  insert(db, "bench_setting", { key, value }, ["key"]);
}

/** Under which names settings are kept. */
export function settingKeys(db: ReadableDb): string[] {
  return sql`SELECT key FROM bench_setting ORDER BY key`.all(db, firstText);
}
