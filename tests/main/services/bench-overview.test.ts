import { afterEach, beforeEach, expect, it } from "vitest";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene, { dueOn: "2027-03-01" });
});
afterEach(() => bench.end());

async function stateOn(day: string) {
  bench.clock.set(`${day}T12:00:00.000Z`);
  const overview = await bench.call("bench.overview", {});
  return overview.microscopes[0]?.trains[0];
}

it.each([
  ["2026-03-02", "ready", "Calibrated; the calibration is due on 2027-03-01."],
  ["2027-01-29", "ready", "Calibrated; the calibration is due on 2027-03-01."],
  ["2027-01-30", "due soon", "The calibration is due on 2027-03-01, in 30 days."],
  ["2027-02-28", "due soon", "The calibration is due on 2027-03-01, tomorrow."],
  ["2027-03-01", "due soon", "The calibration is due on 2027-03-01, today."],
  ["2027-03-02", "calibration overdue", "The calibration was due on 2027-03-01."],
  [
    "2030-06-02",
    "certificate overdue",
    "The certificate of its stage micrometer was due on 2030-06-01; the calibration itself was due on 2027-03-01.",
  ],
])("on %s the train is %s", async (day, state, why) => {
  expect(await stateOn(day)).toMatchObject({ state, why });
});

it("says of a train without a factor that it is not calibrated", async () => {
  const overview = await bench.call("bench.overview", {});
  expect(overview.microscopes[0]?.trains[1]).toMatchObject({ state: "not calibrated", inForce: null });
});

it("counts what there is", async () => {
  await enterLength(bench, scene, "row-1", "1", "20");
  await enterLength(bench, scene, "row-2", "1", "20");
  expect((await bench.call("bench.overview", {})).counts).toEqual({
    people: 1,
    stageMicrometers: 1,
    certificates: 1,
    methods: 1,
    sheets: 1,
    rows: 2,
  });
});

it("names program, host, version and person", async () => {
  expect(await bench.call("bench.status", {})).toMatchObject({
    program: { name: "Linefall", version: "0.0.0-test", host: "loopback" },
    databasePath: bench.paths.databaseFile,
    demo: false,
    personInUse: { id: scene.personId },
    notices: [],
  });
});
