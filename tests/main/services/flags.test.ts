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

async function flagsOf(left: string, right: string): Promise<readonly string[] | undefined> {
  return (await enterLength(bench, scene, bench.request(), left, right)).measurements[0]?.flags;
}

it("flags a reading off the scale and too few divisions, and stores the size all the same", async () => {
  expect(await flagsOf("95", "104")).toEqual(["off-scale", "few-divisions"]);
});

it("marks an overdue calibration and an overdue certificate on the row and never blocks", async () => {
  bench.clock.set("2027-03-01T12:00:00.000Z");
  expect(await flagsOf("10", "60")).toEqual([]);
  bench.clock.set("2027-03-02T12:00:00.000Z");
  expect(await flagsOf("10", "60")).toEqual(["calibration-overdue"]);
  bench.clock.set("2031-01-01T12:00:00.000Z");
  const row = await enterLength(bench, scene, "late", "10", "60");
  expect(row.measurements[0]?.flags).toEqual(["calibration-overdue", "certificate-overdue"]);
  expect(row.measurements[0]?.size?.shownValue).toBe("518.7");
});

it("marks that another person calibrated a train whose head is not compensated", async () => {
  const other = await bench.call("people.register", {
    requestId: bench.request(),
    person: { name: "Bo Example", initials: "", interpupillaryMm: "" },
  });
  await bench.call("people.choose", { personId: other.id });
  expect(await flagsOf("10", "60")).toEqual(["person-differs"]);
});
