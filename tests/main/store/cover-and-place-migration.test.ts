import { afterEach, beforeEach, expect, it } from "vitest";
import { buildScene, COVERED_IN_A_DRAWER } from "../../support/bench-scenes.ts";
import { benchOfTheFirstVersion } from "../../support/first-version.ts";
import { withRawDatabase } from "../../support/raw-database.ts";
import { type TempBench, type TempFolder, tempBench, tempFolder } from "../../support/temp-bench.ts";

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

it("keeps every stage micrometer of an older bench, with neither recorded", async () => {
  await buildScene(bench, { customer: "" });
  const before = await bench.call("micrometers.list", {});
  await benchOfTheFirstVersion(bench.paths.databaseFile, old);
  const later = await tempBench({ paths: old.paths });
  const after = await later.call("micrometers.list", {});
  expect(after).toEqual(before);
  expect(Object.keys(after[0] ?? {})).not.toContain("cover");
  expect((await later.call("trail.verify", {})).differences).toEqual([]);
  await later.end();
});

it("takes no other words for the cover, and no empty place", async () => {
  await buildScene(bench, COVERED_IN_A_DRAWER);
  withRawDatabase(bench.paths.databaseFile, (database) => {
    for (const [column, wrong] of [
      ["cover", "half"],
      ["kept_at", ""],
    ]) {
      const update = database.prepare(`UPDATE stage_micrometer SET ${column} = ?`);
      expect(() => update.run(wrong)).toThrow(/CHECK constraint failed/);
    }
  });
});
