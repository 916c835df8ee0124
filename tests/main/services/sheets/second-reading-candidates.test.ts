import { afterEach, beforeEach, expect, it } from "vitest";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  for (let n = 1; n <= 4; n += 1) await enterLength(bench, scene, `row-${n}`, "10", `${41.37 + n}`);
  const sheetId = scene.sheet.id;
  const cell = { dimension: "length", edge: "left" as const };
  await bench.call("rows.enter", {
    requestId: bench.request(),
    sheetId,
    rowId: "row-5",
    cell,
    typed: "17.37",
    label: "",
  });
  const strike = { requestId: bench.request(), sheetId, rowId: "row-2", reason: "broken" };
  await bench.call("rows.strike", strike);
});
afterEach(() => bench.end());

it("names rows that can be read again, each once, and the numbers that cannot; no reading is told", async () => {
  const input = { sheetId: scene.sheet.id, ordinals: [4, 1, 4, 2, 5, 99] };
  const answer = await bench.call("secondReadings.candidates", input);
  expect(answer.measured).toBe(3);
  expect(answer.rows.map((row) => [row.ordinal, row.rowId])).toEqual([
    [4, "row-4"],
    [1, "row-1"],
  ]);
  // Struck, half read, and not on the sheet.
  expect(answer.notThere).toEqual([2, 5, 99]);
  expect(JSON.stringify(answer)).not.toContain(".37");
  expect(JSON.stringify(answer)).not.toContain("div");
});

it("refuses a sheet that is not there", async () => {
  const refused = await bench.refusal("secondReadings.candidates", { sheetId: "nowhere", ordinals: [1] });
  expect(refused.code).toBe("sheet.unknown");
});
