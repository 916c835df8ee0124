import { mkdtempSync, rmSync, statSync, truncateSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { assemble } from "#main/assemble.ts";
import { benchPaths } from "#main/ports/data-folder.ts";
import { buildScene, calibrateTrain, type Scene } from "../support/bench-scenes.ts";
import { countedIds, fixedClock } from "../support/fixed-clock.ts";
import { answers, asRoot } from "../support/outside-programs.ts";
import { type TempBench, tempBench } from "../support/temp-bench.ts";

const SIZE_MB = 6;
/** Bytes: enough for a few readings, so that the disk fills in the middle of the entry. */
const ROOM_FOR_SOME = 400_000;
const folder = mkdtempSync(join(tmpdir(), "linefall-small-disk-"));
const before = process.platform === "linux" ? asRoot() : null;
const mounted =
  before !== null &&
  answers("env", [...before, "mount", "-t", "tmpfs", "-o", `size=${SIZE_MB}m`, "tmpfs", folder]);
if (!mounted) console.log("The full-disk tests are left out: this user may not mount a small disk.");

afterAll(() => {
  if (mounted) answers("env", [...before, "umount", "-l", folder]);
  rmSync(folder, { recursive: true, force: true });
});

/** Takes all room that is left. */
function fillUp(name: string): string {
  const file = join(folder, name);
  for (const bytes of [65_536, 4096, 1]) {
    try {
      for (;;) writeFileSync(file, Buffer.alloc(bytes), { flag: "a" });
    } catch {
      // Full for pieces of this size.
    }
  }
  return file;
}

describe.skipIf(!mounted)("when the disk is full", () => {
  let bench: TempBench;
  let scene: Scene;
  beforeAll(async () => {
    const paths = benchPaths(join(folder, "bench"));
    bench = await tempBench({ paths });
    scene = await buildScene(bench);
    await calibrateTrain(bench, scene);
  });

  const entry = (number: number) => ({
    requestId: `press-${String(number).padStart(6, "0")}`,
    sheetId: scene.sheet.id,
    rowId: `row-${number}`,
    cell: { dimension: "length", edge: "left" as const },
    typed: `${number % 90}.5`,
    label: "",
  });

  it("an entry is refused in words, keeps what was acknowledged, and goes through once there is room", async () => {
    const ballast = fillUp("ballast");
    truncateSync(ballast, statSync(ballast).size - ROOM_FOR_SOME);
    let number = 0;
    let reply: Awaited<ReturnType<typeof bench.program.dispatch>>;
    do {
      number += 1;
      reply = await bench.program.dispatch("rows.enter", entry(number));
    } while (reply.ok && number < 20_000);
    expect(number).toBeGreaterThan(3);
    expect(reply).toMatchObject({ ok: false, error: { code: "bench.unwritable" } });
    expect(JSON.stringify(reply)).toContain("no room left on the disk");
    expect(await bench.refusal("backups.make", { requestId: "backup-001" })).toMatchObject({
      code: "file.unwritable",
    });
    const total = async () =>
      (await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 1 })).total;
    expect(await total()).toBe(number - 1);

    rmSync(ballast);
    const row = await bench.call("rows.enter", entry(number));
    expect(row).toMatchObject({ ordinal: number });
    expect(await total()).toBe(number);
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  });

  it("the bench closes without harm and says at the next start what is missing", async () => {
    const before = await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 5000 });
    const ballast = fillUp("ballast");
    await bench.program.close();
    // Closing folded the write-ahead log back and so made room.
    const rest = fillUp("rest");
    const paths = benchPaths(join(folder, "bench"));
    const options = {
      paths,
      clock: fixedClock("2026-04-01T09:00:00.000Z"),
      ids: countedIds("later"),
      host: "loopback",
      programVersion: "0",
    } as const;
    await expect(assemble(options)).rejects.toMatchObject({ code: "bench.disk-full" });
    rmSync(ballast);
    rmSync(rest);
    const program = await assemble(options);
    const page = { sheetId: scene.sheet.id, from: 1, count: 5000 };
    expect(await program.dispatch("rows.page", page)).toEqual({ ok: true, value: before });
    await program.close();
  });
});
