import { afterEach, beforeEach, expect, it } from "vitest";
import { buildScene, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { benchOfTheFirstVersion } from "../../support/first-version.ts";
import { withRawDatabase } from "../../support/raw-database.ts";
import { type TempBench, type TempFolder, tempBench, tempFolder } from "../../support/temp-bench.ts";

let bench: TempBench;
let old: TempFolder;
let scene: Scene;

beforeEach(async () => {
  old = tempFolder();
  bench = await tempBench();
  scene = await buildScene(bench, { customer: "" });
  await enterLength(bench, scene, "row-1", "10", "60");
});
afterEach(async () => {
  await bench.end();
  old.remove();
});

it("keeps every objective of an older bench at its position, with its trains and their results", async () => {
  const asked = async ({ call }: TempBench) => ({
    microscopes: await call("microscopes.list", {}),
    overview: (await call("bench.overview", {})).microscopes,
    rows: await call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 9 }),
  });
  const before = await asked(bench);
  await benchOfTheFirstVersion(bench.paths.databaseFile, old);
  const later = await tempBench({ paths: old.paths });
  expect((await asked(later)).microscopes).toEqual(before.microscopes);
  expect((await asked(later)).rows).toEqual(before.rows);
  expect(before.microscopes[0]?.objectives[0]).not.toHaveProperty("replaced");
  expect((await later.call("trail.verify", {})).differences).toEqual([]);
  await later.end();
});

it("holds one objective at each position, a replacement that stays, and no other words for glasses", () => {
  withRawDatabase(bench.paths.databaseFile, (database) => {
    const [first, second] = scene.microscope.objectives.map(({ id }) => id);
    const columns = "microscope_id, position, magnification, numerical_aperture, immersion, serial";
    const another = (id: string, from?: string) => () =>
      database
        .prepare(`INSERT INTO objective (id, ${columns}) SELECT ?, ${columns} FROM objective WHERE id = ?`)
        .run(id, from);
    const replaced = (on: string | null, by: string | null) => () =>
      database
        .prepare("UPDATE objective SET replaced_on = ?, replaced_by = ? WHERE id = ?")
        .run(on, by, first);
    expect(another("twice", first)).toThrow(/UNIQUE constraint failed/);
    expect(replaced("2026-03-02", null)).toThrow(/CHECK constraint failed/);
    expect(replaced("2026-03-02", first ?? "")).toThrow(/CHECK constraint failed/);
    expect(replaced("2026-03-02", "nobody")).toThrow(/FOREIGN KEY constraint failed/);
    replaced("2026-03-02", second ?? "")();
    another("next", first)();
    expect(replaced("2026-03-01", second ?? "")).toThrow(/a replacement is not edited/);
    const eyes = database.prepare(
      "INSERT INTO eyes_at_train VALUES (?, ?, '', '', 'sometimes', '2026-03-02T09:00:00.000Z')",
    );
    expect(() => eyes.run(scene.personId, scene.trains[0]?.id)).toThrow(/CHECK constraint failed/);
  });
});
