import { afterEach, beforeEach, expect, it } from "vitest";
import { buildScene, type Scene } from "../../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";
import { as } from "../../../support/traceability-scenes.ts";

let bench: TempBench;
let scene: Scene;
beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

const seen = (change: object = {}) =>
  ({
    requestId: bench.request(),
    sheetId: scene.sheet.id,
    objectiveId: scene.sheet.objectiveId,
    intermediateMagnification: "1",
    interpupillary: "63",
    ...change,
  }) as never;
const eyesOf = async (personId: string | null) => bench.call("sheets.eyesAtTrains", { personId });

it("dioptre, sleeve and glasses are kept per person and train, and taken as unchanged with the next confirmation", async () => {
  const nothing = await bench.call("sheets.confirmTrain", seen());
  expect(nothing.lastConfirmed).not.toHaveProperty("eyes");
  const said = { dioptre: "-1,5", sleeve: "160", glasses: "without" };
  const kept = { dioptre: "-1.5", sleeve: "160", glasses: "without" };
  const first = await bench.call("sheets.confirmTrain", seen({ eyes: said }));
  expect(first.lastConfirmed?.eyes).toEqual(kept);
  const since = (await eyesOf(scene.personId))[0]?.at;
  bench.clock.set("2026-03-03T08:00:00.000Z");
  const again = await bench.call("sheets.confirmTrain", seen());
  expect(again.lastConfirmed?.eyes).toEqual(kept);
  await bench.call("sheets.confirmTrain", seen({ eyes: kept }));
  expect(await eyesOf(scene.personId)).toEqual([
    { personId: scene.personId, trainId: scene.trains[0]?.id, ...kept, at: since },
  ]);

  const ben = await bench.call("people.register", {
    requestId: bench.request(),
    person: { name: "Ben Example", initials: "BE", interpupillaryMm: "" },
  });
  await as(bench, ben.id, async () => {
    expect((await bench.call("sheets.confirmTrain", seen())).lastConfirmed).not.toHaveProperty("eyes");
    await bench.call("sheets.confirmTrain", seen({ eyes: { ...kept, glasses: "with" } }));
  });
  expect((await eyesOf(ben.id)).map(({ glasses }) => glasses)).toEqual(["with"]);
  expect(await eyesOf(null)).toHaveLength(2);
  await bench.call("sheets.chooseObjective", {
    requestId: bench.request(),
    sheetId: scene.sheet.id,
    objectiveId: scene.microscope.objectives[1]?.id ?? "",
  });
  const other = seen({ objectiveId: scene.microscope.objectives[1]?.id });
  expect((await bench.call("sheets.confirmTrain", other)).lastConfirmed).not.toHaveProperty("eyes");
  expect((await bench.call("trail.verify", {})).differences).toEqual([]);
});

it.each([
  [{ dioptre: "-25", sleeve: "", glasses: "with" }, "eyes.dioptre"],
  [{ dioptre: "", sleeve: "1600", glasses: "with" }, "eyes.sleeve"],
  [{ dioptre: "one", sleeve: "", glasses: "with" }, "eyes.dioptre"],
  [{ dioptre: "", sleeve: "", glasses: "sometimes" }, "eyes.glasses"],
])("what no eye lens or tube can be is refused at its field: %j", async (eyes, field) => {
  expect(await bench.refusal("sheets.confirmTrain", seen({ eyes }))).toMatchObject({
    code: "input.invalid",
    field,
  });
  expect(await eyesOf(null)).toEqual([]);
});
