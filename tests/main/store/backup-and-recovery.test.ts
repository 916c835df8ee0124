import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { assemble, recoverBench } from "#main/assemble.ts";
import type { ProgramOptions } from "#main/program.ts";
import { backupFileName, readBackupFileName } from "#main/store/bench-file/backup-file-name.ts";
import { BenchUnopenable } from "#main/store/bench-file/bench-unopenable.ts";
import { buildScene, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { countedIds, fixedClock } from "../../support/fixed-clock.ts";
import { withRawDatabase } from "../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;
let options: ProgramOptions;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  options = {
    paths: bench.paths,
    clock: fixedClock("2026-04-01T09:00:00.000Z"),
    ids: countedIds("later"),
    host: "loopback",
    programVersion: "0.0.0-test",
  };
});
afterEach(() => bench.end());

const rowsIn = (file: string) =>
  withRawDatabase(file, (database) =>
    database.prepare("SELECT id FROM specimen_row ORDER BY id").pluck().all(),
  );
const backup = () => bench.call("backups.make", { requestId: bench.request() });
const backupPath = (fileName: string) => join(bench.paths.backupFolder, fileName);

async function trouble(): Promise<BenchUnopenable> {
  const error = await assemble(options).catch((reason: unknown) => reason);
  if (error instanceof BenchUnopenable) return error;
  throw new Error(`not refused: ${String(error)}`);
}

describe("a backup", () => {
  it("holds everything acknowledged, in one file, while the bench stays open", async () => {
    await enterLength(bench, scene, "row-1", "23.0", "51.5");
    const copy = await backup();
    await enterLength(bench, scene, "row-2", "23.0", "51.5");
    expect(copy).toMatchObject({ why: "on request" });
    expect(rowsIn(backupPath(copy.fileName))).toEqual(["row-1"]);
    expect(readdirSync(bench.paths.backupFolder)).toEqual([copy.fileName]);
    expect((await bench.call("backups.list", {}))[0]).toEqual(copy);
  });

  it("is not made twice for one request", async () => {
    const requestId = bench.request();
    const [one, other] = await Promise.all([
      bench.call("backups.make", { requestId }),
      bench.call("backups.make", { requestId }),
    ]);
    expect(other).toEqual(one);
    expect(await bench.call("backups.list", {})).toHaveLength(1);
  });

  it("that cannot be written says so", async () => {
    writeFileSync(bench.paths.backupFolder, "a file where the folder should be");
    const error = await bench.refusal("backups.make", { requestId: bench.request() });
    expect(error.code).toBe("file.unwritable");
    rmSync(bench.paths.backupFolder);
  });

  it("is made by itself when a day's work is closed, one a day, fourteen days long", async () => {
    for (let day = 1; day <= 17; day += 1) {
      for (const hour of ["09", "15"]) {
        bench.clock.set(`2026-03-${String(day + 2).padStart(2, "0")}T${hour}:00:00.000Z`);
        await enterLength(bench, scene, `row-${day}-${hour}`, "23.0", "51.5");
        await bench.reopen();
      }
    }
    const files = await bench.call("backups.list", {});
    const days = files.map((file) => file.madeAt.slice(0, 10));
    expect(new Set(files.map((file) => file.why))).toEqual(new Set(["daily"]));
    expect(days).toHaveLength(14);
    expect(new Set(days).size).toBe(14);
    expect([days[0], days.at(-1)]).toEqual(["2026-03-19", "2026-03-06"]);
    expect(rowsIn(backupPath(files[0]?.fileName ?? ""))).toHaveLength(34);
  });

  it("is also begun by the first write of a new day when the program was left running", async () => {
    await bench.reopen();
    const before = (await bench.call("backups.list", {})).length;
    await enterLength(bench, scene, "row-1", "23.0", "51.5");
    bench.clock.set("2026-03-03T08:00:00.000Z");
    await enterLength(bench, scene, "row-2", "23.0", "51.5");
    await bench.program.close();
    const days = readdirSync(bench.paths.backupFolder).map((name) => name.slice(6, 14));
    expect(days.length).toBeGreaterThan(before);
    expect(days).toContain("20260303");
  });

  it("begun by the first write of a day holds the days before and nothing of that day, however long it takes", async () => {
    await bench.reopen();
    await enterLength(bench, scene, "row-1", "23.0", "51.5");
    bench.clock.set("2026-03-03T08:00:00.000Z");
    const before = new Set(readdirSync(bench.paths.backupFolder));
    // All of them on their way before the copy can be finished.
    await Promise.all(
      Array.from({ length: 30 }, (_, i) => enterLength(bench, scene, `row-of-the-day-${i}`, "23.0", "51.5")),
    );
    const isMade = () => readdirSync(bench.paths.backupFolder).find((name) => name.includes("20260303"));
    await expect.poll(isMade, { timeout: 20_000 }).toMatch(/-daily-\d{9}-[0-9a-f]{16}\.sqlite$/);
    expect(before.has(isMade() ?? "")).toBe(false);
    expect(rowsIn(backupPath(isMade() ?? ""))).toEqual(["row-1"]);
  });

  it("that fails becomes a notice and stops nobody", async () => {
    await bench.reopen();
    rmSync(bench.paths.backupFolder, { recursive: true });
    writeFileSync(bench.paths.backupFolder, "in the way");
    bench.clock.set("2026-03-09T08:00:00.000Z");
    await enterLength(bench, scene, "row-1", "23.0", "51.5");
    await expect.poll(() => bench.program.notices.join()).toContain("daily backup could not be made");
    rmSync(bench.paths.backupFolder);
  });

  it("is named so that the name says when and why", () => {
    const said = { madeAt: "2026-03-02T09:08:07.006Z", why: "before migration" } as const;
    const head = { sequence: 412, hash: "9f86d081884c7d65" };
    const name = backupFileName(said.madeAt, said.why, { ...head, hash: `${head.hash}9a2f` });
    expect(name).toBe("bench-20260302T090807006Z-before-migration-000000412-9f86d081884c7d65.sqlite");
    expect(readBackupFileName(name)).toEqual({ ...said, head });
    const older = backupFileName(said.madeAt, said.why, null);
    expect(older).toBe("bench-20260302T090807006Z-before-migration.sqlite");
    expect(readBackupFileName(older)).toEqual({ ...said, head: null });
    expect(readBackupFileName("../bench-20260302T090807006Z-daily.sqlite")).toBeNull();
    expect(readBackupFileName("bench-20260302T090807006Z-daily.sqlite.partial")).toBeNull();
  });
});

describe("a damaged bench", () => {
  async function damage(): Promise<string> {
    await enterLength(bench, scene, "row-1", "23.0", "51.5");
    const good = await backup();
    bench.clock.set("2026-03-05T09:00:00.000Z");
    const bad = await backup();
    writeFileSync(backupPath(bad.fileName), "not a bench any more");
    await enterLength(bench, scene, "row-2", "23.0", "51.5");
    await bench.program.close();
    for (const name of readdirSync(bench.paths.backupFolder)) {
      if (name.includes("daily")) rmSync(backupPath(name));
    }
    const bytes = readFileSync(bench.paths.databaseFile);
    bytes.fill(0xff, 4096 * 2, 4096 * 8);
    writeFileSync(bench.paths.databaseFile, bytes);
    // With the newer one made, it was condensed; the newer one being damaged does not reach it.
    return good.fileName.replace(".sqlite", ".condensed");
  }

  it("is kept aside, and the newest backup that passes its check takes its place", async () => {
    const good = await damage();
    const { code, offers } = await trouble();
    expect(code).toBe("bench.damaged");
    expect(offers).toMatchObject([{ kind: "restore", fileName: good }, { kind: "start-empty" }]);
    const [restore] = offers;
    if (!restore) throw new Error("no offer");
    expect(await recoverBench(options, restore)).toContain(good);
    expect(readdirSync(bench.paths.dataFolder).filter((name) => name.includes(".damaged-"))).toHaveLength(1);
    const program = await assemble(options);
    const page = await program.dispatch("rows.page", { sheetId: scene.sheet.id, from: 1, count: 5 });
    expect(page).toMatchObject({ ok: true, value: { total: 1, rows: [{ id: "row-1" }] } });
    expect(await program.dispatch("trail.verify", {})).toMatchObject({
      ok: true,
      value: { differences: [] },
    });
    await program.close();
  });

  it("can be left aside for an empty beginning", async () => {
    await damage();
    const before = readFileSync(bench.paths.databaseFile);
    const { offers } = await trouble();
    const empty = offers.find((offer) => offer.kind === "start-empty");
    if (!empty) throw new Error("no offer");
    await recoverBench(options, empty);
    const aside = readdirSync(bench.paths.dataFolder).find((name) => name.includes(".damaged-"));
    expect(readFileSync(join(bench.paths.dataFolder, String(aside)))).toEqual(before);
    const program = await assemble(options);
    expect(await program.dispatch("sheets.list", {})).toEqual({ ok: true, value: [] });
    await program.close();
  });

  it("is not touched when the backup chosen turns out bad as well", async () => {
    const good = await damage();
    const before = readFileSync(bench.paths.databaseFile);
    writeFileSync(backupPath(good), "bad too");
    const offer = { kind: "restore", fileName: good, madeAt: "", words: "" } as const;
    await expect(recoverBench(options, offer)).rejects.toThrow("did not pass its check");
    expect(readFileSync(bench.paths.databaseFile)).toEqual(before);
    expect(existsSync(`${bench.paths.databaseFile}.restoring`)).toBe(false);
    const outside = { ...offer, fileName: "../../etc/passwd" };
    await expect(recoverBench(options, outside)).rejects.toThrow("is not the name of a backup");
  });
});
