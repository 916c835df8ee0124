import { afterEach, beforeEach, expect, it } from "vitest";
import { buildScene, calibrateTrain, newMicroscope, type Scene } from "../../support/bench-scenes.ts";
import { dumpOf } from "../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

const entry = (requestId: string, typed: string) => ({
  requestId,
  sheetId: scene.sheet.id,
  rowId: "row-1",
  cell: { dimension: "length", edge: "left" as const },
  typed,
  label: "",
});

it("answers a repeated reading the same and acts once, also after the program was started anew", async () => {
  const first = await bench.call("rows.enter", entry("press-0001", "40"));
  const before = dumpOf(bench.paths.databaseFile);
  expect(await bench.call("rows.enter", entry("press-0001", "40"))).toEqual(first);
  await bench.reopen();
  expect(await bench.call("rows.enter", entry("press-0001", "40"))).toEqual(first);
  expect(dumpOf(bench.paths.databaseFile)).toBe(before);
});

it("answers a repeated strike although the row is struck by now", async () => {
  await bench.call("rows.enter", entry("press-0001", "40"));
  const strike = { requestId: "press-0002", sheetId: scene.sheet.id, rowId: "row-1", reason: "dirt" };
  const struck = await bench.call("rows.strike", strike);
  expect(await bench.call("rows.strike", strike)).toEqual(struck);
});

it("does not take another reading under a used request for a repetition", async () => {
  await bench.call("rows.enter", entry("press-0001", "40"));
  expect(await bench.refusal("rows.enter", entry("press-0001", "41"))).toMatchObject({
    code: "input.invalid",
    field: "requestId",
  });
});

it("registers, opens, calibrates once however often it is asked", async () => {
  const microscope = { requestId: "press-0003", microscope: newMicroscope("Stand B") };
  const one = await bench.call("microscopes.register", microscope);
  expect(await bench.call("microscopes.register", microscope)).toEqual(one);
  expect(await bench.call("microscopes.list", {})).toHaveLength(2);
  const calibration = await calibrateTrain(bench, scene);
  const again = {
    requestId: bench.request(),
    calibration: {
      trainId: calibration.trainId,
      stageMicrometerId: scene.micrometer.id,
      certificateId: scene.certificate.id,
    },
  };
  const draft = await bench.call("calibrations.begin", again);
  expect(await bench.call("calibrations.begin", again)).toEqual(draft);
});

it("can be tried again under the same request after it was refused", async () => {
  await bench.refusal("rows.enter", entry("press-0004", "4o"));
  expect((await bench.call("rows.enter", entry("press-0004", "40"))).measurements[0]?.left).toBe("40");
});

it("forgets requests after a month", async () => {
  await bench.call("rows.enter", entry("press-0001", "40"));
  bench.clock.set("2026-05-01T09:00:00.000Z");
  await bench.reopen();
  expect(dumpOf(bench.paths.databaseFile)).not.toContain("press-0001");
});
