import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { CALIBRATION_STATES } from "#core/contract/records/calibration.ts";
import { buildScene, calibrateTrain, type Scene } from "../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

describe("calibrations in short", () => {
  let bench: TempBench;
  let scene: Scene;
  beforeEach(async () => {
    bench = await tempBench();
    scene = await buildScene(bench);
    for (const day of ["2026-01-10", "2026-02-10", "2026-03-10"]) {
      bench.clock.set(`${day}T09:00:00.000Z`);
      await calibrateTrain(bench, scene, { dueOn: "2030-01-01" });
    }
    bench.clock.set("2026-04-10T09:00:00.000Z");
    await bench.call("calibrations.begin", {
      requestId: bench.request(),
      calibration: {
        trainId: scene.trains[0]?.id ?? "",
        stageMicrometerId: scene.micrometer.id,
        certificateId: scene.certificate.id,
      },
    });
  });
  afterEach(() => bench.end());

  const page = (from: number, count: number) =>
    bench.call("calibrations.summaries", { state: null, from, count });

  it("say the same as the whole records, in their order", async () => {
    const whole = await bench.call("calibrations.list", { trainId: null });
    const { total, calibrations } = await page(0, 100);
    expect(total).toBe(4);
    expect(calibrations).toEqual(
      whole.map((one) => ({
        id: one.id,
        trainId: one.trainId,
        stageMicrometerId: one.stageMicrometerId,
        certificateId: one.certificateId,
        state: one.state,
        startedAt: one.startedAt,
        dueOn: one.dueOn,
        inForceAt: one.inForceAt,
        settings: one.settings.length,
        shownFactor: one.result?.shownFactor ?? null,
        shownUncertainty: one.result?.shownUncertainty ?? null,
      })),
    );
    expect(calibrations[0]).toMatchObject({ state: "draft", settings: 0, shownFactor: null });
    expect(JSON.stringify(calibrations).length * 5).toBeLessThan(JSON.stringify(whole).length);
  });

  it("come by the page, each once, and beyond the last none", async () => {
    const all = (await page(0, 100)).calibrations.map(({ id }) => id);
    const pages = await Promise.all([page(0, 2), page(2, 2), page(4, 2)]);
    expect(pages.map(({ total }) => total)).toEqual([4, 4, 4]);
    expect(pages.map(({ calibrations }) => calibrations.map(({ id }) => id))).toEqual([
      all.slice(0, 2),
      all.slice(2),
      [],
    ]);
  });

  it("come of one state, counted by it", async () => {
    const whole = await bench.call("calibrations.list", { trainId: null });
    for (const state of CALIBRATION_STATES) {
      const found = await bench.call("calibrations.summaries", { state, from: 0, count: 100 });
      const wanted = whole.filter((one) => one.state === state).map(({ id }) => id);
      expect(found.calibrations.map(({ id }) => id)).toEqual(wanted);
      expect(found.total).toBe(wanted.length);
    }
  });

  it.each([
    [{ state: null, from: -1, count: 1 }, "from"],
    [{ state: null, from: 0, count: 0 }, "count"],
    [{ state: "ended", from: 0, count: 1 }, "state"],
  ])("asked for as %j are refused at %s", async (input, field) => {
    expect(await bench.refusal("calibrations.summaries", input)).toMatchObject({
      code: "input.invalid",
      field,
    });
  });
});
