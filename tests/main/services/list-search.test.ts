import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { CalibrationSearch, SheetSearch } from "#core/contract/records/list-search.ts";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { openCount } from "../../support/count-scene.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

const EVERYTHING: SheetSearch = {
  words: "",
  state: null,
  personId: null,
  familyId: null,
  objectiveId: null,
  since: null,
  until: null,
  sort: "number",
  descending: true,
  skip: 0,
  count: 50,
};

let bench: TempBench;
let scene: Scene;

async function another(sample: string, customer = ""): Promise<string> {
  const { methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId } = scene.sheet;
  const train = { microscopeId, eyepieceId, intermediateMagnification, objectiveId };
  const sheet = { sample, customer, note: "", methodId, ...train };
  return (await bench.call("sheets.open", { requestId: bench.request(), sheet })).number;
}

async function found(search: Partial<SheetSearch>): Promise<string[]> {
  return (await bench.call("sheets.search", { ...EVERYTHING, ...search })).sheets.map(({ sample }) => sample);
}

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

describe("looking for sheets", () => {
  beforeEach(async () => {
    await another("Bärlauch, Moor 50 %");
    await another("heather honey", "Moorland Dairy");
    await another("Heather_2");
  });

  it("finds every word in number, sample or customer, whatever the case, and nothing else", async () => {
    expect(await found({ words: "HEATHER" })).toEqual(["Heather_2", "heather honey"]);
    expect(await found({ words: "honey dairy" })).toEqual(["heather honey"]);
    expect(await found({ words: "BÄRLAUCH" })).toEqual(["Bärlauch, Moor 50 %"]);
    expect(await found({ words: "s-0004" })).toEqual(["Heather_2"]);
    expect(await found({ words: "heather nowhere" })).toEqual([]);
  });

  it("takes % and _ as they are typed", async () => {
    expect(await found({ words: "%" })).toEqual(["Bärlauch, Moor 50 %"]);
    expect(await found({ words: "r_" })).toEqual(["Heather_2"]);
  });

  it("narrows by state, person, method, objective and day; the total is that of all pages", async () => {
    await calibrateTrain(bench, scene, { dueOn: "2099-01-01" });
    const [first] = (await bench.call("sheets.search", { ...EVERYTHING, descending: false })).sheets;
    if (!first) throw new Error("no sheet");
    await enterLength(bench, { ...scene, sheet: first }, "row-1", "10", "40");
    await bench.call("sheets.close", { requestId: bench.request(), sheetId: first.id, words: "" });
    expect(await found({ state: "closed" })).toEqual([first.sample]);
    expect(await found({ state: "open" })).toHaveLength(3);
    expect(await found({ state: "signed" })).toEqual([]);
    const page = await bench.call("sheets.search", { ...EVERYTHING, count: 2, skip: 2 });
    expect(page).toMatchObject({ total: 4, states: [{ sheetId: first.id, state: "closed" }] });
    expect(page.sheets).toHaveLength(2);
    const { familyId } = await bench.call("methods.get", { methodId: scene.methodId });
    expect(await found({ personId: scene.personId, familyId })).toHaveLength(4);
    expect(await found({ personId: "nobody-here" })).toEqual([]);
    expect(await found({ familyId: "no-such-method" })).toEqual([]);
    expect(await found({ objectiveId: scene.microscope.objectives[1]?.id ?? "" })).toHaveLength(
      scene.sheet.objectiveId === scene.microscope.objectives[1]?.id ? 4 : 0,
    );
    expect(await found({ since: first.openedAt, until: first.openedAt })).toEqual([]);
    expect(await found({ since: first.openedAt })).toHaveLength(4);
  });

  it("orders by sample and by rows", async () => {
    expect((await found({ sort: "sample", descending: false })).slice(0, 1)).toEqual(["Bärlauch, Moor 50 %"]);
    expect(await found({ sort: "number", descending: false })).toHaveLength(4);
  });
});

it("looks for counts by sample and state", async () => {
  await calibrateTrain(bench, scene);
  const count = await openCount(bench, scene);
  const search = { ...EVERYTHING, words: count.sample.toUpperCase() };
  expect((await bench.call("counts.search", { ...search, state: "open" })).counts[0]?.id).toBe(count.id);
  expect(await bench.call("counts.search", { ...search, state: "closed" })).toEqual({ total: 0, counts: [] });
});

it("looks for lines of the trail by words, person and time, page by page", async () => {
  const search = { words: "sheets.open", personId: null, since: null, until: null };
  const lines = await bench.call("trail.page", { before: null, count: 500, search });
  expect(lines.map(({ act }) => act)).toEqual(["sheets.open"]);
  const older = await bench.call("trail.page", { before: lines[0]?.sequence ?? 0, count: 500, search });
  expect(older).toEqual([]);
  expect(
    await bench.call("trail.page", { before: null, count: 5, search: { ...search, personId: "x" } }),
  ).toEqual([]);
  const until = lines[0]?.at ?? null;
  expect(await bench.call("trail.page", { before: null, count: 5, search: { ...search, until } })).toEqual(
    [],
  );
});

it("looks for calibrations by microscope, objective, certificate, train and person", async () => {
  await calibrateTrain(bench, scene);
  const total = async (search: Partial<CalibrationSearch>): Promise<number> => {
    const none = { words: "", trainId: null, personId: null, since: null, until: null };
    const input = { state: null, from: 0, count: 5, search: { ...none, ...search } };
    const found = await bench.call("calibrations.summaries", input);
    expect(found.calibrations).toHaveLength(found.total);
    return found.total;
  };
  const [calibration] = await bench.call("calibrations.list", { trainId: null });
  expect(await total({})).toBe(1);
  expect(await total({ words: "stand 10× c-1" })).toBe(1);
  expect(await total({ words: "63×" })).toBe(0);
  expect(await total({ trainId: calibration?.trainId ?? "", personId: scene.personId })).toBe(1);
  expect(await total({ trainId: "another-train" })).toBe(0);
  expect(await total({ until: calibration?.startedAt ?? null })).toBe(0);
});

it("looks for rows by their label, not for those that were taken back", async () => {
  await calibrateTrain(bench, scene, { dueOn: "2099-01-01" });
  const sheetId = scene.sheet.id;
  for (const [rowId, label] of [
    ["row-1", "Tilia 1"],
    ["row-2", "Betula"],
  ] as const) {
    await enterLength(bench, scene, rowId, "10", "40");
    await bench.call("rows.describe", {
      ...{ requestId: bench.request(), sheetId, rowId, label, note: "", stage: null },
    });
  }
  const labels = async (words: string): Promise<string[]> =>
    (await bench.call("rows.byLabel", { words, count: 10 })).map(({ label }) => label);
  expect(await labels("tilia")).toEqual(["Tilia 1"]);
  expect(await labels("")).toEqual(["Betula", "Tilia 1"]);
  const [row] = await bench.call("rows.byLabel", { words: "1 TILIA", count: 10 });
  expect(row).toMatchObject({ rowId: "row-1", sheetId, ordinal: 1, sheetNumber: scene.sheet.number });
  expect(await labels("quercus")).toEqual([]);
});
