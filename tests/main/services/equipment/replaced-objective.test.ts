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
import { countedIds } from "../../../support/fixed-clock.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";
import { exportJson } from "../../exchange/exported.ts";
import { uploadBytes } from "../../exchange/upload.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "10", "60");
});
afterEach(() => bench.end());

const NEW_ONE = { magnification: "10", numericalAperture: "0.3", immersion: "dry", serial: "88-2" } as const;
const replacement = (change: object = {}) => ({
  requestId: bench.request(),
  microscopeId: scene.microscope.id,
  objectiveId: trainOfPosition(scene, 1).objectiveId,
  on: "2026-03-02",
  reason: "front lens scratched",
  objective: NEW_ONE,
  ...change,
});
const replace = async () => {
  const stand = await bench.call("microscopes.replaceObjective", replacement());
  const next = stand.objectives.find((one) => one.serial === "88-2");
  if (!next) throw new Error("the new objective is not there");
  return { stand, next };
};
const statusOf = async (objectiveId: string) => {
  const { microscopes } = await bench.call("bench.overview", {});
  return microscopes[0]?.trains.filter(({ train }) => train.objectiveId === objectiveId);
};
const differences = async () => (await bench.call("trail.verify", {})).differences;

describe("an objective that is replaced", () => {
  it("leaves its position to the new one, which has a train of its own and no factor", async () => {
    const { stand, next } = await replace();
    expect(stand.objectives.map(({ position, replaced }) => [position, replaced])).toEqual([
      [1, { on: "2026-03-02", by: next.id }],
      [1, undefined],
      [2, undefined],
    ]);
    expect(await statusOf(next.id)).toMatchObject([{ state: "not calibrated", inForce: null }]);
    const [old] = (await statusOf(trainOfPosition(scene, 1).objectiveId)) ?? [];
    expect(old?.state).toBe("out of service");
    expect(old?.why).toBe(
      "The 10×/0.25 left turret position 1 on 2026-03-02: the 10×/0.3, no. 88-2, took its place.",
    );
    expect(await differences()).toEqual([]);
  });

  it("takes no new reading, in a row begun before neither; what was read is still corrected", async () => {
    await enter(bench, scene, "row-2", { dimension: "length", edge: "left", repeat: 1 }, "5");
    await replace();
    for (const [rowId, edge] of [
      ["row-2", "right"],
      ["row-3", "left"],
    ] as const) {
      const refusal = await bench.refusal("rows.enter", {
        requestId: bench.request(),
        sheetId: scene.sheet.id,
        rowId,
        label: "",
        cell: { dimension: "length", edge, repeat: 1 },
        typed: "55",
      });
      expect(refusal).toMatchObject({ code: "item.out-of-service", field: "cell" });
      expect(refusal?.message).toContain("left turret position 1");
    }
    const before = (await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 1 })).rows[0];
    const after = await enter(bench, scene, "row-1", { dimension: "length", edge: "right", repeat: 1 }, "61");
    expect(after.measurements[0]?.calibrationId).toBe(before?.measurements[0]?.calibrationId);
    expect(Number(after.measurements[0]?.size?.value)).toBeGreaterThan(
      Number(before?.measurements[0]?.size?.value),
    );
    expect(await differences()).toEqual([]);
  });

  it("is chosen, confirmed, calibrated, pasted to and counted with no more; the new one is chosen", async () => {
    const count = await openCount(bench, scene);
    const hand = handOf(bench, count.id);
    await hand.press();
    const { next } = await replace();
    const old = trainOfPosition(scene, 1);
    const about = () => ({ requestId: bench.request(), sheetId: scene.sheet.id });
    const gone = { code: "item.out-of-service" };
    const seen = { objectiveId: old.objectiveId, intermediateMagnification: "1", interpupillary: "" };
    expect(await bench.refusal("sheets.confirmTrain", { ...about(), ...seen } as never)).toMatchObject(gone);
    const calibration = {
      trainId: old.id,
      stageMicrometerId: scene.micrometer.id,
      certificateId: scene.certificate.id,
    };
    expect(
      await bench.refusal("calibrations.begin", { requestId: bench.request(), calibration }),
    ).toMatchObject({ ...gone, field: "calibration.trainId" });
    const field = {
      countId: count.id,
      act: { kind: "field", requestId: bench.request(), waitedMs: 0, position: null } as const,
    };
    await hand.press();
    expect(await bench.refusal("counts.newField", field)).toMatchObject(gone);
    await bench.call("counts.pause", { requestId: bench.request(), countId: count.id });
    expect(
      await bench.refusal("counts.resume", { requestId: bench.request(), countId: count.id }),
    ).toMatchObject(gone);
    const blockId = "block-1";
    await bench.call("rows.stageBlock", { sheetId: scene.sheet.id, blockId, part: 1, text: "1\t40" });
    const columns = (["left", "right"] as const).map((edge) => ({
      kind: "reading" as const,
      cell: { dimension: "length", edge, repeat: 1 },
    }));
    const block = {
      ...{ sheetId: scene.sheet.id, blockId, columns, skipFirstLine: false, startAt: null },
      ...{ excluded: [], corrections: [] },
    };
    expect(await bench.refusal("rows.enterBlock", { requestId: bench.request(), block })).toMatchObject(gone);
    const state = {
      item: { kind: "objective", id: old.objectiveId },
      state: "in service",
      from: "2026-03-02",
    };
    expect(
      await bench.refusal("registers.setServiceState", {
        ...{ requestId: bench.request(), reason: "polished" },
        ...state,
      } as never),
    ).toMatchObject(gone);
    await bench.call("sheets.chooseObjective", { ...about(), objectiveId: next.id });
    expect(
      await bench.refusal("sheets.chooseObjective", { ...about(), objectiveId: old.objectiveId }),
    ).toMatchObject(gone);
    const row = await enterLength(bench, scene, "row-9", "10", "60");
    expect(row.measurements[0]).toMatchObject({ calibrationId: null, size: null });
    expect(
      await bench.call("counts.close", {
        ...{ requestId: bench.request(), countId: count.id },
        lastFieldCounted: true,
      }),
    ).toMatchObject({ state: "closed" });
    expect(await differences()).toEqual([]);
  });

  it("has no due dates, its knocks ask for no check, and its history tells both", async () => {
    await bench.call("events.record", {
      requestId: bench.request(),
      event: {
        kind: "knocked",
        subject: { kind: "objective", id: trainOfPosition(scene, 1).objectiveId },
        happenedOn: "2026-03-02",
        words: "fell on the bench",
      },
    });
    const dueOf = async () =>
      (await bench.call("due.list", { withinDays: 3650 })).items.filter(
        ({ trainId }) => trainId === trainOfPosition(scene, 1).id,
      );
    expect((await dueOf()).map(({ kind }) => kind).sort()).toEqual(["calibration", "event"]);
    const { next } = await replace();
    expect(await dueOf()).toEqual([]);
    for (const id of [trainOfPosition(scene, 1).objectiveId, next.id]) {
      const { lines } = await bench.call("registers.history", { kind: "objective", id });
      expect(lines.map(({ act, reason }) => [act, reason])).toContainEqual([
        "microscopes.replaceObjective",
        "front lens scratched",
      ]);
    }
  });

  it("is replaced once, on a day that has come, by one that can be read", async () => {
    for (const [change, code, field] of [
      [{ on: "2026-03-03" }, "input.invalid", "on"],
      [{ on: "2020-01-01" }, "input.invalid", "on"],
      [{ objectiveId: "none" }, "objective.unknown", "objectiveId"],
      [{ microscopeId: "none" }, "microscope.unknown", "microscopeId"],
      [{ reason: "" }, "input.invalid", "reason"],
      [{ objective: { ...NEW_ONE, magnification: "1O" } }, "input.invalid", "objective.magnification"],
    ] as const) {
      expect(await bench.refusal("microscopes.replaceObjective", replacement(change) as never)).toMatchObject(
        {
          code,
          field,
        },
      );
    }
    await replace();
    expect(await bench.refusal("microscopes.replaceObjective", replacement())).toMatchObject({
      code: "objective.replaced",
      field: "objectiveId",
    });
  });

  it("goes out and comes in with its sheet, and is told as it was", async () => {
    const { next } = await replace();
    const text = await exportJson(bench, [scene.sheet.id]);
    const empty = await tempBench({ ids: countedIds("new") });
    try {
      const uploadId = await uploadBytes(empty, "sheets.json", Buffer.from(text));
      await empty.call("documents.readIn", {
        requestId: empty.request(),
        uploadId,
        personId: scene.personId,
      });
      const [stand] = await empty.call("microscopes.list", {});
      expect(stand?.objectives[0]?.replaced).toEqual({ on: "2026-03-02", by: next.id });
      expect((await empty.call("trail.verify", {})).differences).toEqual([]);
    } finally {
      await empty.end();
    }
  });
});
