import { OwnSettings, USUAL_SETTINGS } from "#core/contract/records/own-settings.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { insert, sql } from "../sql.ts";

/**
 * The settings of a person; null when nothing was chosen. What an older version did not know stands as usual, and so does
 * all of it where the text cannot be read: no work may stop at a matter of taste.
 */
export function ownSettingsOf(db: ReadableDb, personId: string): OwnSettings | null {
  const row = sql`SELECT settings_json FROM person_settings WHERE person_id = ${personId}`.one(db);
  if (!row) return null;
  const kept = OwnSettings.safeParse({ ...USUAL_SETTINGS, ...JSON.parse(String(row.settings_json)) });
  return kept.success ? kept.data : USUAL_SETTINGS;
}

export function keepOwnSettings(db: WritableDb, personId: string, settings: OwnSettings, at: string): void {
  const kept = { person_id: personId, settings_json: JSON.stringify(settings), changed_at: at };
  insert(db, "person_settings", kept, ["person_id"]);
}
