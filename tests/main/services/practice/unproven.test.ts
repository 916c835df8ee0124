import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { LaboratorySettings } from "#core/contract/records/laboratory.ts";
import { UTERMOHL_FIELDS } from "#core/counting/methods/ready-plankton-methods.ts";
import type { ExerciseName } from "#core/vocabulary/practice.ts";
import { buildScene, enterLength, type Scene } from "../../../support/bench-scenes.ts";
import { handOf, openCount } from "../../../support/count-scene.ts";
import { finishedExport, workbookOf } from "../../../support/finished-export.ts";
import { trueReadings } from "../../../support/practice-reader.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";
import { readBook } from "../../../workbook/other-programs.ts";

const SEED = 5113;
const MARK =
  "Practice: Ada Example worked on 2026-03-02 without the proof that is asked for (“Read tenths”).";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

async function ask(changes: Partial<LaboratorySettings>): Promise<void> {
  const settings = await bench.call("laboratory.settings", {});
  await bench.call("laboratory.change", {
    requestId: bench.request(),
    settings: { ...settings, ...changes },
    reason: "as the quality manual says",
  });
}

async function proveTenths(): Promise<void> {
  const { id } = await bench.call("practice.begin", {
    requestId: bench.request(),
    exercise: "tenths",
    seed: SEED,
  });
  for (const [index, truth] of trueReadings(SEED).entries()) {
    await bench.call("practice.answer", {
      requestId: bench.request(),
      attemptId: id,
      ordinal: index + 1,
      typed: { reading: truth.toFixed(1) },
    });
  }
}

const ofSheet = () => bench.call("practice.unproven", { work: "sheet", id: scene.sheet.id });
const everyText = (path: string): string => JSON.stringify(readBook(path).sheets);

describe("a sheet", () => {
  it("is not marked where the laboratory asks for nothing, nor for what was entered before it asked", async () => {
    await enterLength(bench, scene, "row-1", "23.0", "51.5");
    expect(await ofSheet()).toEqual([]);
    await ask({ practiceForSheets: ["tenths"] });
    expect(await ofSheet()).toEqual([]);
  });

  it("with rows of somebody who lacks a proof says so on screen, report and workbook, and takes the rows", async () => {
    await ask({ practiceForSheets: ["tenths"] });
    const row = await enterLength(bench, scene, "row-1", "23.0", "51.5");
    expect(row.measurements[0]).toMatchObject({ divisions: "28.5", flags: [] });
    expect(await ofSheet()).toEqual([
      { personId: scene.personId, exercises: ["tenths"], from: "2026-03-02", to: "2026-03-02" },
    ]);
    expect((await bench.call("reports.sheet", { sheetId: scene.sheet.id })).cautions).toContain(MARK);
    expect(everyText((await workbookOf(bench, scene.sheet.id))?.path ?? "")).toContain(MARK);
    expect(await bench.call("practice.missing", { work: "sheet", id: scene.sheet.id })).toEqual(["tenths"]);
    const count = await openCount(bench, scene);
    expect(await bench.call("practice.missing", { work: "count", id: count.id })).toEqual([]);
    await ask({ practiceForSheets: [] });
    expect(await bench.call("practice.missing", { work: "sheet", id: scene.sheet.id })).toEqual([]);
    expect(await ofSheet(), "what was asked then keeps its mark").toHaveLength(1);
  });

  it("of somebody who has shown it bears no mark", async () => {
    await proveTenths();
    await ask({ practiceForSheets: ["tenths"] });
    await enterLength(bench, scene, "row-1", "23.0", "51.5");
    expect(await ofSheet()).toEqual([]);
    expect(await bench.call("practice.missing", { work: "sheet", id: scene.sheet.id })).toEqual([]);
    expect((await bench.call("reports.sheet", { sheetId: scene.sheet.id })).cautions.join()).not.toContain(
      "Practice",
    );
  });
});

/** A sheet by a new version of the scene's method, which asks for exercises. */
async function sheetAsking(...practice: ExerciseName[]): Promise<Scene> {
  const before = await bench.call("methods.get", { methodId: scene.methodId });
  const { id: methodId } = await bench.call("methods.define", {
    requestId: bench.request(),
    familyId: before.familyId,
    definition: { ...before.definition, practice },
  });
  const { microscopeId, eyepieceId, intermediateMagnification } = scene.sheet;
  const sheet = await bench.call("sheets.open", {
    requestId: bench.request(),
    sheet: {
      sample: "by the new version",
      customer: "",
      note: "",
      methodId,
      microscopeId,
      eyepieceId,
      intermediateMagnification,
      objectiveId: scene.microscope.objectives[0]?.id ?? "",
    },
  });
  return { ...scene, methodId, sheet };
}

describe("a method that asks for practice", () => {
  const unprovenOf = ({ sheet }: Scene) => bench.call("practice.unproven", { work: "sheet", id: sheet.id });

  it("marks its own sheets though the laboratory asks for nothing, and no sheet of another version", async () => {
    const asking = await sheetAsking("tenths", "measure");
    expect(await bench.call("practice.missing", { work: "sheet", id: asking.sheet.id })).toEqual([
      "tenths",
      "measure",
    ]);
    expect(await bench.call("practice.missing", { work: "sheet", id: scene.sheet.id })).toEqual([]);
    await enterLength(bench, asking, "row-1", "23.0", "51.5");
    await enterLength(bench, scene, "row-2", "23.0", "51.5");
    expect(await unprovenOf(asking)).toMatchObject([{ exercises: ["tenths", "measure"] }]);
    expect(await unprovenOf(scene)).toEqual([]);
    const { cautions } = await bench.call("reports.sheet", { sheetId: asking.sheet.id });
    expect(cautions.join()).toContain("without the proof that is asked for (“Read tenths”, “Measure”)");
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  });

  it("asks beside the laboratory, and what is proven is not asked again", async () => {
    await proveTenths();
    await ask({ practiceForSheets: ["line-up"] });
    const asking = await sheetAsking("tenths", "measure");
    await enterLength(bench, asking, "row-1", "23.0", "51.5");
    expect(await unprovenOf(asking)).toMatchObject([{ exercises: ["line-up", "measure"] }]);
  });

  it("wants a signature only where the laboratory does", async () => {
    await proveTenths();
    const asking = await sheetAsking("tenths");
    expect(await bench.call("practice.missing", { work: "sheet", id: asking.sheet.id })).toEqual([]);
    await ask({ practiceBySignature: true });
    expect(await bench.call("practice.missing", { work: "sheet", id: asking.sheet.id })).toEqual(["tenths"]);
  });
});

it("a count method asks too, and its counts are marked", async () => {
  const asking = { ...UTERMOHL_FIELDS, name: "Fields, asking", practice: ["count" as const] };
  const count = await openCount(bench, scene, { definition: asking });
  expect(await bench.call("practice.missing", { work: "count", id: count.id })).toEqual(["count"]);
  await handOf(bench, count.id).press();
  expect(await bench.call("practice.unproven", { work: "count", id: count.id })).toMatchObject([
    { exercises: ["count"] },
  ]);
});

it("a count is marked by its presses, and its workbook says so", async () => {
  const count = await openCount(bench, scene);
  const unproven = () => bench.call("practice.unproven", { work: "count", id: count.id });
  await ask({ practiceForSheets: ["tenths"] });
  await handOf(bench, count.id).press();
  expect(await unproven()).toEqual([]);
  await ask({ practiceForCounts: ["tenths"] });
  await handOf(bench, count.id).press();
  expect(await unproven()).toMatchObject([{ exercises: ["tenths"] }]);
  await bench.call("counts.close", { requestId: bench.request(), countId: count.id, lastFieldCounted: true });
  const begun = await bench.call("counts.export", {
    countId: count.id,
    format: "values workbook",
    paper: "A4",
  });
  const { file } = await finishedExport(bench, begun);
  const { sheets } = readBook(file?.path ?? "");
  for (const name of ["Results", "About"]) expect(JSON.stringify(sheets[name]), name).toContain(MARK);
});
