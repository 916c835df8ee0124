import { afterEach, beforeEach, expect, it } from "vitest";
import { openBench } from "#main/store/bench-file/open.ts";
import { driverOf } from "#main/store/connection.ts";
import { ALL_MIGRATIONS } from "#main/store/migrations/all-migrations.ts";
import type { Migration } from "#main/store/migrations/migration.ts";
import { buildScene } from "../../support/bench-scenes.ts";
import { fixedClock } from "../../support/fixed-clock.ts";
import { withRawDatabase } from "../../support/raw-database.ts";
import { type TempBench, type TempFolder, tempBench, tempFolder } from "../../support/temp-bench.ts";
import { attach, PNG } from "../../support/traceability-scenes.ts";

let bench: TempBench;
let old: TempFolder;

beforeEach(async () => {
  old = tempFolder();
  bench = await tempBench();
});
afterEach(async () => {
  await bench.end();
  old.remove();
});

/** An attachment as an older bench keeps it. */
const KEPT = {
  id: "attachment-1",
  subject_kind: "specimen row",
  subject_id: "row-1",
  file_name: "grain.png",
  media_type: "image/png",
  bytes: 67,
  sha256: "a".repeat(64),
  caption: "equatorial view",
  added_at: "2026-11-25T09:00:00.000Z",
  added_by: "person-1",
  withdrawn_at: null,
  withdrawn_by: null,
  withdrawn_reason: null,
};

it("keeps every attachment and field of an older bench, of no field and at no square", async () => {
  const open = (migrations: readonly Migration[]) =>
    openBench({ paths: old.paths, clock: fixedClock(), host: "test", migrations });
  const before = await open(ALL_MIGRATIONS.filter(({ version }) => version < 460));
  const driver = driverOf(before.db);
  driver.pragma("foreign_keys = OFF");
  driver
    .prepare(
      `INSERT INTO attachment (${Object.keys(KEPT).join(", ")}) VALUES (:${Object.keys(KEPT).join(", :")})`,
    )
    .run(KEPT);
  driver
    .prepare("INSERT INTO person (id, name, name_key, initials, registered_at) VALUES (?, ?, ?, ?, ?)")
    .run("person-1", "Ina Vented", "ina vented", "IV", KEPT.added_at);
  before.close();
  const after = await open(ALL_MIGRATIONS);
  expect(driverOf(after.db).prepare("SELECT * FROM attachment").all()).toEqual([
    { ...KEPT, subject_field: null },
  ]);
  const change = driverOf(after.db).prepare("UPDATE attachment SET subject_field = 2");
  expect(() => change.run()).toThrow("an attachment is not edited: withdraw it");
  after.close();
});

it("takes a field for a field alone, and for it no document", async () => {
  const scene = await buildScene(bench);
  await attach(bench, { kind: "certificate", id: scene.certificate.id }, PNG);
  withRawDatabase(bench.paths.databaseFile, (database) => {
    const copied = (kind: string, field: number | null, type: string) =>
      database
        .prepare(
          `INSERT INTO attachment SELECT ? || id, ?, subject_id, ?, file_name, ?, bytes, sha256, caption, added_at,
            added_by, NULL, NULL, NULL FROM attachment LIMIT 1`,
        )
        .run(`${kind} `, kind, field, type);
    for (const wrong of [
      () => copied("certificate", 1, "image/png"),
      () => copied("count field", null, "image/png"),
      () => copied("count field", 0, "image/png"),
      () => copied("count field", 1, "application/pdf"),
    ]) {
      expect(wrong).toThrow(/CHECK constraint failed/);
    }
    expect(copied("count field", 1, "image/png").changes).toBe(1);
  });
});
