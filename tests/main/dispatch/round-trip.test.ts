import { afterAll, beforeAll, expect, it } from "vitest";
import { type CallName, calls } from "#core/contract/calls.ts";
import { buildScene, calibrateTrain, enter, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;
const inputs = new Map<CallName, unknown>();

beforeAll(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  const calibration = await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "40", "60");
  await enter(bench, scene, "row-2", { dimension: "width", edge: "left" }, "3,5");
  const sheetId = scene.sheet.id;
  const entries: [CallName, unknown][] = [
    ["bench.status", {}],
    ["bench.overview", {}],
    ["people.list", {}],
    ["microscopes.list", {}],
    ["micrometers.list", {}],
    ["calibrations.list", { trainId: null }],
    ["calibrations.get", { calibrationId: calibration.id }],
    ["methods.list", {}],
    ["methods.get", { methodId: scene.methodId }],
    ["sheets.list", {}],
    ["sheets.get", { sheetId }],
    ["rows.page", { sheetId, from: 1, count: 10 }],
    ["exports.workbook", { sheetId, kind: "live" }],
    ["trail.page", { before: null, count: 50 }],
    ["trail.verify", {}],
    ["backups.make", { requestId: "press-0001" }],
    ["backups.list", {}],
  ];
  for (const [name, input] of entries) inputs.set(name, input);
});
afterAll(() => bench.end());

const reads = (Object.keys(calls) as CallName[]).filter((name) => calls[name].kind === "read");

it.each(reads)("%s answers the same through JSON and through a structured clone", async (name) => {
  const reply = await bench.program.dispatch(name, inputs.get(name));
  expect(reply).toMatchObject({ ok: true });
  expect(JSON.parse(JSON.stringify(reply))).toEqual(reply);
  expect(structuredClone(reply)).toEqual(reply);
});
