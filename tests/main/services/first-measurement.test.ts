import { afterEach, beforeEach, describe, expect, it } from "vitest";
import {
  buildScene,
  calibrateTrain,
  enter,
  enterLength,
  type Scene,
  trainOfPosition,
} from "../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

const LEFT = { dimension: "length", edge: "left", repeat: 1 } as const;
const RIGHT = { dimension: "length", edge: "right", repeat: 1 } as const;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

async function chooseObjective(position: number): Promise<void> {
  await bench.call("sheets.chooseObjective", {
    requestId: bench.request(),
    sheetId: scene.sheet.id,
    objectiveId: trainOfPosition(scene, position).objectiveId,
  });
}

describe("from the certificate to a size", () => {
  it("converts 23.0 to 51.5 divisions with 96.4 divisions on 1 mm to 295.6 µm", async () => {
    // Invented readings, by hand: 28.5 div × 1000 µm / 96.4 div = 295.643… µm.
    const calibration = await calibrateTrain(bench, scene);
    expect(calibration.state).toBe("in force");
    expect(calibration.result?.factor).toMatch(/^10\.3734439/);
    const row = await enterLength(bench, scene, "row-1", "23.0", "51.5");
    expect(row).toMatchObject({ id: "row-1", ordinal: 1, label: "grain", struck: null });
    expect(row.measurements[0]).toMatchObject({
      left: "23.0",
      right: "51.5",
      divisions: "28.5",
      calibrationId: calibration.id,
      trainId: trainOfPosition(scene, 1).id,
      missing: null,
      flags: [],
    });
    expect(row.measurements[0]?.size?.shownValue).toBe("295.6");
  });

  it("finds the same records after the program was closed and opened again", async () => {
    await calibrateTrain(bench, scene);
    const row = await enterLength(bench, scene, "row-1", "23.0", "51.5");
    await bench.reopen();
    const page = await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 10 });
    expect(page).toEqual({ total: 1, rows: [row] });
    expect((await bench.call("bench.status", {})).personInUse?.name).toBe("Ada Example");
  });

  it("keeps readings as typed: 40.0 and 40,0 are not 40", async () => {
    const row = await enterLength(bench, scene, "row-1", "40.0", " 60,5 ");
    expect(row.measurements[0]).toMatchObject({ left: "40.0", right: "60,5", divisions: "20.5" });
  });

  it("takes the right edge first as well, and marks edges read the wrong way round", async () => {
    await calibrateTrain(bench, scene);
    await enter(bench, scene, "row-1", RIGHT, "23.0");
    const row = await enter(bench, scene, "row-1", LEFT, "51.5");
    expect(row.measurements[0]).toMatchObject({ divisions: "-28.5", flags: ["edges-reversed"] });
    expect(row.measurements[0]?.size?.shownValue).toBe("295.6");
  });
});

describe("the objective in use", () => {
  it("sets the train of new measurements and leaves earlier ones alone", async () => {
    await calibrateTrain(bench, scene);
    await calibrateTrain(bench, scene, { position: 2, right: "100", lineRight: "25" });
    const first = await enterLength(bench, scene, "row-1", "23.0", "51.5");
    await chooseObjective(2);
    const second = await enterLength(bench, scene, "row-2", "23.0", "51.5");
    expect(second.measurements[0]?.trainId).toBe(trainOfPosition(scene, 2).id);
    expect(second.measurements[0]?.size?.shownValue).toMatch(/^71\.3/);
    const page = await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 1 });
    expect(page.rows).toEqual([first]);
  });

  it("is the one at the first edge, when it was changed between the edges", async () => {
    await calibrateTrain(bench, scene);
    await enter(bench, scene, "row-1", LEFT, "23.0");
    await chooseObjective(2);
    const row = await enter(bench, scene, "row-1", RIGHT, "51.5");
    expect(row.measurements[0]).toMatchObject({ trainId: trainOfPosition(scene, 1).id });
    expect(row.measurements[0]?.size?.shownValue).toBe("295.6");
  });

  it("without a calibration keeps the divisions and says what to do; then a reading entered again converts", async () => {
    await chooseObjective(2);
    const row = await enterLength(bench, scene, "row-1", "23.0", "51.5");
    expect(row.measurements[0]).toMatchObject({ divisions: "28.5", size: null, calibrationId: null });
    expect(row.measurements[0]?.missing).toBe(
      "No calibration in force for 40×/0.65 on Stand A: calibrate it, then convert the rows (/ 0 in Measure).",
    );
    await calibrateTrain(bench, scene, { position: 2, right: "100", lineRight: "25" });
    const unchanged = await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 1 });
    expect(unchanged.rows).toEqual([row]);
    const again = await enter(bench, scene, "row-1", RIGHT, "51.5");
    expect(again.measurements[0]).toMatchObject({ missing: null, left: "23.0", right: "51.5" });
    expect(again.measurements[0]?.size?.shownValue).toMatch(/^71\.3/);
  });
});

describe("changing what was entered", () => {
  it("keeps the calibration a row was converted with, and tells the trail from what to what", async () => {
    const old = await calibrateTrain(bench, scene);
    await enterLength(bench, scene, "row-1", "23.0", "51.5");
    await calibrateTrain(bench, scene, { right: "98" });
    const row = await enter(bench, scene, "row-1", RIGHT, "61");
    expect(row.measurements[0]).toMatchObject({ right: "61", divisions: "38", calibrationId: old.id });
    expect(row.measurements[0]?.size?.shownValue).toBe("394.2");
    const [line] = await bench.call("trail.page", { before: null, count: 1 });
    expect(line).toMatchObject({ act: "rows.amend", subject: "specimen_row", subjectId: "row-1" });
    expect(JSON.parse(line?.detail ?? "")).toMatchObject({
      dimension: "length",
      edge: "right",
      from: "51.5",
      to: "61",
    });
  });

  it("notes nothing when the same reading is entered again", async () => {
    await calibrateTrain(bench, scene);
    const row = await enterLength(bench, scene, "row-1", "23.0", "51.5");
    const [before] = await bench.call("trail.page", { before: null, count: 1 });
    expect(await enter(bench, scene, "row-1", RIGHT, "51.5")).toEqual(row);
    expect(await bench.call("trail.page", { before: null, count: 1 })).toEqual([before]);
  });

  it("strikes a row with a reason and takes no more readings for it", async () => {
    await enterLength(bench, scene, "row-1", "23.0", "51.5");
    const at = { sheetId: scene.sheet.id, rowId: "row-1" };
    const struck = await bench.call("rows.strike", {
      requestId: bench.request(),
      ...at,
      reason: "two grains",
    });
    expect(struck.struck).toMatchObject({ by: scene.personId, reason: "two grains" });
    expect((await bench.call("sheets.get", { sheetId: scene.sheet.id })).sheet).toMatchObject({
      rowCount: 1,
      struckCount: 1,
    });
    const more = { requestId: bench.request(), ...at, cell: LEFT, typed: "41", label: "" };
    expect(await bench.refusal("rows.enter", more)).toMatchObject({ code: "row.struck", field: "rowId" });
    const twice = { requestId: bench.request(), ...at, reason: "again" };
    expect(await bench.refusal("rows.strike", twice)).toMatchObject({ code: "row.struck" });
  });

  it("describes a row and keeps the label it had in the trail", async () => {
    await enterLength(bench, scene, "row-1", "23.0", "51.5");
    const input = { sheetId: scene.sheet.id, rowId: "row-1", label: "Ulmus", note: "broken\nwall" };
    const row = await bench.call("rows.describe", { requestId: bench.request(), ...input });
    expect(row).toMatchObject({ label: "Ulmus", note: "broken\nwall" });
    const [line] = await bench.call("trail.page", { before: null, count: 1 });
    expect(JSON.parse(line?.detail ?? "")).toMatchObject({ label: { from: "grain", to: "Ulmus" } });
  });
});

describe("half-typed text", () => {
  it("comes back after the program was closed, and goes when the cell is entered", async () => {
    const draft = { sheetId: scene.sheet.id, rowId: "row-9", cell: LEFT, typed: "4" };
    await bench.call("rows.keepDraft", draft);
    await bench.call("rows.keepDraft", { ...draft, typed: "40." });
    await bench.reopen();
    expect((await bench.call("sheets.get", { sheetId: scene.sheet.id })).drafts).toEqual([
      { ...draft, typed: "40." },
    ]);
    await enter(bench, scene, "row-9", LEFT, "40.5");
    expect((await bench.call("sheets.get", { sheetId: scene.sheet.id })).drafts).toEqual([]);
  });

  it("is forgotten when the cell is emptied", async () => {
    const draft = { sheetId: scene.sheet.id, rowId: "row-9", cell: LEFT, typed: "4" };
    await bench.call("rows.keepDraft", draft);
    await bench.call("rows.keepDraft", { ...draft, typed: "" });
    expect((await bench.call("sheets.get", { sheetId: scene.sheet.id })).drafts).toEqual([]);
  });
});
