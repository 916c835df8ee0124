import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { CallInput } from "#core/contract/calls.ts";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../../support/bench-scenes.ts";
import { tamper } from "../../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;
let secondPerson: string;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  for (let n = 1; n <= 10; n += 1) await enterLength(bench, scene, `row-${n}`, "10", `${41.37 + n}`);
  await bench.call("rows.strike", {
    requestId: bench.request(),
    sheetId: scene.sheet.id,
    rowId: "row-10",
    reason: "broken",
  });
  const person = await bench.call("people.register", {
    requestId: bench.request(),
    person: { name: "Ben Example", initials: "BE", interpupillaryMm: "" },
  });
  secondPerson = person.id;
  await bench.call("people.choose", { personId: secondPerson });
});
afterEach(() => bench.end());

type Choice = CallInput<"secondReadings.start">["choice"];
const start = (choice: Choice) =>
  bench.call("secondReadings.start", {
    requestId: bench.request(),
    sheetId: scene.sheet.id,
    choice,
    note: "",
  });

async function read(secondReadingId: string, rowId: string, left: string, right: string) {
  const at = { secondReadingId, rowId };
  const cell = (edge: "left" | "right") => ({ dimension: "length", edge });
  await bench.call("secondReadings.enter", {
    requestId: bench.request(),
    ...at,
    cell: cell("left"),
    typed: left,
  });
  return bench.call("secondReadings.enter", {
    requestId: bench.request(),
    ...at,
    cell: cell("right"),
    typed: right,
  });
}

describe("a second reading", () => {
  it("keeps what is half-typed through a crash, until it is taken, given up or the reading is closed", async () => {
    const { id: secondReadingId } = await start({ kind: "rows", rowIds: ["row-1", "row-2"] });
    const drafts = async () => (await bench.call("secondReadings.get", { secondReadingId })).drafts;
    const half = (rowId: string, edge: "left" | "right", typed: string) =>
      bench.call("secondReadings.keepDraft", {
        secondReadingId,
        rowId,
        cell: { dimension: "length", edge },
        typed,
      });
    await half("row-1", "left", "1");
    await half("row-1", "left", "10.");
    await half("row-2", "right", "4");
    await bench.reopen();
    expect(await drafts()).toEqual([
      { rowId: "row-1", cell: { dimension: "length", edge: "left", repeat: 1 }, typed: "10." },
      { rowId: "row-2", cell: { dimension: "length", edge: "right", repeat: 1 }, typed: "4" },
    ]);
    await read(secondReadingId, "row-1", "10.5", "42.5");
    expect((await drafts()).map(({ rowId }) => rowId)).toEqual(["row-2"]);
    await half("row-2", "right", "");
    expect(await drafts()).toEqual([]);
    await half("row-2", "left", "3");
    await bench.call("secondReadings.close", { requestId: bench.request(), secondReadingId });
    expect(await drafts()).toEqual([]);
    expect(
      await bench.refusal("secondReadings.keepDraft", {
        secondReadingId,
        rowId: "row-2",
        cell: { dimension: "length", edge: "left" },
        typed: "3",
      }),
    ).toMatchObject({ code: "second-reading.closed" });
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  });

  it("is verified: sizes from what was typed, the report from its pairs", async () => {
    const begun = await start({ kind: "rows", rowIds: ["row-1", "row-2"] });
    await read(begun.id, "row-1", "10", "42.5");
    await read(begun.id, "row-2", "10", "43.5");
    await bench.call("secondReadings.close", { requestId: bench.request(), secondReadingId: begun.id });
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
    tamper(
      bench.paths.databaseFile,
      `UPDATE second_reading_measurement SET measurement_json = json_set(measurement_json, '$.divisions', '31')
         WHERE row_id = 'row-1';
       UPDATE second_reading SET report_json = json_set(report_json, '$.dimensions[0].bias', '0')`,
    );
    const { differences } = await bench.call("trail.verify", {});
    expect(differences.map((one) => one.where)).toEqual([
      "sheet S-0001, second reading 1, row-1, length, divisions",
      "sheet S-0001, second reading 1, agreement, 0, bias",
      expect.stringMatching(
        /^sheet S-0001, second reading 1, as told by trail line \d+, dimensions, 0, bias$/,
      ),
    ]);
  });

  it("shows nothing of the first until it is closed, then how the two agree", async () => {
    const begun = await start({ kind: "rows", rowIds: ["row-1", "row-2", "row-3"] });
    expect(begun).toMatchObject({
      number: 1,
      state: "open",
      reader: secondPerson,
      sameReader: false,
      rowCount: 3,
      readCount: 0,
    });
    const at = { secondReadingId: begun.id };
    for (const [rowId, right] of [
      ["row-1", "42.57"],
      ["row-2", "43.37"],
      ["row-3", "44.77"],
    ] as const) {
      await read(begun.id, rowId, "10", right);
    }
    const open = await bench.call("secondReadings.get", at);
    expect(open.report).toBeNull();
    expect(open.secondReading.readCount).toBe(3);
    // The first readings end on .37, which the second person typed only for row 2.
    const sent = JSON.stringify({
      open,
      list: await bench.call("secondReadings.list", { sheetId: scene.sheet.id }),
    });
    expect(sent).toContain("42.57");
    expect(sent).not.toContain("42.37");
    expect(sent).not.toContain("44.37");

    const closed = await bench.call("secondReadings.close", { requestId: bench.request(), ...at });
    expect(closed).toMatchObject({ state: "closed", closedBy: secondPerson, readCount: 3 });
    const { report } = await bench.call("secondReadings.get", at);
    const [length] = report?.dimensions ?? [];
    // Differences 0.2, 0 and 0.4 div: mean 0.2 div, 2.07 µm with 1000/96.4 µm/div; computed.
    expect(Number(length?.bias)).toBeCloseTo((0.2 * 1000) / 96.4, 3);
    expect(length).toMatchObject({ dimension: "length", n: 3 });
    expect(report?.pairs.map((one) => one.ordinal)).toEqual([1, 2, 3]);
    expect(report?.leftOut).toEqual([]);

    const refused = await bench.refusal("secondReadings.enter", {
      requestId: bench.request(),
      ...at,
      rowId: "row-1",
      cell: { dimension: "length", edge: "left" },
      typed: "11",
    });
    expect(refused.code).toBe("second-reading.closed");
    await bench.reopen();
    expect((await bench.call("secondReadings.get", at)).report).toEqual(report);
  });

  it("draws rows by chance among those measured and not struck, and tells the trail which", async () => {
    const begun = await start({ kind: "share", percent: 50 });
    const { rows } = await bench.call("secondReadings.get", { secondReadingId: begun.id });
    expect(rows).toHaveLength(5);
    expect(new Set(rows.map((row) => row.rowId)).size).toBe(5);
    expect(rows.map((row) => row.rowId)).not.toContain("row-10");
    const [line] = await bench.call("trail.page", { before: null, count: 1 });
    expect(JSON.parse(line?.detail ?? "{}")).toMatchObject({ rowIds: rows.map((row) => row.rowId) });
    await bench.call("secondReadings.close", { requestId: bench.request(), secondReadingId: begun.id });
    const { report } = await bench.call("secondReadings.get", { secondReadingId: begun.id });
    expect(report?.leftOut).toHaveLength(5);
    const next = await start({ kind: "count", count: 100 });
    expect(next).toMatchObject({ number: 2, rowCount: 9 });
  });

  it("uses the factor of the first reading, whatever is in force by now", async () => {
    const begun = await start({ kind: "rows", rowIds: ["row-1"] });
    const first = (await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 1 })).rows[0];
    await calibrateTrain(bench, scene, { right: "90" });
    const row = await read(begun.id, "row-1", "10", "42.37");
    expect(row.measurements[0]).toMatchObject({
      calibrationId: first?.measurements[0]?.calibrationId,
      size: { value: first?.measurements[0]?.size?.value },
    });
  });

  it("is of its reader, of its rows and of dimensions that were measured", async () => {
    const begun = await start({ kind: "rows", rowIds: ["row-1"] });
    const enter = (rowId: string, dimension: string, typed = "10") => ({
      requestId: bench.request(),
      secondReadingId: begun.id,
      rowId,
      cell: { dimension, edge: "left" },
      typed,
    });
    expect((await bench.refusal("secondReadings.enter", enter("row-2", "length"))).code).toBe("row.unknown");
    expect((await bench.refusal("secondReadings.enter", enter("row-1", "width"))).code).toBe(
      "dimension.unknown",
    );
    expect((await bench.refusal("secondReadings.enter", enter("row-1", "length", "x"))).code).toBe(
      "reading.unreadable",
    );
    expect(
      (await bench.refusal("secondReadings.start", { ...enter("", ""), sheetId: scene.sheet.id })).code,
    ).toBe("input.invalid");
    const again = {
      requestId: bench.request(),
      sheetId: scene.sheet.id,
      choice: { kind: "count", count: 1 },
      note: "",
    };
    expect((await bench.refusal("secondReadings.start", again)).code).toBe("second-reading.open");
    await bench.call("people.choose", { personId: scene.personId });
    expect((await bench.refusal("secondReadings.enter", enter("row-1", "length"))).code).toBe(
      "second-reading.reader",
    );
  });

  it("says when the reader is the first one, and when there is nothing to read", async () => {
    await bench.call("people.choose", { personId: scene.personId });
    expect(await start({ kind: "count", count: 1 })).toMatchObject({ sameReader: true });
    const empty = {
      requestId: bench.request(),
      sheetId: "nowhere",
      choice: { kind: "count", count: 1 },
      note: "",
    };
    expect((await bench.refusal("secondReadings.start", empty)).code).toBe("sheet.unknown");
  });
});
