import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { stemOf } from "#main/store/bench-file/backup-file-name.ts";
import { buildScene, enterLength, type Scene } from "../../../support/bench-scenes.ts";
import { withRawDatabase } from "../../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

const modeOf = (path: string): string => (statSync(path).mode & 0o777).toString(8);

function filesUnder(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: "utf8" }).map((name) => join(folder, name));
}

describe.skipIf(process.platform === "win32")("the folder of a bench", () => {
  it("is set right where others could look into it, and that is said once", async () => {
    await enterLength(bench, scene, "row-1", "40", "60");
    await bench.call("backups.make", { requestId: bench.request() });
    await bench.program.close();
    const { dataFolder } = bench.paths;
    writeFileSync(join(dataFolder, "notes.txt"), "the person's own file");
    for (const path of filesUnder(dataFolder)) chmodSync(path, statSync(path).isDirectory() ? 0o755 : 0o644);
    chmodSync(dataFolder, 0o755);
    await bench.reopen();
    expect(bench.program.notices.join()).toContain("could look into the folder of this bench");
    expect(modeOf(dataFolder)).toBe("700");
    const open = filesUnder(dataFolder).filter((path) => (statSync(path).mode & 0o077) !== 0);
    expect(open).toEqual([join(dataFolder, "notes.txt")]);
    await bench.reopen();
    expect(bench.program.notices).toEqual([]);
  });

  it("is made for its person alone, with everything that is written while it is open out of others' sight", async () => {
    expect(modeOf(bench.paths.dataFolder)).toBe("700");
    for (const end of ["", "-wal", "-shm"]) expect(modeOf(bench.paths.databaseFile + end)).toBe("600");
    await enterLength(bench, scene, "row-1", "40", "60");
    await bench.call("backups.make", { requestId: bench.request() });
    await enterLength(bench, scene, "row-2", "40", "60");
    await bench.call("backups.make", { requestId: bench.request() });
    await bench.call("trail.saveHeads", {});
    expect(modeOf(bench.paths.exportFolder)).toBe("700");
    await bench.program.close();
    const open = filesUnder(bench.paths.dataFolder).filter((path) => (statSync(path).mode & 0o077) !== 0);
    expect(open).toEqual([]);
    await bench.reopen();
    expect(bench.program.notices).toEqual([]);
  });
});

describe("what a kill leaves half written", () => {
  it("is gone after the next start; what is whole stays", async () => {
    const { dataFolder, databaseFile, backupFolder, exportFolder } = bench.paths;
    const copy = await bench.call("backups.make", { requestId: bench.request() });
    await bench.program.close();
    mkdirSync(exportFolder, { recursive: true });
    mkdirSync(join(dataFolder, "checking-a1b2c3"));
    mkdirSync(join(dataFolder, "incoming"), { recursive: true });
    mkdirSync(join(dataFolder, "attachments"), { recursive: true });
    const left = [
      join(dataFolder, "checking-a1b2c3", "bench.sqlite"),
      join(dataFolder, "incoming", "upload-1.part"),
      join(backupFolder, "bench-20260302T090807006Z-daily.sqlite.partial"),
      join(backupFolder, "bench-20260302T090807006Z-daily.sqlite.partial-journal"),
      join(dataFolder, "attachments", "ab12.partial"),
      join(exportFolder, ".honey.xlsx.4711-abc.part"),
      `${databaseFile}.restoring`,
      `${databaseFile}.holder.partial`,
    ];
    const whole = [join(exportFolder, "honey.xlsx"), join(dataFolder, "partial notes.txt")];
    for (const path of [...left, ...whole]) writeFileSync(path, "half");
    await bench.reopen();
    expect(left.filter((path) => existsSync(path))).toEqual([]);
    expect(whole.filter((path) => !existsSync(path))).toEqual([]);
    expect(readdirSync(backupFolder).map(stemOf)).toContain(stemOf(copy.fileName));
  });
});

describe("a clock that is wrong", () => {
  it("set back is said, and the newest copy is the one that holds most, whatever the date in its name", async () => {
    for (const [row, day] of ["2026-03-10", "2026-03-11", "2031-01-01"].entries()) {
      bench.clock.set(`${day}T09:00:00.000Z`);
      await enterLength(bench, scene, `row-${row}`, "40", "60");
      await bench.reopen();
    }
    expect(bench.program.notices).toEqual([]);
    bench.clock.set("2026-03-12T09:00:00.000Z");
    await bench.reopen();
    expect(bench.program.notices.join()).toContain("2026-03-12 09:00 UTC");
    for (let day = 12; day <= 28; day += 1) {
      bench.clock.set(`2026-03-${day}T09:00:00.000Z`);
      await enterLength(bench, scene, `late-${day}`, "40", "60");
      await bench.reopen();
    }
    const files = (await bench.call("backups.list", {})).filter(({ why }) => why === "daily");
    expect(files).toHaveLength(14);
    expect(files[0]?.madeAt.slice(0, 10)).toBe("2026-03-28");
    expect(files.map(({ madeAt }) => madeAt.slice(0, 4))).not.toContain("2031");
    const lines = files.map(({ head }) => head?.sequence ?? 0);
    expect(lines).toEqual([...lines].sort((one, other) => other - one));
  });
});

describe("a bench whose file goes away while the program runs", () => {
  const TAKEN = ["moved", "removed", "replaced", "its folder moved"] as const;

  it.each(TAKEN)(
    "%s: nothing is acknowledged, it is said at once, and what is open can be saved",
    async (how) => {
      await enterLength(bench, scene, "row-1", "40", "60");
      const { dataFolder, databaseFile } = bench.paths;
      const away = how === "its folder moved" ? `${dataFolder}-away` : `${databaseFile}-away`;
      if (how === "its folder moved") renameSync(dataFolder, away);
      else if (how === "moved") renameSync(databaseFile, away);
      else rmSync(databaseFile);
      if (how === "replaced") writeFileSync(databaseFile, "another file");
      const cell = { dimension: "length", edge: "left" };
      const input = { sheetId: scene.sheet.id, rowId: "row-2", cell, typed: "41", label: "grain" };
      const requestId = bench.request();
      const error = await bench.refusal("rows.enter", { requestId, ...input });
      expect(error).toMatchObject({ code: "bench.unwritable" });
      expect(error.message).toContain("no longer in its place");
      expect(bench.program.notices.join()).toContain("no longer in its place");
      const saved = await bench.call("backups.handOver", {});
      const rows = withRawDatabase(saved?.path ?? "", (db) =>
        db.prepare("SELECT count(*) FROM specimen_row").pluck().get(),
      );
      expect(rows).toBe(2);
      if (how === "moved") {
        renameSync(away, databaseFile);
        const again = await bench.program.dispatch("rows.enter", { requestId, ...input });
        expect(again).toMatchObject({ ok: true });
      }
      if (how === "its folder moved") rmSync(away, { recursive: true });
    },
  );
});
