import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../support/bench-scenes.ts";
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

const AMOUNT = { containers: "10", volume: "25", portion: "50" } as const;

function open(scene: Scene, amount: Partial<Record<keyof typeof AMOUNT, string>>) {
  const { id: _, number: __, openedAt: ___, openedBy: ____, ...sheet } = scene.sheet;
  const { rowCount: _____, struckCount: ______, lastConfirmed: _______, ...wanted } = sheet;
  return { requestId: bench.request(), sheet: { ...wanted, ...amount } };
}
const differencesOf = async (of: TempBench) =>
  (await of.call("trail.verify", {})).differences.map(({ where }) => where);

describe("what the specimens of a sheet come from", () => {
  it("is kept as typed, told by the trail, and stands in the report", async () => {
    const sheet = await bench.call("sheets.open", open(await buildScene(bench), AMOUNT));
    expect(sheet).toMatchObject(AMOUNT);
    const [line] = await bench.call("trail.page", { before: null, count: 1 });
    expect(JSON.parse(line?.detail ?? "null")).toMatchObject(AMOUNT);
    const { facts } = await bench.call("reports.sheet", { sheetId: sheet.id });
    expect(facts).toContainEqual({
      name: "What they come from",
      value: "10 containers, 25 mL tested, 50 % of it looked at",
    });
    expect(await differencesOf(bench)).toEqual([]);
  });

  it.each([
    ["containers", "0", "must be a whole number of at least 1, or empty"],
    ["containers", "2.5", "must be a whole number of at least 1, or empty"],
    ["volume", "0.0", "must be a number greater than zero, or empty"],
    ["volume", "25 mL", "must be a number greater than zero, or empty"],
    ["portion", "101", "must be a number greater than 0 and at most 100, or empty"],
    ["portion", "0", "must be a number greater than 0 and at most 100, or empty"],
  ])("is refused at its field: %s %s", async (field, typed, message) => {
    const refused = await bench.refusal("sheets.open", open(await buildScene(bench), { [field]: typed }));
    expect(refused).toMatchObject({ code: "input.invalid", field: `sheet.${field}` });
    expect(refused.message).toContain(message);
  });

  it("is filled in and put right later, with a reason, and taken away again; verify follows", async () => {
    const { sheet } = await buildScene(bench);
    const subject = { kind: "sheet", id: sheet.id } as const;
    const correct = (value: string) =>
      bench.call("records.correct", {
        requestId: bench.request(),
        correction: { subject, field: "volume", value, reason: "from the label" },
      });
    expect(await correct("25")).toMatchObject({ before: "", after: "25", reason: "from the label" });
    expect(await correct("26.5")).toMatchObject({ before: "25", after: "26.5" });
    expect((await bench.call("sheets.get", { sheetId: sheet.id })).sheet.volume).toBe("26.5");
    expect(await differencesOf(bench)).toEqual([]);
    await correct("");
    expect((await bench.call("sheets.get", { sheetId: sheet.id })).sheet).not.toHaveProperty("volume");
    expect(await differencesOf(bench)).toEqual([]);
    expect(
      await bench.refusal("records.correct", {
        requestId: bench.request(),
        correction: { subject, field: "volume", value: "none", reason: "a slip" },
      }),
    ).toMatchObject({ code: "input.invalid", field: "correction.value" });
  });

  it.each(["containers", "volume", "portion"] as const)(
    "cannot be changed by an outside tool unnoticed: %s is signed for and verified",
    async (column) => {
      const sheet = await bench.call("sheets.open", open(await buildScene(bench), AMOUNT));
      const fingerprint = async () => (await bench.call("reports.sheet", { sheetId: sheet.id })).rowsSha256;
      const before = await fingerprint();
      await bench.program.close();
      withRawDatabase(bench.paths.databaseFile, (database) => {
        database.prepare(`UPDATE sheet SET ${column} = '7' WHERE ${column} IS NOT NULL`).run();
      });
      await bench.reopen();
      expect(await fingerprint()).not.toBe(before);
      expect(await differencesOf(bench)).toEqual([expect.stringContaining(`${column}`)]);
    },
  );

  it("does not change how a sheet without it is known, and an older bench opens and verifies", async () => {
    const scene = await buildScene(bench);
    await calibrateTrain(bench, scene);
    await enterLength(bench, scene, "row-1", "23.0", "51.5");
    const before = await bench.call("reports.sheet", { sheetId: scene.sheet.id });
    await benchOfTheFirstVersion(bench.paths.databaseFile, old);
    const later = await tempBench({ paths: old.paths });
    const after = await later.call("reports.sheet", { sheetId: scene.sheet.id });
    expect(after.bySize).toBeNull();
    expect(before.bySize).toBeNull();
    const named = (await differencesOf(later)).filter((where) => /containers|volume|portion/.test(where));
    expect(named).toEqual([]);
    await later.end();
  });
});
