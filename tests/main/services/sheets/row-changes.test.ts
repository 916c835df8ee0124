import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";
import { correctCertificate, reevaluateWith } from "../../../support/traceability-scenes.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  for (const row of ["row-1", "row-2", "row-3"]) await enterLength(bench, scene, row, "10", "30");
});
afterEach(() => bench.end());

const since = (sequence: number | null) =>
  bench.call("rows.changedSince", { sheetId: scene.sheet.id, since: sequence });

describe("what became of a sheet since a line of the trail", () => {
  it("is nothing while nobody did anything, and at first only where the trail ends", async () => {
    const start = await since(null);
    expect(start).toMatchObject({ changed: null, objectiveId: scene.sheet.objectiveId });
    expect(await since(start.sequence)).toEqual(start);
  });

  it("is the rows that acts were about, those an undo took away by their ids", async () => {
    const { sequence } = await since(null);
    const sheetId = scene.sheet.id;
    await bench.call("rows.strike", {
      requestId: bench.request(),
      sheetId,
      rowId: "row-2",
      reason: "broken grain",
    });
    await enterLength(bench, scene, "row-4", "10", "31");
    const first = await since(sequence);
    expect(first.changed).toMatchObject({ count: 2, from: 2, to: 4, gone: [], total: 4 });
    expect(first.changed?.rows.map((row) => [row.id, row.struck !== null])).toEqual([
      ["row-2", true],
      ["row-4", false],
    ]);
    for (let i = 0; i < 2; i += 1) await bench.call("rows.undo", { requestId: bench.request(), sheetId });
    const second = await since(first.sequence);
    expect(second.changed).toMatchObject({ gone: ["row-4"], rows: [], total: 3 });
  });

  it("names the objective chosen elsewhere, and no row of another sheet", async () => {
    const { sequence } = await since(null);
    const objectiveId = scene.microscope.objectives[1]?.id ?? "";
    const { sample, note, methodId, microscopeId, eyepieceId, intermediateMagnification } = scene.sheet;
    const sheet = await bench.call("sheets.open", {
      requestId: bench.request(),
      sheet: { sample, note, methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId },
    });
    await enterLength(bench, { ...scene, sheet }, "elsewhere", "10", "30");
    await bench.call("sheets.chooseObjective", {
      requestId: bench.request(),
      sheetId: scene.sheet.id,
      objectiveId,
    });
    expect(await since(sequence)).toMatchObject({ changed: null, objectiveId });
  });

  it("is every row that a re-evaluation gave a new size", async () => {
    const { sequence } = await since(null);
    await reevaluateWith(bench, scene, await correctCertificate(bench, scene));
    const { changed } = await since(sequence);
    expect(changed).toMatchObject({ count: 3, from: 1, to: 3, total: 3 });
    const page = await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 10 });
    expect(changed?.rows).toEqual(page.rows);
  });
});
