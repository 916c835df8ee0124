import type { ReadableDb, Row } from "../connection.ts";
import { nameKey } from "../name-key.ts";
import { type Query, sql } from "../sql.ts";

interface Keyed {
  readonly named: Query;
  readonly what: string;
  keys(row: Row): readonly string[];
}

/** Where a name is found by a key made from it, and which keys it makes; of namesakes the id is part of it. */
const KEYED: readonly Keyed[] = [
  {
    named: sql`SELECT id, name AS shown, name_key AS key FROM person`,
    what: "person",
    keys: ({ id, shown }) => [nameKey(String(shown)), nameKey(String(shown), String(id))],
  },
  {
    named: sql`SELECT id, name AS shown, name_key AS key FROM microscope`,
    what: "microscope",
    keys: ({ shown }) => [nameKey(String(shown))],
  },
  {
    named: sql`SELECT id, definition_json ->> '$.name' AS shown, name_key AS key FROM method`,
    what: "method",
    keys: ({ shown }) => [nameKey(String(shown))],
  },
  {
    named: sql`SELECT id, name AS shown, maker, serial, identity_key AS key FROM stage_micrometer`,
    what: "stage micrometer",
    keys: ({ maker, serial }) => [nameKey(String(maker), String(serial))],
  },
  {
    named: sql`SELECT id, number AS shown, laboratory, identity_key AS key FROM certificate`,
    what: "certificate",
    keys: ({ laboratory, shown }) => [nameKey(String(laboratory), String(shown))],
  },
];

/** Records that are not found by the name they bear, in words. */
export function wrongNameKeys(db: ReadableDb): string[] {
  return KEYED.flatMap(({ named, what, keys }) =>
    named
      .all(db)
      .filter((row) => !keys(row).includes(String(row.key)))
      .map((row) => `${what} ${row.shown}, key`),
  );
}
