import { statSync } from "node:fs";
import { afterEach, beforeEach, expect, it } from "vitest";
import { openBench } from "#main/store/bench-file/open.ts";
import { immediate, type ReadableDb } from "#main/store/connection.ts";
import { insert, sql } from "#main/store/sql.ts";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { tamper } from "../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

const WORK = "verifying-1";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "40", "60");
});
afterEach(() => bench.end());

it("says how far it is, stops when asked, and then tells nothing as if it were the whole", async () => {
  const verifying = bench.program.dispatch("trail.verify", { requestId: WORK });
  const progress = await bench.call("work.progress", { requestId: WORK });
  expect(progress).toMatchObject({ part: "audit trail", done: 0 });
  expect(progress?.parts).toBeGreaterThan(10);
  await bench.call("work.stop", { requestId: WORK });
  expect(await verifying).toMatchObject({ ok: false, error: { code: "work.stopped" } });
  expect(await bench.call("work.progress", { requestId: WORK })).toBeNull();
});

it("goes through as many parts as it says", async () => {
  const parts = new Set<string>();
  let most = 0;
  const verifying = bench.program.dispatch("trail.verify", { requestId: WORK });
  let isDone = false;
  void verifying.finally(() => {
    isDone = true;
  });
  while (!isDone) {
    const now = await bench.call("work.progress", { requestId: WORK });
    if (now) {
      parts.add(now.part);
      most = Math.max(most, now.done);
      expect(now.done).toBeLessThan(now.parts);
    }
    await new Promise((resolve) => setImmediate(resolve));
  }
  expect(await verifying).toMatchObject({ ok: true, value: { differences: [] } });
  expect(parts.size).toBeGreaterThan(1);
});

it("stopping when nothing is under way does nothing", async () => {
  expect(await bench.call("work.stop", { requestId: WORK })).toEqual({});
});

/** A verify that reads a sheet never ends while rows come faster than it reads them, as no hand enters them. */
const MOST_ROWS = 600;

it("sees no difference in what is entered meanwhile, and lets the -wal file be folded back", async () => {
  for (let sheet = 2; sheet <= 4; sheet += 1) {
    await bench.call("sheets.open", {
      requestId: bench.request(),
      sheet: {
        sample: `Sample ${sheet}`,
        customer: "",
        note: "",
        methodId: scene.methodId,
        microscopeId: scene.microscope.id,
        eyepieceId: scene.microscope.eyepieces[0]?.id ?? "",
        intermediateMagnification: scene.sheet.intermediateMagnification,
        objectiveId: scene.microscope.objectives[0]?.id ?? "",
      },
    });
  }
  const wal = (): number => statSync(`${bench.paths.databaseFile}-wal`).size;
  let isDone = false;
  const verifying = bench.call("trail.verify", {}).finally(() => {
    isDone = true;
  });
  let row = 0;
  // Enough acts to pass the limit below were the -wal file not folded back.
  while (row < MOST_ROWS && (!isDone || row < 40)) {
    row += 1;
    await enterLength(bench, scene, `beside-${row}`, "40", "60.5");
    // A turn of the loop, as between two acts of a hand: verify goes on.
    await new Promise(setImmediate);
  }
  expect((await verifying).differences).toEqual([]);
  // SQLite folds back at 1,000 pages of 4 KiB; a reader that keeps one view would make the file grow with every act.
  expect(wal()).toBeLessThan(8 * 2 ** 20);
});

it("a snapshot that is renewed sees what was written since", async () => {
  await bench.program.close();
  const open = await openBench({ paths: bench.paths, clock: bench.clock, host: "test" });
  const lines = (db: ReadableDb): number => sql`SELECT count(*) FROM bench_setting`.number(db);
  const snapshot = open.snapshot();
  try {
    const before = lines(snapshot.db);
    immediate(open.db, (db) => insert(db, "bench_setting", { key: "a test", value: "1" }));
    expect(lines(snapshot.db)).toBe(before);
    snapshot.renew();
    expect(lines(snapshot.db)).toBe(before + 1);
  } finally {
    snapshot.close();
    open.close();
    await bench.reopen();
  }
});

it("goes on from the line that an earlier run followed the trail to, and looks at everything else", async () => {
  const first = await bench.call("trail.verify", {});
  expect(first).toMatchObject({ wentOnFrom: null, differences: [] });
  expect(first.followedTo).toBe(await bench.call("trail.head", {}));
  await enterLength(bench, scene, "row-2", "40", "60");
  const from = first.followedTo ?? undefined;
  const next = await bench.call("trail.verify", { from });
  expect(next).toMatchObject({ wentOnFrom: first.trailLines, differences: [], measurements: 2 });
  expect(next.trailLines).toBe(2);
  expect(next.followedTo).toBe(await bench.call("trail.head", {}));
});

it("a record changed before that line is named all the same, a line before it is not", async () => {
  const { followedTo } = await bench.call("trail.verify", {});
  const { paths } = bench;
  await bench.program.close();
  tamper(paths.databaseFile, "UPDATE measurement SET size_shown = '203.0'");
  tamper(paths.databaseFile, "UPDATE audit_line SET reason = 'another' WHERE sequence = 3");
  await bench.reopen();
  const { differences } = await bench.call("trail.verify", { from: followedTo ?? undefined });
  expect(differences.map(({ where }) => where)).toEqual(["sheet S-0001, row 1, length, size, shownValue"]);
  const whole = await bench.call("trail.verify", {});
  expect(whole.differences.map(({ where }) => where)).toContainEqual(
    expect.stringMatching(/^trail line 3, /),
  );
  expect(whole.followedTo).toBeNull();
});

it("a line that has another hash by now is named, and the trail is followed from its first line", async () => {
  const { trailLines, followedTo } = await bench.call("trail.verify", {});
  const other = `${trailLines}:${"0".repeat(64)}`;
  const report = await bench.call("trail.verify", { from: other });
  expect(report).toMatchObject({ wentOnFrom: null, trailLines, followedTo });
  expect(report.differences).toEqual([
    {
      where: `trail line ${trailLines}, as an earlier run followed it`,
      stored: followedTo?.split(":")[1],
      expected: "0".repeat(64),
    },
  ]);
});

it("knows how far a run came that was stopped", async () => {
  expect(await bench.call("trail.followedTo", {})).toBeNull();
  const verifying = bench.program.dispatch("trail.verify", { requestId: WORK });
  while ((await bench.call("trail.followedTo", {})) === null)
    await new Promise((resolve) => setImmediate(resolve));
  await bench.call("work.stop", { requestId: WORK });
  await verifying;
  expect(await bench.call("trail.followedTo", {})).toBe(await bench.call("trail.head", {}));
});
