import { existsSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { CallInput, CallName } from "#core/contract/calls.ts";
import type { WorkProgress } from "#core/contract/records/work.ts";
import type { CopyOrder } from "#main/ports/copy-work.ts";
import { makeBackup } from "#main/store/bench-file/backup.ts";
import { doCopyWork } from "#main/store/bench-file/copy-work-here.ts";
import { openReadOnly } from "#main/store/bench-file/read-only.ts";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { workbookOf } from "../../support/finished-export.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { exportJson } from "../exchange/exported.ts";
import { uploadBytes, uploadFile } from "../exchange/upload.ts";

const WORK = "long-work-1";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  for (let row = 1; row <= 40; row += 1)
    await enterLength(bench, scene, `row-${row}`, "10.0", `${30 + row}.5`);
});
afterEach(() => bench.end());

const nextTurn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/** Makes a call and looks at it while it goes on; stops it once its progress is as wanted. */
async function followed<N extends CallName>(
  name: N,
  input: CallInput<N>,
  stopAt: (progress: WorkProgress) => boolean = () => false,
) {
  const reply = bench.program.dispatch(name, input);
  let isDone = false;
  void reply.finally(() => {
    isDone = true;
  });
  const seen: WorkProgress[] = [];
  while (!isDone) {
    const now = await bench.call("work.progress", { requestId: WORK });
    if (now) {
      seen.push(now);
      if (stopAt(now)) await bench.call("work.stop", { requestId: WORK });
    }
    await nextTurn();
  }
  expect(await bench.call("work.progress", { requestId: WORK })).toBeNull();
  for (const { done, parts } of seen) expect(done).toBeLessThanOrEqual(Math.max(parts, 0));
  return { reply: await reply, parts: new Set(seen.map(({ part }) => part)) };
}

describe("making a backup", () => {
  it("says how far it is, and gives the copy", async () => {
    const { reply, parts } = await followed("backups.make", { requestId: WORK });
    expect(reply.ok).toBe(true);
    expect([...parts]).toContain("copying");
  });

  it("stops while it copies: no copy is kept, and the next request makes one", async () => {
    const { reply } = await followed("backups.make", { requestId: WORK }, ({ part }) => part === "copying");
    expect(reply).toMatchObject({ ok: false, error: { code: "work.stopped" } });
    expect(readdirSync(bench.paths.backupFolder)).toEqual([]);
    const { fileName } = await bench.call("backups.make", { requestId: WORK });
    expect(readdirSync(bench.paths.backupFolder)).toEqual([fileName]);
  });

  it("stops at once while the copy is checked; what the check still reads goes when that ends", async () => {
    const { db, close } = openReadOnly(bench.paths.databaseFile);
    const stop = new AbortController();
    const folder = join(bench.paths.dataFolder, "elsewhere");
    const checking = Promise.withResolvers<readonly string[]>();
    const begun = Promise.withResolvers<void>();
    const check = (order: CopyOrder): Promise<readonly string[]> => {
      if (order.kind === "copy") return doCopyWork(order);
      begun.resolve();
      return checking.promise;
    };
    const following = { signal: stop.signal, tell: () => undefined };
    const made = makeBackup(db, folder, "2026-04-01T08:00:00.000Z", "on request", check, following);
    await begun.promise;
    stop.abort(new Error("stopped by hand"));
    await expect(made).rejects.toThrow("stopped by hand");
    checking.resolve([]);
    await nextTurn();
    expect(readdirSync(folder)).toEqual([]);
    close();
  });
});

describe("looking inside a backup", () => {
  it("says how far it is, and stops: the copy it tried is gone", async () => {
    const { fileName } = await bench.call("backups.make", { requestId: bench.request() });
    const whole = await followed("backups.check", { fileName, requestId: WORK });
    expect(whole.reply).toMatchObject({ ok: true, value: { sheets: 1, rows: 40 } });
    const { reply } = await followed("backups.check", { fileName, requestId: WORK }, () => true);
    expect(reply).toMatchObject({ ok: false, error: { code: "work.stopped" } });
    expect(readdirSync(bench.paths.dataFolder).filter((name) => name.startsWith("checking-"))).toEqual([]);
    expect(existsSync(join(bench.paths.backupFolder, fileName))).toBe(true);
  });
});

describe("checking a file that came back", () => {
  it("of a workbook says how far it is, and stops", async () => {
    const { path } = (await workbookOf(bench, scene.sheet.id)) ?? { path: "" };
    const uploadId = await uploadFile(bench, path);
    const whole = await followed("exchange.check", { uploadId, requestId: WORK });
    expect(whole.reply).toMatchObject({ ok: true, value: { verdict: "unchanged" } });
    expect([...whole.parts].some((part) => part.startsWith("comparing "))).toBe(true);
    const { reply } = await followed("exchange.check", { uploadId, requestId: WORK }, ({ part }) =>
      part.startsWith("comparing "),
    );
    expect(reply).toMatchObject({ ok: false, error: { code: "work.stopped" } });
    expect((await bench.call("exchange.check", { uploadId })).verdict).toBe("unchanged");
  });

  it("of a JSON file answers as before when nobody stops it", async () => {
    const text = await exportJson(bench, [scene.sheet.id]);
    const uploadId = await uploadBytes(bench, "sheets.json", Buffer.from(text));
    const { reply } = await followed("exchange.check", { uploadId, requestId: WORK });
    expect(reply).toMatchObject({ ok: true, value: { verdict: "unchanged" } });
  });
});

it("a stop that overtakes its call stops that call, and no later one", async () => {
  expect(await bench.call("work.stop", { requestId: WORK })).toEqual({});
  expect((await bench.refusal("backups.make", { requestId: WORK })).code).toBe("work.stopped");
  expect((await bench.call("backups.make", { requestId: WORK })).why).toBe("on request");
});
