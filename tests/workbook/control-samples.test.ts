import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { ControlSample } from "#core/contract/records/control-sample.ts";
import type { Count } from "#core/contract/records/count.ts";
import { HAEMOCYTOMETER } from "#core/counting/methods/ready-bench-methods.ts";
import { buildScene, type Scene } from "../support/bench-scenes.ts";
import { handOf, openCount } from "../support/count-scene.ts";
import { finishedExport } from "../support/finished-export.ts";
import { tamper } from "../support/raw-database.ts";
import { type TempBench, tempBench } from "../support/temp-bench.ts";
import { disagreements, errorsIn } from "./compare-books.ts";
import { readBook, recalculated } from "./other-programs.ts";

let bench: TempBench;
let scene: Scene;
const definition = {
  ...HAEMOCYTOMETER,
  name: "Squares with controls",
  controlLimits: {
    blankUpper: "5",
    recoveryLower: "80",
    recoveryUpper: "120",
    duplicateUpper: "30",
    source: "procedure 12 (invented)",
  },
};

async function closed(objects: number, control: ControlSample | null): Promise<Count> {
  const { id: countId } = await openCount(bench, scene, {
    definition,
    inputs: { dilution: "1" },
    withTrain: false,
  });
  const hand = handOf(bench, countId);
  if (objects > 0) await hand.press("unstained", String(objects));
  const about = () => ({ requestId: bench.request(), countId });
  await bench.call("counts.close", { ...about(), lastFieldCounted: true });
  return bench.call("counts.setControl", { ...about(), control, reason: "" });
}

const addition = (stated = "100"): ControlSample => ({
  kind: "recovery",
  of: "total",
  against: "objects",
  stated,
  expanded: "4",
  portion: "50",
  background: "2",
  source: "beads of lot 7 (invented)",
});

beforeAll(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  for (const objects of [51, 47, 55, 49, 53, 50, 46, 20, 52]) await closed(objects, addition());
  for (const objects of [2, 0, 3, 1, 40, 2]) await closed(objects, { kind: "blank" });
  for (const [first, second] of [
    [100, 108],
    [90, 84],
    [120, 126],
    [101, 95],
    [88, 92],
    [110, 103],
    [97, 160],
    [99, 104],
  ] as const) {
    const { id } = await closed(first, null);
    await closed(second, { kind: "duplicate", ofCountId: id });
  }
}, 120_000);
afterAll(() => bench.end());

const familyId = async () => (await bench.call("countMethods.list", {}))[0]?.familyId ?? "";

describe.each([
  ["recovery", "Recoveries", 9, 7],
  ["blank", "Blanks", 6, 4],
  ["duplicate", "Duplicates", 8, 6],
] as const)("the series of each %s", (kind, title, points, wrong) => {
  it("names the one that is wrong, and no other", async () => {
    const series = await bench.call("counts.controls", { familyId: await familyId(), kind });
    expect(series.points).toHaveLength(points);
    expect(series.points.map(({ isBeyond }) => isBeyond).indexOf(true)).toBe(wrong);
    expect(series.points.filter(({ isBeyond }) => isBeyond)).toHaveLength(1);
    expect(series.points[wrong]?.isOutsideStated).toBe(true);
    expect(series.points.at(-1), "the wrong one does not widen the later limits").toMatchObject({
      earlier: points - 2,
      isBeyond: false,
    });
  });

  it("is recalculated by LibreOffice to the same", async () => {
    const begun = await bench.call("counts.controlsWorkbook", {
      familyId: await familyId(),
      kind,
      paper: "A4",
    });
    const { file } = await finishedExport(bench, begun);
    const written = readBook(file?.path ?? "");
    expect(written.order).toEqual([title]);
    const again = readBook(recalculated(file?.path ?? ""));
    expect(errorsIn(again)).toEqual([]);
    expect(disagreements(written, again)).toEqual([]);
    const verdicts = Object.entries(again.sheets[title]?.cells ?? {}).filter(
      ([, cell]) => cell.value === "beyond",
    );
    expect(verdicts).toHaveLength(1);
  }, 60_000);
});

describe("a control sample", () => {
  it("is known to verify, and a changed one is named", async () => {
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
    tamper(bench.paths.databaseFile, `UPDATE tally SET control_json = '{"kind":"blank"}' WHERE ordinal = 1`);
    expect(JSON.stringify((await bench.call("trail.verify", {})).differences)).toContain("control");
  });

  it("is refused where it makes no sense, at its field", async () => {
    const count = await closed(5, null);
    const set = (control: ControlSample) =>
      bench.refusal("counts.setControl", {
        requestId: bench.request(),
        countId: count.id,
        control,
        reason: "",
      });
    const recovery = addition("10");
    if (recovery.kind !== "recovery") throw new Error("no recovery");
    expect(await set({ kind: "duplicate", ofCountId: count.id })).toMatchObject({
      field: "control.ofCountId",
    });
    expect(await set({ kind: "duplicate", ofCountId: "nobody" })).toMatchObject({ code: "count.unknown" });
    expect(await set({ ...recovery, stated: "0" })).toMatchObject({ field: "control.stated" });
    expect(await set({ ...recovery, portion: "120" })).toMatchObject({ field: "control.portion" });
    expect(await set({ ...recovery, of: "ghosts" })).toMatchObject({ field: "control.of" });
    expect(await set({ ...recovery, against: "density" })).toMatchObject({ field: "control.background" });
    await bench.call("counts.setControl", {
      requestId: bench.request(),
      countId: count.id,
      control: { kind: "blank" },
      reason: "",
    });
    expect(await set(recovery), "a change needs a reason").toMatchObject({ field: "reason" });
  });
});
