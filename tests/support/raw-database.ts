import Database from "better-sqlite3";

/** Runs `use` on a connection of its own, behind the program's back. */
export function withRawDatabase<T>(file: string, use: (database: Database.Database) => T): T {
  const database = new Database(file, { fileMustExist: true });
  try {
    return use(database);
  } finally {
    database.close();
  }
}

/** Every row of every table as text, for comparing before and after. */
export function dumpOf(file: string): string {
  return withRawDatabase(file, (database) => {
    const tables = database
      .prepare(
        "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name",
      )
      .pluck()
      .all() as string[];
    return tables
      .map((table) => {
        const rows = database.prepare(`SELECT * FROM "${table}"`).all();
        return [`${table}:`, ...rows.map((row) => JSON.stringify(row))].join("\n");
      })
      .join("\n");
  });
}

/** Changes what the triggers forbid, as somebody with a database tool would, and puts the triggers back. */
export function tamper(file: string, sql: string): void {
  withRawDatabase(file, (database) => {
    const triggers = database.prepare("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'").all() as {
      name: string;
      sql: string;
    }[];
    for (const { name } of triggers) database.exec(`DROP TRIGGER ${name}`);
    database.exec(sql);
    for (const trigger of triggers) database.exec(trigger.sql);
  });
}
