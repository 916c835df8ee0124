import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { buildScene, calibrateTrain, enter, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { correctCertificate, reevaluateWith } from "../../support/traceability-scenes.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
  await enterLength(bench, scene, "row-2", "40", "70");
});
afterEach(() => bench.end());

const onSheet = () => ({ requestId: bench.request(), sheetId: scene.sheet.id });
const undo = () => bench.call("rows.undo", onSheet());
const rows = async () =>
  (await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 10 })).rows;
const differences = async () => (await bench.call("trail.verify", {})).differences;
const scope = () => ({
  subject: { kind: "certificate" as const, id: scene.certificate.id },
  from: null,
  to: null,
  replacement: null,
});

async function reevaluate(): Promise<void> {
  const corrected = await correctCertificate(bench, scene);
  expect(await reevaluateWith(bench, scene, corrected)).toMatchObject({ state: "finished" });
}

describe("after a re-evaluation", () => {
  it("an older reading is not taken back: the row and its two results stay as they are", async () => {
    await enter(bench, scene, "row-2", { dimension: "length", edge: "right" }, "71");
    await reevaluate();
    const before = await rows();
    for (let again = 0; again < 2; again += 1) {
      expect(await bench.refusal("rows.undo", onSheet())).toMatchObject({
        code: "undo.blocked",
        message: expect.stringMatching(/71 in row 2.*row 2 has been changed since/s),
      });
    }
    expect(await rows()).toEqual(before);
    expect(await differences()).toEqual([]);
  });

  it("a pasted block whose rows were partly re-evaluated is not taken back in part", async () => {
    const { id: sheetId } = scene.sheet;
    await bench.call("rows.stageBlock", {
      sheetId,
      blockId: "block-1",
      part: 1,
      text: "a\t41\t62\nb\t42\t72\n",
    });
    await bench.call("rows.enterBlock", {
      requestId: bench.request(),
      block: {
        sheetId,
        blockId: "block-1",
        columns: [
          { kind: "label" },
          { kind: "reading", cell: { dimension: "length", edge: "left" } },
          { kind: "reading", cell: { dimension: "length", edge: "right" } },
        ],
        skipFirstLine: false,
        startAt: null,
        excluded: [],
        corrections: [],
      },
    });
    const last = (await rows()).at(-1)?.id ?? "";
    await bench.call("rows.strike", { ...onSheet(), rowId: last, reason: "not a grain" });
    await reevaluate();
    await undo();
    const before = await rows();
    // 28.5, 30, 21 div × 1004/96.4 and, struck meanwhile, 30 div × 1000/96.4 µm. Invented inputs.
    expect(before.map((row) => row.measurements[0]?.size?.shownValue)).toEqual([
      "296.8",
      "312.4",
      "218.7",
      "311.2",
    ]);
    expect(await bench.refusal("rows.undo", onSheet())).toMatchObject({ code: "undo.blocked" });
    expect(await rows()).toEqual(before);
    expect(await differences()).toEqual([]);
  });

  it("a reading taken back before it does not come again with the factor it replaces", async () => {
    await undo();
    expect((await bench.call("rows.journal", { sheetId: scene.sheet.id })).redo).not.toBeNull();
    await reevaluate();
    expect((await bench.call("rows.journal", { sheetId: scene.sheet.id })).redo).toBeNull();
    expect((await bench.refusal("rows.redo", onSheet())).code).toBe("redo.nothing");
  });

  it("a row struck before it may come back, as it was, and is found as not yet re-evaluated", async () => {
    await bench.call("rows.strike", { ...onSheet(), rowId: "row-2", reason: "not a grain" });
    await reevaluate();
    await undo();
    const [first, second] = await rows();
    expect(second?.struck).toBeNull();
    expect(second?.measurements[0]?.calibrationId).not.toBe(first?.measurements[0]?.calibrationId);
    const forward = await bench.call("trace.forward", scope());
    expect(forward.counts).toMatchObject({ rows: 1, results: 1 });
    expect(await differences()).toEqual([]);
  });

  it("what is done later is taken back as ever, down to the re-evaluated result and no further", async () => {
    await reevaluate();
    const reevaluated = await rows();
    await enter(bench, scene, "row-1", { dimension: "length", edge: "right" }, "61");
    expect(await rows()).not.toEqual(reevaluated);
    await undo();
    expect(await rows()).toEqual(reevaluated);
    expect((await bench.refusal("rows.undo", onSheet())).code).toBe("undo.blocked");
    expect(await differences()).toEqual([]);
  });
});
