import { afterEach, beforeEach, expect, it } from "vitest";
import {
  buildScene,
  calibrateTrain,
  enterLength,
  newMicroscope,
  type Scene,
} from "../../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

/** A stand whose changer has 1.25× beside 1×, both calibrated with the 10×, and a sheet on it. */
beforeEach(async () => {
  bench = await tempBench();
  const built = await buildScene(bench);
  const microscope = await bench.call("microscopes.register", {
    requestId: bench.request(),
    microscope: { ...newMicroscope("Stand B"), intermediateMagnifications: ["1.25"] },
  });
  const { microscopes } = await bench.call("bench.overview", {});
  const trains = microscopes.find((one) => one.microscope.id === microscope.id)?.trains ?? [];
  const low = trains.filter(({ train }) => train.objectiveId === microscope.objectives[0]?.id);
  for (const { train } of low) {
    await calibrateTrain(
      bench,
      { ...built, microscope, trains: [train] },
      { right: "96.4", lineRight: train.intermediateMagnification === "1" ? "100" : "80" },
    );
  }
  const sheet = await bench.call("sheets.open", {
    requestId: bench.request(),
    sheet: {
      ...{ sample: "Sample 9", note: "", methodId: built.methodId, microscopeId: microscope.id },
      eyepieceId: microscope.eyepieces[0]?.id ?? "",
      objectiveId: microscope.objectives[0]?.id ?? "",
      intermediateMagnification: "1" as never,
    },
  });
  scene = { ...built, microscope, trains: low.map(({ train }) => train), sheet };
});
afterEach(() => bench.end());

const choose = (intermediateMagnification: string | undefined, change: object = {}) =>
  ({
    requestId: bench.request(),
    sheetId: scene.sheet.id,
    objectiveId: scene.sheet.objectiveId,
    ...(intermediateMagnification === undefined ? {} : { intermediateMagnification }),
    ...change,
  }) as never;
const sizeOf = async (rowId: string) =>
  Number((await enterLength(bench, scene, rowId, "10", "60")).measurements[0]?.size?.value);

it("1× is always there, and a factor belongs to each setting", async () => {
  expect(scene.microscope.intermediateMagnifications).toEqual(["1", "1.25"]);
  // 50 divisions: 1000 µm/96.4 div, and 800 µm/96.4 div behind 1.25×.
  expect(await sizeOf("row-1")).toBeCloseTo((50 * 1000) / 96.4, 6);
  const sheet = await bench.call("sheets.chooseObjective", choose("1.25"));
  expect(sheet.intermediateMagnification).toBe("1.25");
  expect(await sizeOf("row-2")).toBeCloseTo((50 * 800) / 96.4, 1);
  const since = await bench.call("rows.changedSince", { sheetId: sheet.id, since: null });
  expect(since.intermediateMagnification).toBe("1.25");

  // The objective alone leaves the changer where it is.
  const other = scene.microscope.objectives[1]?.id;
  const moved = await bench.call("sheets.chooseObjective", choose(undefined, { objectiveId: other }));
  expect([moved.objectiveId, moved.intermediateMagnification]).toEqual([other, "1.25"]);
  const [line] = await bench.call("trail.page", { before: null, count: 3 });
  expect(JSON.parse(line?.detail ?? "{}")).not.toHaveProperty("intermediateMagnification");
  expect((await bench.call("trail.verify", {})).differences).toEqual([]);
});

it("a setting that the stand has not is refused, and the one in use stays", async () => {
  expect(await bench.refusal("sheets.chooseObjective", choose("1.6"))).toMatchObject({
    code: "train.unknown",
    field: "intermediateMagnification",
  });
  const { sheet } = await bench.call("sheets.get", { sheetId: scene.sheet.id });
  expect(sheet.intermediateMagnification).toBe("1");
});
