import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { buildScene, calibrateTrain, type Scene } from "../../../support/bench-scenes.ts";
import { handOf, openCount } from "../../../support/count-scene.ts";
import { tamper } from "../../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;
let closedId: string;
const COUNTS = [7, 5, 9, 6, 8, 4, 7, 10, 6, 8];

async function closedCount(): Promise<string> {
  const count = await openCount(bench, scene);
  const hand = handOf(bench, count.id);
  for (const n of COUNTS) {
    await hand.press("diatoms", String(n));
    await hand.field();
  }
  await bench.call("counts.close", {
    requestId: bench.request(),
    countId: count.id,
    lastFieldCounted: false,
  });
  return count.id;
}

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  closedId = await closedCount();
});
afterEach(() => bench.end());

const enter = (recountId: string, field: number, counts: Record<string, string>) =>
  bench.call("recounts.enter", { requestId: bench.request(), recountId, field, counts });
const plan = (share: string) => ({ requestId: bench.request(), countId: closedId, share });

describe("a recount of fields", () => {
  it("draws the share rounded up, among the fields counted to their end, and hides the first result until it is finished", async () => {
    const recount = await bench.call("recounts.planFields", plan("0.25"));
    expect(recount.fields).toHaveLength(3);
    expect(new Set(recount.fields).size).toBe(3);
    for (const field of recount.fields) expect(COUNTS[field - 1]).toBeGreaterThan(0);
    for (const field of recount.fields) {
      const entered = await enter(recount.id, field, { diatoms: String(COUNTS[field - 1]) });
      expect(JSON.stringify(entered)).not.toContain("first");
      expect(entered.report).toBeNull();
    }
    const finished = await bench.call("recounts.finish", {
      requestId: bench.request(),
      recountId: recount.id,
      intracounterDeviation: "0.12",
    });
    const sum = recount.fields.reduce((total, field) => total + (COUNTS[field - 1] ?? 0), 0);
    expect(finished.report?.comparisons[0]).toEqual({
      of: "total",
      first: String(sum),
      firstFields: 3,
      second: String(sum),
      secondFields: 3,
      p: 1,
      differs: false,
    });
    expect(finished.report?.acceptance).toMatchObject({ accepted: true, difference: "0" });
    expect(finished.report?.sameCounter).toBe(true);
    expect(
      (
        await bench.refusal("recounts.enter", {
          requestId: bench.request(),
          recountId: recount.id,
          field: 1,
          counts: {},
        })
      ).code,
    ).toBe("recount.finished");
  });

  it("draws every field now and then, and not always the same", async () => {
    const drawn = new Set<number>();
    for (let i = 0; i < 60; i += 1) {
      const { fields } = await bench.call("recounts.planFields", plan("0.1"));
      for (const field of fields) drawn.add(field);
    }
    expect(drawn.size).toBeGreaterThan(7);
    expect(Math.max(...drawn)).toBeLessThanOrEqual(COUNTS.length);
    expect(await bench.call("recounts.list", { countId: closedId })).toHaveLength(60);
  });

  it("is compared with the trail by verify, entry by entry", async () => {
    const recount = await bench.call("recounts.planFields", plan("0.2"));
    await enter(recount.id, recount.fields[0] ?? 0, { diatoms: "3" });
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
    tamper(bench.paths.databaseFile, `UPDATE recount_entry SET counts_json = '{"diatoms":"8"}'`);
    const { differences } = await bench.call("trail.verify", {});
    expect(differences[0]?.where).toContain("recount");
    expect(differences[0]?.where).toContain("diatoms");
  });

  it("rejects a pair that differs too much", async () => {
    const recount = await bench.call("recounts.planFields", plan("1"));
    for (const field of recount.fields) await enter(recount.id, field, { diatoms: "2" });
    const { report } = await bench.call("recounts.finish", {
      requestId: bench.request(),
      recountId: recount.id,
      intracounterDeviation: "0.12",
    });
    expect(report?.acceptance?.accepted).toBe(false);
    expect(report?.comparisons[0]?.differs).toBe(true);
    expect(report?.words).toContain("rejected");
  });

  it("refuses what is not part of it, keeping what was entered; a field entered again replaces, and the trail has both", async () => {
    const recount = await bench.call("recounts.planFields", plan("0.2"));
    const [first = 0] = recount.fields;
    const other = COUNTS.findIndex((_, i) => !recount.fields.includes(i + 1)) + 1;
    await enter(recount.id, first, { diatoms: "3" });
    const base = { requestId: bench.request(), recountId: recount.id };
    expect((await bench.refusal("recounts.enter", { ...base, field: other, counts: {} })).code).toBe(
      "field.unknown",
    );
    expect(
      (await bench.refusal("recounts.enter", { ...base, field: first, counts: { oak: "1" } })).code,
    ).toBe("category.unknown");
    expect(
      await bench.refusal("recounts.enter", { ...base, field: first, counts: { diatoms: "x" } }),
    ).toMatchObject({ field: "counts.diatoms" });
    expect(await bench.refusal("recounts.finish", { ...base, intracounterDeviation: "" })).toMatchObject({
      code: "recount.incomplete",
    });
    const again = await enter(recount.id, first, { diatoms: "4" });
    expect(again.entries).toEqual([expect.objectContaining({ field: first, counts: { diatoms: "4" } })]);
    const [line] = await bench.call("trail.page", { before: null, count: 1 });
    expect(JSON.parse(line?.detail ?? "{}")).toEqual({
      field: first,
      from: { diatoms: "3" },
      to: { diatoms: "4" },
    });
  });

  it("is planned for closed counts and with a share alone", async () => {
    const open = await openCount(bench, scene);
    expect((await bench.refusal("recounts.planFields", { ...plan("0.1"), countId: open.id })).code).toBe(
      "count.open",
    );
    for (const share of ["0", "1.5", "", "ten"]) {
      expect(await bench.refusal("recounts.planFields", plan(share))).toMatchObject({
        code: "input.invalid",
        field: "share",
      });
    }
  });
});

describe("a recount of slides", () => {
  it("draws counts to be made again in fields of their own, and compares by the field", async () => {
    const countIds = [closedId, await closedCount(), await closedCount()];
    const recounts = await bench.call("recounts.planSlides", {
      requestId: bench.request(),
      countIds,
      share: "0.5",
    });
    expect(recounts).toHaveLength(2);
    expect(recounts.every((one) => one.kind === "slide" && countIds.includes(one.countId))).toBe(true);
    const id = recounts[0]?.id ?? "";
    await enter(id, 1, { diatoms: "7" });
    await enter(id, 2, { diatoms: "7" });
    const { report } = await bench.call("recounts.finish", {
      requestId: bench.request(),
      recountId: id,
      intracounterDeviation: "",
    });
    expect(report?.comparisons[0]).toMatchObject({
      first: "70",
      firstFields: 10,
      second: "14",
      secondFields: 2,
      differs: false,
    });
    expect(report?.acceptance).toBeNull();
  });
});
