import { linkSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { liesInBench } from "#main/services/write-context/outside-bench.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

describe("a place for a file", () => {
  let root: string;
  let bench: string;
  beforeEach(() => {
    root = mkdtempSync(join(tmpdir(), "linefall-place-"));
    bench = join(root, "bench");
    for (const folder of ["bench/backups", "bench/exports", "bench-2", "desk"]) {
      mkdirSync(join(root, folder), { recursive: true });
    }
    writeFileSync(join(bench, "bench.sqlite"), "the bench");
    writeFileSync(join(bench, "backups", "old.sqlite"), "a backup");
  });
  afterEach(() => rmSync(root, { recursive: true, force: true }));
  const asked = (target: string, exportFolder = join(root, "desk")) =>
    liesInBench(target, { dataFolder: bench, exportFolder });

  it("elsewhere is taken, a folder whose name only begins alike too", async () => {
    for (const target of ["desk/a.xlsx", "bench-2/a.xlsx", "bench.xlsx", "not/there/yet/a.xlsx"]) {
      expect([target, await asked(join(root, target))]).toEqual([target, false]);
    }
  });

  it("in the bench's folder is not, however deep, and whether it is there yet or not", async () => {
    for (const name of [
      "bench.sqlite",
      "bench.sqlite-wal",
      "new.xlsx",
      "backups/old.sqlite",
      "not/there/a.csv",
    ]) {
      expect([name, await asked(join(bench, name))]).toEqual([name, true]);
    }
    expect(await asked(join(root, "desk", "..", "bench", "a.csv"))).toBe(true);
    expect(await asked(bench)).toBe(true);
  });

  it("in the bench's folder by a link is not: a folder's, a file's, one that leads nowhere yet", async () => {
    symlinkSync(bench, join(root, "desk", "folder"));
    symlinkSync(join(bench, "bench.sqlite"), join(root, "desk", "file.sqlite"));
    symlinkSync(join(root, "desk", "folder", "later.csv"), join(root, "desk", "later.csv"));
    for (const name of ["folder/a.csv", "folder/backups/a.csv", "file.sqlite", "later.csv"]) {
      expect([name, await asked(join(root, "desk", name))]).toEqual([name, true]);
    }
    symlinkSync(join(root, "desk", "round"), join(root, "desk", "round"));
    expect(await asked(join(root, "desk", "round"))).toBe(false);
  });

  it("is known when the bench's own folder is named by a link", async () => {
    symlinkSync(bench, join(root, "mine"));
    const places = { dataFolder: join(root, "mine"), exportFolder: join(root, "desk") };
    expect(await liesInBench(join(bench, "a.csv"), places)).toBe(true);
    expect(await liesInBench(join(root, "mine", "a.csv"), places)).toBe(true);
  });

  it("that is another name of a file of the bench is not; one of another file is", async () => {
    linkSync(join(bench, "bench.sqlite"), join(root, "desk", "twin.sqlite"));
    linkSync(join(bench, "backups", "old.sqlite"), join(root, "desk", "twin-backup.sqlite"));
    writeFileSync(join(root, "desk", "a.csv"), "");
    linkSync(join(root, "desk", "a.csv"), join(root, "desk", "b.csv"));
    expect(await asked(join(root, "desk", "twin.sqlite"))).toBe(true);
    expect(await asked(join(root, "desk", "twin-backup.sqlite"))).toBe(true);
    expect(await asked(join(root, "desk", "b.csv"))).toBe(false);
  });

  it("in the bench's export folder is taken where exports go there, unless that leads among its files", async () => {
    const exports = join(bench, "exports");
    expect(await asked(join(exports, "a.xlsx"), exports)).toBe(false);
    expect(await asked(exports, exports)).toBe(true);
    expect(await asked(join(bench, "a.xlsx"), exports)).toBe(true);
    linkSync(join(bench, "bench.sqlite"), join(exports, "twin.sqlite"));
    expect(await asked(join(exports, "twin.sqlite"), exports)).toBe(true);
    rmSync(exports, { recursive: true });
    for (const place of [".", "backups"]) {
      symlinkSync(join(bench, place), exports);
      expect([place, await asked(join(exports, "a.xlsx"), exports)]).toEqual([place, true]);
      rmSync(exports);
    }
  });
});

describe("a bench handed over onto itself", () => {
  let bench: TempBench;
  let target = "";
  afterEach(() => bench.end());

  it.each([
    ["its own file", "bench.sqlite"],
    ["its log", "bench.sqlite-wal"],
    ["one of its backups", "backups/mine.sqlite"],
  ])("%s is refused, and everything acknowledged is there", async (_what, name) => {
    bench = await tempBench({ chooseExportPath: async () => target });
    target = join(bench.paths.dataFolder, name);
    const register = (n: number) =>
      bench.call("people.register", {
        requestId: bench.request(),
        person: { name: `Person ${n}`, initials: `P${n}`, interpupillaryMm: "" },
      });
    for (let n = 0; n < 20; n += 1) await register(n);
    const refused = await bench.refusal("backups.handOver", {});
    expect(refused).toMatchObject({ code: "file.unwritable", message: expect.stringContaining(target) });
    expect(refused.hint).toContain("another folder");
    await register(20);
    await bench.reopen();
    expect(await bench.call("people.list", {})).toHaveLength(21);
    expect(readFileSync(bench.paths.databaseFile).subarray(0, 15).toString()).toBe("SQLite format 3");
  });
});
