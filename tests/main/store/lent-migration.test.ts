import { afterEach, beforeEach, expect, it } from "vitest";
import { openBench } from "#main/store/bench-file/open.ts";
import { ALL_MIGRATIONS } from "#main/store/migrations/all-migrations.ts";
import { fixedClock } from "../../support/fixed-clock.ts";
import { withRawDatabase } from "../../support/raw-database.ts";
import { type TempFolder, tempBench, tempFolder } from "../../support/temp-bench.ts";

const BEFORE = 400;
const AT = "2026-03-02T09:00:00.000Z";

let folder: TempFolder;

/** A bench of the step before, with a person and two things that happened. */
beforeEach(async () => {
  folder = tempFolder();
  const migrations = ALL_MIGRATIONS.filter(({ version }) => version <= BEFORE);
  const opened = await openBench({ paths: folder.paths, clock: fixedClock(), host: "test", migrations });
  opened.close();
  withRawDatabase(folder.paths.databaseFile, (database) =>
    database.exec(`
      INSERT INTO person (id, name, name_key, initials, registered_at) VALUES ('p', 'Ada', 'ada', 'A', '${AT}');
      INSERT INTO equipment_event (id, kind, subject_kind, subject_id, happened_on, words, recorded_at, recorded_by)
        VALUES ('one', 'eyepiece moved', 'eyepiece', 'e', '2026-03-01', 'turned in its sleeve', '${AT}', 'p'),
          ('two', 'serviced', 'microscope', 'm', '2026-03-02', 'cleaned', '${AT}', 'p');
    `),
  );
});
afterEach(() => folder.remove());

it("keeps every event of an older bench in its order, and none of them is a statement", async () => {
  const bench = await tempBench({ paths: folder.paths });
  const events = await bench.call("events.list", { microscopeId: null });
  expect(events).toEqual([
    {
      ...{ id: "two", kind: "serviced", subject: { kind: "microscope", id: "m" }, words: "cleaned" },
      ...{ happenedOn: "2026-03-02", recordedAt: AT, recordedBy: "p", trainIds: [], openTrainIds: [] },
    },
    {
      ...{ id: "one", kind: "eyepiece moved", subject: { kind: "eyepiece", id: "e" } },
      ...{ words: "turned in its sleeve", happenedOn: "2026-03-01" },
      ...{ recordedAt: AT, recordedBy: "p", trainIds: [], openTrainIds: [] },
    },
  ]);
  await bench.end();
});

it("lends nothing but eyepieces, takes a statement of a return alone, and edits no event", async () => {
  await (await tempBench({ paths: folder.paths })).program.close();
  withRawDatabase(folder.paths.databaseFile, (database) => {
    const insert = (kind: string, subject: string, unchanged: number) => () =>
      database
        .prepare(
          `INSERT INTO equipment_event VALUES (?, ?, ?, 'any', '2026-03-02', 'words', ?, '${AT}', 'p')`,
        )
        .run(`${kind}-${subject}`, kind, subject, unchanged);
    expect(insert("lent", "microscope", 0)).toThrow(/CHECK constraint failed/);
    expect(insert("lent", "eyepiece", 1)).toThrow(/CHECK constraint failed/);
    expect(insert("stolen", "eyepiece", 0)).toThrow(/CHECK constraint failed/);
    insert("brought back", "eyepiece", 1)();
    expect(() => database.exec("UPDATE equipment_event SET unchanged = 0")).toThrow(/an event is not edited/);
    expect(() => database.exec("DELETE FROM equipment_event")).toThrow(/an event is not deleted/);
  });
});
