import { createHash } from "node:crypto";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { buildScene, calibrateTrain, enterLength } from "../../support/bench-scenes.ts";
import { openCount } from "../../support/count-scene.ts";
import { benchOfTheFirstVersion } from "../../support/first-version.ts";
import { withRawDatabase } from "../../support/raw-database.ts";
import { type TempBench, type TempFolder, tempBench, tempFolder } from "../../support/temp-bench.ts";

let bench: TempBench;
let old: TempFolder;

beforeEach(async () => {
  old = tempFolder();
  bench = await tempBench();
});
afterEach(async () => {
  await bench.end();
  old.remove();
});

async function detailOf(act: string): Promise<unknown> {
  const lines = await bench.call("trail.page", { before: null, count: 500 });
  return JSON.parse(lines.find((line) => line.act === act)?.detail ?? "null");
}

describe("the customer of a sheet", () => {
  it("is kept, told by the trail, and stands in the head of the report", async () => {
    const { sheet } = await buildScene(bench, { customer: "  Moor Apiary " });
    expect(sheet.customer).toBe("Moor Apiary");
    expect(await detailOf("sheets.open")).toMatchObject({ customer: "Moor Apiary" });
    const { facts } = await bench.call("reports.sheet", { sheetId: sheet.id });
    expect(facts[0]).toEqual({ name: "Customer", value: "Moor Apiary" });
  });

  it("need not be named: then the sheet has none and the report says nothing of it", async () => {
    const { sheet } = await buildScene(bench, { customer: "" });
    expect(Object.keys(sheet)).not.toContain("customer");
    expect(await detailOf("sheets.open")).toMatchObject({ customer: null });
    const { facts } = await bench.call("reports.sheet", { sheetId: sheet.id });
    expect(facts.map(({ name }) => name)).not.toContain("Customer");
  });

  it("is one line: a second one is refused at its field", async () => {
    const scene = await buildScene(bench);
    const { id: _, number: __, openedAt: ___, openedBy: ____, ...sheet } = scene.sheet;
    const { rowCount: _____, struckCount: ______, lastConfirmed: _______, ...wanted } = sheet;
    const refused = await bench.refusal("sheets.open", {
      requestId: bench.request(),
      sheet: { ...wanted, customer: "Moor\nApiary" },
    });
    expect(refused).toMatchObject({ code: "input.invalid", field: "sheet.customer" });
  });

  it("is part of what a signature stands for; a sheet without one keeps the fingerprint it had", async () => {
    const { sheet } = await buildScene(bench, { customer: "" });
    const { sample, note, methodId, microscopeId, eyepieceId } = sheet;
    const line = (more: readonly string[]): string =>
      `${JSON.stringify([sample, note, methodId, microscopeId, eyepieceId, ...more])}\n`;
    const sha256 = (text: string): string => createHash("sha256").update(text, "utf8").digest("hex");
    const fingerprint = async (): Promise<string> =>
      (await bench.call("reports.sheet", { sheetId: sheet.id })).rowsSha256;
    expect(await fingerprint()).toBe(sha256(line([])));
    await bench.program.close();
    withRawDatabase(bench.paths.databaseFile, (database) => {
      database.prepare("UPDATE sheet SET customer = 'Moor Apiary'").run();
    });
    await bench.reopen();
    expect(await fingerprint()).toBe(sha256(line(["Moor Apiary"])));
  });
});

it("a count names its customer too, tells it to the trail, and may have none", async () => {
  const scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  const count = await openCount(bench, scene);
  expect(count.customer).toBe("Water Board West");
  expect(await detailOf("tallies.open")).toMatchObject({ customer: "Water Board West" });
  expect((await bench.call("counts.list", {}))[0]?.customer).toBe("Water Board West");
});

it("sheets of an older bench have none, and verify agrees", async () => {
  const scene = await buildScene(bench, { customer: "" });
  await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
  const before = await bench.call("sheets.list", {});
  await benchOfTheFirstVersion(bench.paths.databaseFile, old);
  const later = await tempBench({ paths: old.paths });
  expect(
    (await later.call("trail.verify", {})).differences.filter(({ where }) => /customer/.test(where)),
  ).toEqual([]);
  const after = await later.call("sheets.list", {});
  expect(after.map(({ customer }) => customer)).toEqual(before.map(() => undefined));
  await later.end();
});

it("no empty name can be stored", async () => {
  await buildScene(bench);
  withRawDatabase(bench.paths.databaseFile, (database) => {
    for (const table of ["sheet", "tally"]) {
      const columns = database.prepare(`PRAGMA table_info("${table}")`).all() as { name: string }[];
      expect(columns.map(({ name }) => name)).toContain("customer");
    }
    expect(() => database.prepare("UPDATE sheet SET customer = ''").run()).toThrow(/CHECK constraint failed/);
  });
});
