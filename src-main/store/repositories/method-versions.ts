import type { ReadableDb, Row } from "../connection.ts";
import { named, sql } from "../sql.ts";

/** What every kind of method is: one version of a definition, which never changes. */
export interface MethodVersion {
  readonly id: string;
  /** Shared by the versions of one method. */
  readonly familyId: string;
  readonly version: number;
  readonly definition: { readonly name: string };
  readonly definedAt: string;
  readonly definedBy: string;
}

/** Columns of a table of versions, named as the record's fields. */
export const VERSION_COLUMNS = sql`id, family_id AS "familyId", version, definition_json AS definition,
  defined_at AS "definedAt", defined_by AS "definedBy"`;

/** A row of `VERSION_COLUMNS` with its definition read. */
export function versionOf(row: Row): Row {
  return { ...row, definition: JSON.parse(String(row.definition)) };
}

export interface VersionReader<T extends MethodVersion> {
  /** The newest version of every method, in the order in which they were first defined. */
  listNewest(db: ReadableDb): T[];
  find(db: ReadableDb, id: string): T | null;
  newestOfFamily(db: ReadableDb, familyId: string): T | null;
}

/** Reads the versions kept in one table. @param parse checks a row against its record's schema */
export function versionsIn<T extends MethodVersion>(
  table: "method" | "count_method" | "category_list",
  parse: (row: Row) => T,
): VersionReader<T> {
  const read = (row: Row): T => parse(versionOf(row));
  const versions = named(table);
  return {
    listNewest: (db) =>
      sql`SELECT ${VERSION_COLUMNS} FROM ${versions} m
        WHERE version = (SELECT max(version) FROM ${versions} n WHERE n.family_id = m.family_id)
        ORDER BY (SELECT min(rowid) FROM ${versions} n WHERE n.family_id = m.family_id)`.all(db, read),

    find: (db, id) =>
      sql`SELECT ${VERSION_COLUMNS}
        FROM ${versions} WHERE id = ${id}`.one(db, read),

    newestOfFamily: (db, familyId) =>
      sql`SELECT ${VERSION_COLUMNS} FROM ${versions} WHERE family_id = ${familyId}
        ORDER BY version DESC LIMIT 1`.one(db, read),
  };
}
