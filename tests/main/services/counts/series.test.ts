import { afterEach, beforeEach, expect, it } from "vitest";
import { EGGS_MCMASTER, HAEMOCYTOMETER } from "#core/counting/methods/ready-bench-methods.ts";
import { buildScene, type Scene } from "../../../support/bench-scenes.ts";
import { handOf, openCount } from "../../../support/count-scene.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

async function counted(objects: readonly string[], definition = HAEMOCYTOMETER): Promise<string> {
  const { id: countId, categories } = await openCount(bench, scene, {
    definition,
    inputs: { dilution: "1" },
    withTrain: false,
  });
  const hand = handOf(bench, countId);
  for (const weight of objects) {
    await hand.press(categories[0]?.key, weight);
    await hand.field();
  }
  await bench.call("counts.close", { requestId: bench.request(), countId, lastFieldCounted: false });
  return countId;
}

it("holds the closed counts of the same sample by the same method, of any version, oldest first", async () => {
  const first = await counted(["4", "5"]);
  const clustered = await counted(["40", "1", "1", "30"]);
  await counted(["3"], { ...EGGS_MCMASTER });
  const [method] = (await bench.call("countMethods.list", {})).filter(
    ({ definition }) => definition.name === HAEMOCYTOMETER.name,
  );
  await bench.call("countMethods.define", {
    requestId: bench.request(),
    familyId: method?.familyId ?? "",
    definition: { ...HAEMOCYTOMETER, note: "the next version" },
  });
  const third = await counted(["6", "3", "5"]);
  const { id: open } = await openCount(bench, scene, { definition: HAEMOCYTOMETER, withTrain: false });
  for (const countId of [first, third, open]) {
    const series = await bench.call("counts.sameSample", { countId });
    expect(series.map(({ id, total, fields, isClustered }) => [id, total, fields, isClustered])).toEqual([
      [first, "9", 2, false],
      [clustered, "72", 4, true],
      [third, "14", 3, false],
    ]);
  }
  await bench.call("counts.reopen", {
    requestId: bench.request(),
    countId: first,
    reason: "one more square",
  });
  expect(await bench.call("counts.sameSample", { countId: third })).toHaveLength(2);
});
