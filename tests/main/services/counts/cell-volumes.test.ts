import { readFileSync } from "node:fs";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { CallInput } from "#core/contract/calls.ts";
import type { Count } from "#core/contract/records/count.ts";
import { countBiovolumes } from "#core/counting/results/count-biovolumes.ts";
import { buildScene, calibrateTrain, type Scene } from "../../../support/bench-scenes.ts";
import { handOf, measuredCells, openCount } from "../../../support/count-scene.ts";
import { finishedExport } from "../../../support/finished-export.ts";
import { tamper } from "../../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;
let count: Count;

const CELLS = [
  ["20", "41"],
  ["22", "45.5"],
  ["19.5", "40"],
] as const;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  count = await openCount(bench, scene);
  const hand = handOf(bench, count.id);
  for (const objects of ["7", "5", "9", "6"]) {
    await hand.press("diatoms", objects);
    await hand.press("greens", "2");
    await hand.field();
  }
  count = await bench.call("counts.close", {
    requestId: bench.request(),
    countId: count.id,
    lastFieldCounted: false,
  });
});
afterEach(() => bench.end());

type Given = CallInput<"counts.giveCellVolume">["given"];

function give(category: string, given: Given, reason = ""): Promise<Count> {
  return bench.call("counts.giveCellVolume", {
    requestId: bench.request(),
    countId: count.id,
    category,
    given,
    reason,
  });
}
const ofSheet = (sheetId: string, label = ""): Given => ({
  carbon: "protists",
  of: { from: "sheet", sheetId, label, quantity: "volume" },
});
const typed = (volume: string, expanded = ""): Given => ({
  carbon: "none",
  of: { from: "typed", volume, expanded, source: "an invented list" },
});
const differences = async () => (await bench.call("trail.verify", {})).differences.map(({ where }) => where);

describe("the cell volume of a counted category", () => {
  it("is the mean of the cells of a sheet, with the factor once, beside results that stay as they were frozen", async () => {
    const sheet = await measuredCells(bench, scene, CELLS);
    const given = await give("diatoms", ofSheet(sheet.id));
    const of = given.cellVolumes?.[0]?.of;
    if (of?.from !== "sheet") throw new Error("no volume of a sheet");
    const calibration = await bench.call("calibrations.get", { calibrationId: String(count.calibrationId) });
    const factor = Number(calibration.result?.factor);
    // π/6·d²·h of each cell: H. Hillebrand et al., Journal of Phycology 35 (1999) 403; from memory. Then their mean.
    const volumes = CELLS.map(([d, h]) => (Math.PI / 6) * Number(d) ** 2 * Number(h) * factor ** 3);
    const mean = volumes.reduce((sum, one) => sum + one, 0) / 3;
    const s = Math.sqrt(volumes.reduce((sum, one) => sum + (one - mean) ** 2, 0) / 2);
    expect(of.cells).toBe(3);
    expect(Number(of.volume) / mean).toBeCloseTo(1, 12);
    const relative = (key: string) => Number(of.components.find((one) => one.key === key)?.relative);
    expect(relative("cells")).toBeCloseTo(s / Math.sqrt(3) / mean, 10);
    const u = Number(calibration.result?.standardUncertainty) / factor;
    expect(relative(`factor ${count.calibrationId}`)).toBeCloseTo(3 * u, 10);
    expect(given.results).toEqual(count.results);

    const { lines } = countBiovolumes(given, given.results as NonNullable<Count["results"]>);
    const density = given.results?.densities.find((one) => one.of === "diatoms");
    const own = Number(density?.components.find(({ key }) => key === "count")?.relative);
    const rest = of.components
      .filter(({ key }) => !key.startsWith("factor "))
      .map((one) => Number(one.relative));
    expect(Number(lines[0]?.volume.relative)).toBeCloseTo(Math.hypot(own, u, ...rest), 8);
    expect(await differences()).toEqual([]);
  });

  it("takes the rows of a label alone, and no struck ones", async () => {
    const sheet = await measuredCells(bench, scene, CELLS);
    const { rows } = await bench.call("rows.page", { sheetId: sheet.id, from: 1, count: 10 });
    await bench.call("rows.strike", {
      requestId: bench.request(),
      sheetId: sheet.id,
      rowId: rows[2]?.id ?? "",
      reason: "two cells in one",
    });
    await expect(give("diatoms", ofSheet(sheet.id, "greens"))).rejects.toThrow(`"field":"given.of.label"`);
    const { cellVolumes } = await give("diatoms", ofSheet(sheet.id, "diatoms"));
    expect(cellVolumes?.[0]?.of).toMatchObject({ cells: 2, label: "diatoms" });
  });

  it("stays as taken when its sheet changes, and says so; it is taken anew with a reason", async () => {
    const sheet = await measuredCells(bench, scene, CELLS);
    const taken = await give("diatoms", ofSheet(sheet.id));
    const moved = () => bench.call("counts.movedCellVolumes", { countId: count.id });
    expect(await moved()).toEqual([]);
    await bench.call("rows.enter", {
      requestId: bench.request(),
      sheetId: sheet.id,
      rowId: "cell-4",
      cell: { dimension: "d", edge: "direct" },
      typed: "30",
      label: "diatoms",
    });
    expect(await moved()).toEqual([]);
    await bench.call("rows.enter", {
      requestId: bench.request(),
      sheetId: sheet.id,
      rowId: "cell-4",
      cell: { dimension: "h", edge: "direct" },
      typed: "60",
      label: "diatoms",
    });
    expect(await moved()).toEqual(["diatoms"]);
    expect((await bench.call("counts.get", { countId: count.id })).cellVolumes).toEqual(taken.cellVolumes);
    await expect(give("diatoms", ofSheet(sheet.id))).rejects.toThrow(`"field":"reason"`);
    const again = await give("diatoms", ofSheet(sheet.id), "one more cell was measured");
    expect(again.cellVolumes?.[0]?.of).toMatchObject({ cells: 4 });
    expect(await moved()).toEqual([]);
    expect(await differences()).toEqual([]);
    const lines = await bench.call("trail.page", { before: null, count: 5 });
    expect(lines[0]).toMatchObject({
      act: "tallies.giveCellVolume",
      reason: "one more cell was measured",
    });
  });

  it("is typed with its source, and taken away with a reason", async () => {
    await give("greens", typed("520", "60"));
    const { cellVolumes, ...rest } = await bench.call("counts.get", { countId: count.id });
    expect(cellVolumes).toEqual([
      {
        category: "greens",
        carbon: "none",
        of: { from: "typed", volume: "520", expanded: "60", source: "an invented list" },
      },
    ]);
    expect(await give("greens", null, "of another taxon")).toEqual(rest);
    expect(await differences()).toEqual([]);
  });

  it("goes with the count into its JSON file, and a doubt about the factor still reaches the count", async () => {
    const sheet = await measuredCells(bench, scene, CELLS);
    const { cellVolumes } = await give("diatoms", ofSheet(sheet.id));
    const begun = await bench.call("counts.export", { countId: count.id, format: "json", paper: "A4" });
    const { file } = await finishedExport(bench, begun);
    const written = JSON.parse(readFileSync(file?.path ?? "", "utf8"));
    expect(JSON.stringify(written)).toContain(JSON.stringify(cellVolumes));
    const subject = { kind: "calibration", id: String(count.calibrationId) } as const;
    const touched = await bench.call("counts.touchedBy", {
      subject,
      from: null,
      to: null,
      replacement: null,
    });
    expect(touched.map((one) => one.count.id)).toEqual([count.id]);
  });

  it("is found from the factor that its cells were measured with, also where the area has another one", async () => {
    const sheet = await measuredCells(bench, scene, CELLS);
    const first = String(count.calibrationId);
    const later = await calibrateTrain(bench, scene, { right: "98" });
    const other = await openCount(bench, scene);
    const given = ofSheet(sheet.id);
    const { cellVolumes } = await bench.call("counts.giveCellVolume", {
      ...{ requestId: bench.request(), countId: other.id, category: "diatoms", given, reason: "" },
    });
    const [volume] = cellVolumes ?? [];
    if (volume?.of.from !== "sheet") throw new Error("no volume of a sheet");
    const scope = { subject: { kind: "calibration", id: first }, from: null, to: null } as const;
    const replacement = { kind: "calibration", calibrationId: later.id } as const;
    const touched = await bench.call("counts.touchedBy", { ...scope, replacement });
    expect(touched.map((one) => [one.count.id, one.cellVolumes.length])).toEqual([
      [count.id, 0],
      [other.id, 1],
    ]);
    const found = touched[1];
    expect(found?.densities).toEqual([]);
    expect(found?.cellVolumes[0]).toMatchObject({ category: "diatoms", before: volume.of.volume });
    // Factors 1000/96.4 and 1000/98 µm/div: the mean of the cells as the later one would have made it.
    const mean = CELLS.reduce((sum, [d, h]) => sum + (Math.PI / 6) * Number(d) ** 2 * Number(h), 0) / 3;
    expect(Number(found?.cellVolumes[0]?.after)).toBeCloseTo(mean * (1000 / 98) ** 3, 4);
    expect(Number(found?.cellVolumes[0]?.relativeChange)).toBeCloseTo((96.4 / 98) ** 3 - 1, 12);
    const [alone] = (await bench.call("counts.touchedBy", { ...scope, replacement: null })).slice(1);
    expect(alone?.cellVolumes[0]).toMatchObject({ after: null, relativeChange: null });
    // Another factor than that of the cells reaches the count by its area alone.
    const ofArea = { kind: "calibration", id: later.id } as const;
    const byArea = await bench.call("counts.touchedBy", { ...scope, subject: ofArea, replacement: null });
    expect(byArea.map((one) => [one.count.id, one.cellVolumes.length])).toEqual([[other.id, 0]]);
  });

  it.each([
    ["a volume of nothing", "greens", typed("0"), "given.of.volume"],
    ["a volume that is no number", "greens", typed("many"), "given.of.volume"],
    ["U below nothing", "greens", typed("520", "-1"), "given.of.expanded"],
    ["a category that it has not", "birds", typed("520"), "category"],
  ])("refuses %s", async (_, category, given, field) => {
    await expect(give(category, given)).rejects.toThrow(`"field":"${field}"`);
  });

  it("refuses a quantity that is no volume of the sheet's method, and a sheet without one", async () => {
    const given: Given = {
      carbon: "none",
      of: { from: "sheet", sheetId: scene.sheet.id, label: "", quantity: "length" },
    };
    await expect(give("greens", given)).rejects.toThrow(`"field":"given.of.quantity"`);
  });

  it("is verified: against the trail, and from the readings of a sheet that is as it was", async () => {
    const sheet = await measuredCells(bench, scene, CELLS);
    await give("diatoms", ofSheet(sheet.id));
    tamper(
      bench.paths.databaseFile,
      `UPDATE tally SET cell_volumes_json = replace(cell_volumes_json, '"cells":3', '"cells":5')`,
    );
    expect(await differences()).toEqual([
      `count ${count.number}, cell volume of diatoms, as told by the trail, of, cells`,
      `count ${count.number}, cell volume of diatoms, from its sheet, cells`,
    ]);
  });
});
