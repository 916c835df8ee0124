import { afterEach, beforeEach, expect, it } from "vitest";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../support/bench-scenes.ts";
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
