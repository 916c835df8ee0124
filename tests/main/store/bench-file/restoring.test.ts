import { copyFileSync, existsSync, readdirSync, readFileSync, renameSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { assemble, recoverBench } from "#main/assemble.ts";
import type { ProgramOptions } from "#main/program.ts";
import { BenchUnopenable } from "#main/store/bench-file/bench-unopenable.ts";
import { buildScene, enterLength, type Scene } from "../../../support/bench-scenes.ts";
import { countedIds, fixedClock } from "../../../support/fixed-clock.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;
let options: ProgramOptions;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  options = {
    paths: bench.paths,
    clock: fixedClock("2026-03-02T18:00:00.000Z"),
    ids: countedIds("later"),
    host: "loopback",
    programVersion: "0.0.0-test",
  };
});
afterEach(() => bench.end());

const rows = async (): Promise<string[]> => {
  const page = await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 100 });
  return page.rows.map(({ id }) => id);
};
const restoresInTrail = async () =>
  (await bench.call("trail.page", { before: null, count: 500 })).filter(
    ({ act }) => act === "backups.restore",
  );

it("restoring today's daily copy gives the rows it holds, and leaves the copy as it was", async () => {
  await enterLength(bench, scene, "morning", "40", "60");
  await bench.reopen();
  const [daily] = await bench.call("backups.list", {});
  expect(daily).toMatchObject({ why: "daily" });
  const fileName = daily?.fileName ?? "";
  const path = join(bench.paths.backupFolder, fileName);
  const before = readFileSync(path);
  await enterLength(bench, scene, "afternoon", "41", "61");
  await bench.call("backups.restore", { requestId: bench.request(), fileName, reason: "wrong sample" });
  expect(await rows()).toEqual(["morning"]);
  expect(readFileSync(path)).toEqual(before);
  await enterLength(bench, scene, "evening", "42", "62");
  expect(await rows()).toEqual(["morning", "evening"]);
  expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  expect(await restoresInTrail()).toHaveLength(1);
});

describe("a restore cut off by a kill", () => {
  /** The folder as a kill leaves it after `done` of the renames. */
  async function cutOff(done: number): Promise<void> {
    await enterLength(bench, scene, "kept", "40", "60");
    const copy = await bench.call("backups.make", { requestId: bench.request() });
    await enterLength(bench, scene, "later", "41", "61");
    const { databaseFile, backupFolder, dataFolder } = bench.paths;
    const laidAside = join(dataFolder, "laid-aside.sqlite");
    copyFileSync(join(backupFolder, copy.fileName), laidAside);
    // As after a crash: what was entered last stands in the -wal file.
    const lying = ["", "-wal", "-shm"].map(
      (end) => [databaseFile + end, readFileSync(databaseFile + end)] as const,
    );
    await bench.program.close();
    for (const [path, bytes] of lying) writeFileSync(path, bytes);
    copyFileSync(laidAside, `${databaseFile}.restoring`);
    const aside = "bench.sqlite.before-restore-20260302T170000000Z";
    const restored = { fileName: copy.fileName, madeAt: copy.madeAt, by: "Ada", reason: "a mistake" };
    writeFileSync(`${databaseFile}.swap`, JSON.stringify({ way: "copy", aside, restored }));
    const renames = [
      ...["-wal", "-shm", ""].map(
        (end) => [databaseFile + end, join(bench.paths.dataFolder, aside) + end] as const,
      ),
      [`${databaseFile}.restoring`, databaseFile] as const,
    ];
    for (const [from, to] of renames.slice(0, done)) renameSync(from, to);
  }

  it.each([0, 1, 2, 3, 4])(
    "after %i of its renames is finished by the next start, and told once",
    async (done) => {
      await cutOff(done);
      await bench.reopen();
      expect(bench.program.notices).toEqual([]);
      expect(await rows()).toEqual(["kept"]);
      expect(await restoresInTrail()).toMatchObject([{ reason: "a mistake", personId: null }]);
      await bench.reopen();
      expect(await restoresInTrail()).toHaveLength(1);
      expect((await bench.call("trail.verify", {})).differences).toEqual([]);
      const names = readdirSync(bench.paths.dataFolder);
      expect(names.filter((name) => /restoring|\.swap/.test(name))).toEqual([]);
      expect(names).toContain("bench.sqlite.before-restore-20260302T170000000Z");
    },
  );

  it("by an older program, which wrote nothing down: the file kept aside is offered and comes back whole", async () => {
    await enterLength(bench, scene, "row-1", "40", "60");
    await bench.program.close();
    const aside = join(bench.paths.dataFolder, "bench.sqlite.before-restore-20260302T170000000Z");
    renameSync(bench.paths.databaseFile, aside);
    const trouble = await assemble(options).catch((error: unknown) => error);
    if (!(trouble instanceof BenchUnopenable)) throw new Error(`not refused: ${String(trouble)}`);
    expect(trouble.code).toBe("bench.missing");
    const offer = trouble.offers.find(({ kind }) => kind === "put-back");
    if (!offer) throw new Error("not offered");
    expect(offer.words).toContain("2026-03-02 17:00");
    expect(await recoverBench(options, offer)).toContain(basename(aside));
    await bench.reopen();
    expect(await rows()).toEqual(["row-1"]);
    expect(existsSync(aside)).toBe(false);
  });
});
