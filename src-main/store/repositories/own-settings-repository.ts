import { OwnSettings, USUAL_SETTINGS } from "#core/contract/records/own-settings.ts";
import { one, type ReadableDb, run, type WritableDb } from "../connection.ts";

/**
 * The settings of a person; null when nothing was chosen. What an older version did not know stands as usual, and so does
 * all of it where the text cannot be read: no work may stop at a matter of taste.
 */
export function ownSettingsOf(db: ReadableDb, personId: string): OwnSettings | null {
  const row = one(db, "SELECT settings_json FROM person_settings WHERE person_id = ?", personId);
  if (!row) return null;
  const kept = OwnSettings.safeParse({ ...USUAL_SETTINGS, ...JSON.parse(String(row.settings_json)) });
  return kept.success ? kept.data : USUAL_SETTINGS;
}

export function keepOwnSettings(db: WritableDb, personId: string, settings: OwnSettings, at: string): void {
  run(
    db,
    `INSERT INTO person_settings (person_id, settings_json, changed_at) VALUES (?, ?, ?)
     ON CONFLICT (person_id) DO UPDATE SET settings_json = excluded.settings_json, changed_at = excluded.changed_at`,
    personId,
    JSON.stringify(settings),
    at,
  );
}
