import { readFileSync, truncateSync, writeFileSync } from "node:fs";
import Database from "better-sqlite3";
import { afterEach, beforeEach, expect, it } from "vitest";
import { FILE_CHECK } from "#core/contract/records/work.ts";
import { copyWorkBeside } from "#main/loopback/copy-work.ts";
import type { CopyWork } from "#main/ports/copy-work.ts";
import { openBench } from "#main/store/bench-file/open.ts";
import { buildScene, calibrateTrain, enterLength } from "../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

const PAGE = 4096;

let bench: TempBench;
let check: CopyWork;

/** Every bench is large to this program. */
beforeEach(async () => {
  check = copyWorkBeside;
  bench = await tempBench({ checkedWholeUpTo: 0, copyWork: (order, signal) => check(order, signal) });
  const scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  for (let row = 1; row <= 30; row += 1) await enterLength(bench, scene, `row-${row}`, "40", "60");
});
afterEach(() => bench.end());

async function noticesUntil(words: string): Promise<readonly string[]> {
  for (;;) {
    const { notices } = await bench.call("bench.status", {});
    if (notices.some((one) => one.includes(words))) return notices;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

/** Changes one identifier in an index: no row is lost and no line of the trail, and the first look does not come by. */
async function damage(): Promise<void> {
  await bench.program.close();
  const { databaseFile } = bench.paths;
  const database = new Database(databaseFile);
  const page = Number(
    database
      .prepare("SELECT pageno FROM dbstat WHERE name = 'sqlite_autoindex_specimen_row_1'")
      .pluck()
      .get(),
  );
  database.close();
  const bytes = readFileSync(databaseFile);
  const at = bytes.indexOf("row-17", (page - 1) * PAGE);
  expect(at).toBeLessThan(page * PAGE);
  bytes.write("row-1Z", at);
  writeFileSync(databaseFile, bytes);
}

/** Goes on with the bench until it is stopped; what is done with copies ends at once, and they are whole. */
const endless: CopyWork = (order, signal) =>
  signal && order.kind === "check" && order.file === bench.paths.databaseFile
    ? new Promise((_resolve, reject) => signal.addEventListener("abort", () => reject(new Error("stopped"))))
    : Promise.resolve([]);

it("says that a whole bench is being checked, and then that it is whole: once, and not twice", async () => {
  await bench.reopen();
  const notices = await noticesUntil("it is whole");
  expect(notices.filter((one) => one.includes("every page") || one.includes("Every page"))).toHaveLength(1);
});

it("opens a large bench whose old pages are damaged, and says so when the check comes to them", async () => {
  await damage();
  await bench.reopen();
  expect(await noticesUntil("file is damaged")).not.toContainEqual(expect.stringContaining("it is whole"));
  expect((await bench.call("bench.checkFile", {})).faults.length).toBeGreaterThan(0);
});

it("can be stopped, which is said, and begun again", async () => {
  check = endless;
  await bench.reopen();
  await noticesUntil("is checked while you work");
  expect(await bench.call("work.progress", { requestId: FILE_CHECK })).toMatchObject({ part: "every page" });
  await bench.call("work.stop", { requestId: FILE_CHECK });
  await noticesUntil("was stopped");
  check = copyWorkBeside;
  expect(await bench.call("bench.checkFile", {})).toEqual({ faults: [] });
});

it("does not hold the closing of the bench", async () => {
  check = endless;
  await bench.reopen();
  await noticesUntil("is checked while you work");
  await bench.reopen();
});

it("refuses at the first look what is cut off, or has another end of its trail", async () => {
  const open = () => openBench({ paths: bench.paths, clock: bench.clock, host: "test", checkedWholeUpTo: 0 });
  await bench.program.close();
  const { databaseFile } = bench.paths;
  const whole = readFileSync(databaseFile);
  truncateSync(databaseFile, whole.length - 2 * PAGE);
  await expect(open()).rejects.toMatchObject({ code: "bench.damaged" });
  const changed = Buffer.from(whole);
  const last = changed.lastIndexOf('"to":"60"');
  changed.write('"to":"61"', last);
  writeFileSync(databaseFile, changed);
  await expect(open()).rejects.toMatchObject({ code: "bench.damaged" });
  writeFileSync(databaseFile, whole);
  (await open()).close();
  await bench.reopen();
});
