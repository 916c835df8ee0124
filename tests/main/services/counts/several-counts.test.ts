import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { storedAct } from "#core/contract/stored-names.ts";
import { buildScene, calibrateTrain, type Scene } from "../../../support/bench-scenes.ts";
import { handOf, newCount } from "../../../support/count-scene.ts";
import { tamper } from "../../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
});
afterEach(() => bench.end());

async function input(samples: readonly string[]) {
  const { sample: _, ...count } = await newCount(bench, scene);
  return { requestId: bench.request(), count, samples: [...samples] };
}

const FORTY = Array.from({ length: 40 }, (_, at) => `Mere ${at + 1}`);
const differences = async () => (await bench.call("trail.verify", {})).differences;
const resume = (countId: string) => bench.call("counts.resume", { requestId: bench.request(), countId });

describe("counts of several samples", () => {
  it("wait in their order with their clocks standing, told to the trail one by one and known to verify", async () => {
    const asked = await input(FORTY);
    const opened = await bench.call("counts.openMany", asked);
    expect(opened.map(({ sample }) => sample)).toEqual(FORTY);
    expect(opened.map(({ number }) => number)).toEqual(
      FORTY.map((_, at) => `T-${String(at + 1).padStart(4, "0")}`),
    );
    expect(opened.every((one) => one.state === "paused" && one.runningSince === null)).toBe(true);
    expect(await bench.call("counts.openMany", asked), "a repeated request").toEqual(opened);
    expect(await bench.call("counts.list", {})).toHaveLength(40);
    const lines = await bench.call("trail.page", { before: null, count: 40 });
    expect(lines.every(({ act }) => act === storedAct("counts.open"))).toBe(true);
    expect(await differences()).toEqual([]);
  });

  it("take the factor and the time of the day on which each is begun", async () => {
    const [first, second] = await bench.call("counts.openMany", await input(["Mere 1", "Mere 2"]));
    if (!first || !second) throw new Error("two counts were asked for");
    bench.clock.set("2026-04-02T09:00:00.000Z");
    const newer = await calibrateTrain(bench, scene);
    bench.clock.set("2026-04-03T09:00:00.000Z");
    const begun = await resume(second.id);
    expect(second.calibrationId).not.toBe(newer.id);
    expect(begun).toMatchObject({ calibrationId: newer.id, secondsBefore: 0, state: "counting" });
    const state = await bench.call("counts.state", { countId: second.id });
    expect(state.fields[0]?.begunAt).toMatch(/^2026-04-03T09:00:00/);
    await handOf(bench, second.id).press();
    bench.clock.set("2026-04-03T09:02:00.500Z");
    await bench.call("counts.pause", { requestId: bench.request(), countId: second.id });
    expect((await bench.call("counts.get", { countId: second.id })).secondsBefore).toBe(120);
    const newest = await calibrateTrain(bench, scene);
    expect((await resume(second.id)).calibrationId, "what is begun keeps its factor").toBe(newer.id);
    expect((await resume(first.id)).calibrationId).toBe(newest.id);
    expect(await differences()).toEqual([]);
    tamper(bench.paths.databaseFile, `UPDATE tally_field SET begun_at = '2026-04-01T09:00:00.000Z'`);
    expect(JSON.stringify(await differences())).toContain("field 1, begun");
  });

  it("forget a caution that no longer holds when they are begun", async () => {
    bench.clock.set("2029-01-10T09:00:00.000Z");
    const [waiting] = await bench.call("counts.openMany", await input(["Mere 1"]));
    expect(waiting?.trainCautions.join()).toMatch(/^Used on 2029-01-10 all the same/);
    bench.clock.set("2029-01-12T09:00:00.000Z");
    const { trainCautions } = await resume(waiting?.id ?? "");
    expect(trainCautions).toHaveLength(1);
    expect(trainCautions.join()).toMatch(/^Used on 2029-01-12 all the same/);
    expect(await differences()).toEqual([]);
  });

  it("are opened all or not at all, under names of their own", async () => {
    const asked = await input(["A", "B"]);
    const refused = await bench.refusal("counts.openMany", {
      ...asked,
      count: { ...asked.count, countMethodId: "none" },
    });
    expect(refused.code).toBe("countMethod.unknown");
    expect(await bench.call("counts.list", {})).toHaveLength(0);
    expect(await bench.refusal("counts.openMany", await input(["A", "B", "A"]))).toMatchObject({
      field: "samples",
      message: expect.stringContaining("“A” twice, as 1 and 3"),
    });
  });
});
