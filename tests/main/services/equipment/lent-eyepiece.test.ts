import { afterEach, beforeEach, describe, expect, it } from "vitest";
import {
  buildScene,
  calibrateTrain,
  enter,
  enterLength,
  type Scene,
  trainOfPosition,
} from "../../../support/bench-scenes.ts";
import { handOf, openCount } from "../../../support/count-scene.ts";
import { tamper } from "../../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "10", "60");
  bench.clock.set("2026-03-03T09:00:00.000Z");
});
afterEach(() => bench.end());

const eyepieceId = () => scene.microscope.eyepieces[0]?.id ?? "";
const event = (change: object = {}) => ({
  requestId: bench.request(),
  event: {
    kind: "lent" as const,
    subject: { kind: "eyepiece" as const, id: eyepieceId() },
    happenedOn: "2026-03-03",
    words: "teaching laboratory, stand C",
    ...change,
  },
});
const lend = () => bench.call("events.record", event());
const bringBack = (change: object = {}) =>
  bench.call(
    "events.record",
    event({ kind: "brought back", happenedOn: "2026-03-05", words: "sealed, untouched", ...change }),
  );
const status = async () => {
  const { microscopes } = await bench.call("bench.overview", {});
  return microscopes[0]?.trains.find(({ train }) => train.id === trainOfPosition(scene, 1).id);
};
const due = async () =>
  (await bench.call("due.list", { withinDays: 3650 })).items.filter(
    ({ trainId }) => trainId === trainOfPosition(scene, 1).id,
  );
const check = () => ({
  requestId: bench.request(),
  check: {
    trainId: trainOfPosition(scene, 1).id,
    stageMicrometerId: scene.micrometer.id,
    certificateId: scene.certificate.id,
    settings: [{ reticleLeft: "0", reticleRight: "96.4", lineLeft: "0", lineRight: "100" }],
    temperature: "",
    remark: "",
  },
});
const statements = async () =>
  (await bench.call("reports.sheet", { sheetId: scene.sheet.id })).cautions.filter((line) =>
    line.includes("brought back"),
  );
const differences = async () => (await bench.call("trail.verify", {})).differences;

describe("an eyepiece that is lent", () => {
  it("takes its trains out of service with words on where it is; nothing falls due meanwhile", async () => {
    const recorded = await lend();
    expect(recorded).toMatchObject({ trainIds: scene.trains.map(({ id }) => id).sort(), openTrainIds: [] });
    expect(await status()).toMatchObject({
      state: "out of service",
      why: "Its eyepiece is lent since 2026-03-03: teaching laboratory, stand C.",
    });
    expect(await due()).toEqual([]);
    expect(await differences()).toEqual([]);
  });

  it("takes no new reading, count, calibration or check; what was read is still corrected", async () => {
    const count = await openCount(bench, scene);
    const hand = handOf(bench, count.id);
    await hand.press();
    await enter(bench, scene, "row-2", { dimension: "length", edge: "left", repeat: 1 }, "5");
    await lend();
    const gone = { code: "item.out-of-service" };
    const about = () => ({ requestId: bench.request(), sheetId: scene.sheet.id });
    const refused = await bench.refusal("rows.enter", {
      ...about(),
      rowId: "row-2",
      label: "",
      cell: { dimension: "length", edge: "right", repeat: 1 },
      typed: "55",
    });
    expect(refused).toMatchObject({ ...gone, field: "cell" });
    expect(refused?.message).toBe("That eyepiece is lent since 2026-03-03: teaching laboratory, stand C.");
    const { objectiveId } = trainOfPosition(scene, 1);
    const seen = { objectiveId, intermediateMagnification: "1", interpupillary: "" };
    expect(await bench.refusal("sheets.confirmTrain", { ...about(), ...seen })).toMatchObject(gone);
    expect(
      await bench.refusal("sheets.chooseObjective", {
        ...about(),
        objectiveId: trainOfPosition(scene, 2).objectiveId,
      }),
    ).toMatchObject({ ...gone, field: "eyepieceId" });
    expect(
      await bench.refusal("calibrations.begin", {
        requestId: bench.request(),
        calibration: {
          trainId: trainOfPosition(scene, 2).id,
          stageMicrometerId: scene.micrometer.id,
          certificateId: scene.certificate.id,
        },
      }),
    ).toMatchObject({ ...gone, field: "calibration.trainId" });
    expect(await bench.refusal("checks.record", check())).toMatchObject({ ...gone, field: "check.trainId" });
    expect(
      await bench.refusal("counts.newField", {
        countId: count.id,
        act: { kind: "field", requestId: bench.request(), waitedMs: 0, position: null },
      }),
    ).toMatchObject(gone);
    const amended = await enter(
      bench,
      scene,
      "row-1",
      { dimension: "length", edge: "right", repeat: 1 },
      "61",
    );
    expect(amended.measurements[0]?.size).not.toBeNull();
    expect(await differences()).toEqual([]);
  });

  it("asks for a check when it is brought back, and the check settles it", async () => {
    await lend();
    bench.clock.set("2026-03-05T09:00:00.000Z");
    const back = await bringBack();
    expect(back.openTrainIds).toHaveLength(scene.trains.length);
    expect(await status()).toMatchObject({
      state: "check before use",
      why: "Brought back on 2026-03-05 (sealed, untouched): check or calibrate it before use.",
    });
    expect((await due()).map(({ kind }) => kind)).toContain("event");
    expect((await enterLength(bench, scene, "row-3", "10", "60")).measurements[0]?.flags).toContain(
      "check-before-use",
    );
    await bench.call("checks.record", check());
    expect((await status())?.state).toBe("ready");
    expect((await enterLength(bench, scene, "row-4", "10", "60")).measurements[0]?.flags).not.toContain(
      "check-before-use",
    );
    expect(await statements()).toEqual([]);
    expect(await differences()).toEqual([]);
  });

  it("holds its factors where somebody states that nothing was changed; the report says who, until a check", async () => {
    await lend();
    bench.clock.set("2026-03-05T09:00:00.000Z");
    expect((await bringBack({ unchanged: true })).openTrainIds).toEqual([]);
    expect((await status())?.state).toBe("ready");
    // What was read before it left does not rest on the statement.
    expect(await statements()).toEqual([]);
    expect((await enterLength(bench, scene, "row-3", "10", "60")).measurements[0]?.flags).toEqual([]);
    expect(await statements()).toEqual([
      "The eyepiece was lent and brought back on 2026-03-05. Its factor was not checked since: Ada Example states that nothing was changed (“sealed, untouched”).",
    ]);
    const trend = await bench.call("trends.train", { trainId: trainOfPosition(scene, 1).id });
    expect(trend.events.map(({ words, breaks }) => [words, breaks])).toEqual([
      ["a loan of the eyepiece: teaching laboratory, stand C", false],
      ["a return of the eyepiece, nothing changed: sealed, untouched", false],
    ]);
    bench.clock.set("2026-03-06T09:00:00.000Z");
    await bench.call("checks.record", check());
    expect(await statements()).toEqual([]);
    expect(await differences()).toEqual([]);
  });

  it("leaves and comes back in turn, on days that have come and do not run backwards", async () => {
    const refusal = async (change: object) => {
      const { code, field, message } = (await bench.refusal("events.record", event(change))) ?? {};
      return [code, field, message];
    };
    const back = { kind: "brought back", happenedOn: "2026-03-03" };
    const stand = { kind: "microscope", id: scene.microscope.id };
    expect(await refusal(back)).toEqual(["input.invalid", "event.kind", "cannot be: it is not lent"]);
    expect(await refusal({ subject: stand })).toEqual([
      "input.invalid",
      "event.subject",
      "must be an eyepiece",
    ]);
    expect((await refusal({ unchanged: true }))[1]).toBe("event.unchanged");
    expect((await refusal({ happenedOn: "2026-03-04" }))[2]).toBe("lies in the future");
    await lend();
    expect(await refusal({})).toEqual([
      "input.invalid",
      "event.kind",
      "cannot be: it is lent since 2026-03-03: teaching laboratory, stand C.",
    ]);
    expect(await refusal({ ...back, happenedOn: "2026-03-02" })).toEqual([
      "input.invalid",
      "event.happenedOn",
      "lies before it was lent, 2026-03-03",
    ]);
    bench.clock.set("2026-03-05T09:00:00.000Z");
    await bringBack();
    expect((await refusal({ happenedOn: "2026-03-04" }))[2]).toBe(
      "lies before it was brought back, 2026-03-05",
    );
    await bench.call("events.record", event({ happenedOn: "2026-03-05" }));
    expect((await status())?.state).toBe("out of service");
  });

  it("is not spoken of as unchanged without the trail", async () => {
    await lend();
    bench.clock.set("2026-03-05T09:00:00.000Z");
    await bringBack();
    tamper(bench.paths.databaseFile, "UPDATE equipment_event SET unchanged = 1 WHERE kind = 'brought back'");
    expect(JSON.stringify(await differences())).toContain("event of 2026-03-05, brought back");
  });
});
