import { copyFileSync, existsSync, mkdirSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { assemble } from "#main/assemble.ts";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { countedIds, fixedClock } from "../../support/fixed-clock.ts";
import { withRawDatabase } from "../../support/raw-database.ts";
import { type TempBench, tempBench, tempFolder } from "../../support/temp-bench.ts";
import { attach, PNG } from "../../support/traceability-scenes.ts";

// Hundreds of entries, each on disk before it is acknowledged: a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 120_000 });

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
});
afterEach(() => bench.end());

const rows = async () =>
  (await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 50 })).rows.map((row) => row.id);
const backup = () => bench.call("backups.make", { requestId: bench.request() });
const restore = (fileName: string) => ({
  requestId: bench.request(),
  fileName,
  reason: "a mistake in the afternoon",
});
const leftovers = () =>
  readdirSync(bench.paths.dataFolder).filter((name) => /checking|restoring|partial/.test(name));

describe("a backup is restored while the program goes on", () => {
  it("and the bench as it was is kept aside, the trail tells of it and verifies", async () => {
    const { fileName } = await backup();
    await enterLength(bench, scene, "row-2", "41", "61");
    const check = await bench.call("backups.check", { fileName });
    expect(check).toMatchObject({ sheets: 1, rows: 1, version: check.programVersion });
    const { keptAside, words } = await bench.call("backups.restore", restore(fileName));
    expect(words).toContain(keptAside);
    expect(await rows()).toEqual(["row-1"]);
    const aside = join(bench.paths.dataFolder, keptAside);
    const kept = withRawDatabase(aside, (db) =>
      db.prepare("SELECT id FROM specimen_row ORDER BY id").pluck().all(),
    );
    expect(kept).toEqual(["row-1", "row-2"]);
    const [line] = await bench.call("trail.page", { before: null, count: 1 });
    expect(line).toMatchObject({ act: "backups.restore", reason: "a mistake in the afternoon" });
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
    await enterLength(bench, scene, "row-3", "42", "62");
    expect(await rows()).toEqual(["row-1", "row-3"]);
    expect(leftovers()).toEqual([]);
  });

  it("calls that come meanwhile wait for the bench it becomes", async () => {
    const { fileName } = await backup();
    await enterLength(bench, scene, "row-2", "41", "61");
    const restoring = bench.call("backups.restore", restore(fileName));
    const asked = Array.from({ length: 20 }, () => rows());
    await restoring;
    for (const answer of await Promise.all(asked)) expect(answer[0]).toBe("row-1");
    expect(await rows()).toEqual(["row-1"]);
  });

  it("not when it is damaged, newer, foreign or gone: the bench goes on as it was", async () => {
    const { fileName } = await backup();
    const path = join(bench.paths.backupFolder, fileName);
    const whole = `${path}.whole`;
    copyFileSync(path, whole);
    const refused = async (words: string) => {
      const error = await bench.refusal("backups.restore", restore(fileName));
      expect(error).toMatchObject({ code: "backup.unusable", field: "fileName" });
      expect(error.message).toContain(words);
      expect(await rows()).toEqual(["row-1"]);
      expect(leftovers()).toEqual([]);
    };
    writeFileSync(path, "not a bench any more");
    await refused("not a database");
    copyFileSync(whole, path);
    withRawDatabase(path, (db) => db.pragma("user_version = 990"));
    await refused("newer version");
    writeFileSync(path, "");
    await bench.refusal("backups.restore", restore("../bench.sqlite"));
    rmSync(path);
    const error = await bench.refusal("backups.restore", restore(fileName));
    expect(error.code).toBe("backup.unknown");
    expect(await rows()).toEqual(["row-1"]);
  });
});

describe("a bench is handed over as one file", () => {
  it("and goes on elsewhere with its attached files, from the backups folder or as the bench itself", async () => {
    const attachment = await attach(bench, { kind: "certificate", id: scene.certificate.id }, PNG);
    const file = await bench.call("backups.handOver", {});
    expect(file?.fileName).toMatch(/^bench-.*-hand-over-\d{9}-[0-9a-f]{16}\.sqlite$/);
    for (const way of ["as the bench", "from the backups"] as const) {
      const elsewhere = tempFolder();
      const options = {
        paths: elsewhere.paths,
        clock: fixedClock("2026-03-09T08:00:00.000Z"),
        ids: countedIds("elsewhere"),
        host: "loopback",
        programVersion: "0",
      } as const;
      mkdirSync(elsewhere.paths.backupFolder);
      const backups = join(elsewhere.paths.backupFolder, file?.fileName ?? "");
      copyFileSync(file?.path ?? "", way === "as the bench" ? elsewhere.paths.databaseFile : backups);
      const program = await assemble(options);
      if (way === "from the backups") {
        const register = {
          requestId: "register-1",
          person: { name: "Bo", initials: "", interpupillaryMm: "" },
        };
        const person = await program.dispatch("people.register", register);
        const personId = person.ok ? (person.value as { id: string }).id : "";
        await program.dispatch("people.choose", { personId });
        expect(await program.dispatch("backups.restore", restore(file?.fileName ?? ""))).toMatchObject({
          ok: true,
          value: { restored: { attachments: 1, missingAttachments: 0 } },
        });
      }
      expect(await program.dispatch("trail.verify", {})).toMatchObject({
        ok: true,
        value: { attachments: 1, measurements: 1, differences: [] },
      });
      const read = await program.dispatch("attachments.read", { attachmentId: attachment.id, from: 0 });
      expect(read).toMatchObject({ ok: true, value: { base64: PNG.toString("base64"), next: null } });
      await program.close();
      elsewhere.remove();
    }
  });

  it("not without a file that is missing, which is named", async () => {
    const attachment = await attach(bench, { kind: "certificate", id: scene.certificate.id }, PNG);
    rmSync(join(bench.paths.dataFolder, "attachments", attachment.sha256));
    const error = await bench.refusal("backups.handOver", {});
    expect(error).toMatchObject({ code: "attachment.missing" });
    expect(error.message).toContain("scan.png");
    expect(existsSync(bench.paths.exportFolder)).toBe(false);
  });
});
