import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

const rows = async () =>
  (await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 50 })).rows;
const convert = (from: number, to: number) => ({
  requestId: bench.request(),
  sheetId: scene.sheet.id,
  rows: { from, to },
  reason: "calibrated on the day after",
});
const differences = async () => (await bench.call("trail.verify", {})).differences;
const sizes = async () => (await rows()).map(({ measurements }) => measurements[0]?.size?.value ?? null);

/** Row ids are the window's own; all read alike, so that all sizes are one. */
const read = (row: number) =>
  enterLength(bench, scene, `0199aaaa-0000-7000-8000-00000000000${row}`, "40", "60");

/** Two rows read without a factor, a third after the calibration. */
async function threeRows(): Promise<void> {
  await read(1);
  await read(2);
  await calibrateTrain(bench, scene);
  await read(3);
}

describe("rows read without a factor", () => {
  it("get the size they would have had, keep what they were, and undo, redo, trail and verify know it", async () => {
    await threeRows();
    const [first, second, third] = await sizes();
    expect([first, second]).toEqual([null, null]);
    expect(third).not.toBeNull();
    const changed = await bench.call("rows.convert", convert(1, 3));
    expect(changed.count).toBe(2);
    expect(await sizes()).toEqual([third, third, third]);
    const [row] = await rows();
    expect(row?.measurements[0]).toMatchObject({ missing: null });
    const kept = await bench.call("rows.superseded", { rowId: row?.id ?? "" });
    expect(kept).toMatchObject([
      { act: "rows.convert", reason: "calibrated on the day after", measurement: { size: null } },
    ]);
    expect(await differences()).toEqual([]);
    await bench.call("rows.undo", { requestId: bench.request(), sheetId: scene.sheet.id } as never);
    expect(await sizes()).toEqual([null, null, third]);
    expect(await differences()).toEqual([]);
    await bench.call("rows.redo", { requestId: bench.request(), sheetId: scene.sheet.id } as never);
    expect(await sizes()).toEqual([third, third, third]);
    expect(await differences()).toEqual([]);
  });

  it("are refused while there is no factor, and once they have their size", async () => {
    await read(1);
    expect(await bench.refusal("rows.convert", convert(1, 1))).toMatchObject({
      code: "rows.nothing-to-convert",
      field: "rows",
    });
    await calibrateTrain(bench, scene);
    await bench.call("rows.convert", convert(1, 1));
    expect(await bench.refusal("rows.convert", convert(1, 1))).toMatchObject({
      code: "rows.nothing-to-convert",
    });
  });

  it("are converted once by a repeated request", async () => {
    await threeRows();
    const input = convert(1, 2);
    const first = await bench.call("rows.convert", input);
    expect(await bench.call("rows.convert", input)).toEqual(first);
    const [row] = await rows();
    expect(await bench.call("rows.superseded", { rowId: row?.id ?? "" })).toHaveLength(1);
  });
});
