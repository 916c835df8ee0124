import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { EGGS_MCMASTER } from "#core/counting/methods/ready-bench-methods.ts";
import { UTERMOHL_FIELDS } from "#core/counting/methods/ready-plankton-methods.ts";
import { POLLEN_MARKER } from "#core/counting/methods/ready-pollen-methods.ts";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../../support/bench-scenes.ts";
import { handOf, openCount } from "../../../support/count-scene.ts";
import { tamper } from "../../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
});
afterEach(() => bench.end());

const act = (countId: string) => ({ requestId: bench.request(), countId });
const clean = async () => {
  const report = await bench.call("trail.verify", {});
  expect(report.differences).toEqual([]);
  return report;
};

describe("a press", () => {
  it("is there with its category, field, time and number, and so is the running total", async () => {
    const count = await openCount(bench, scene);
    const hand = handOf(bench, count.id);
    await hand.press("greens");
    const echo = await hand.press("diatoms");
    expect(echo).toMatchObject({ categoryCount: "1", total: "2", fieldTotal: "2", currentField: 1 });
    expect(echo.event).toMatchObject({
      sequence: 2,
      field: 1,
      category: "diatoms",
      weight: "1",
      strikes: null,
    });
    const { fields, lastEvents } = await hand.state();
    expect(fields[0]?.counts).toEqual({ diatoms: "1", greens: "1" });
    expect(lastEvents.map((event) => event.sequence)).toEqual([2, 1]);
    await clean();
  });

  it("takes colonies, and halves where the category does", async () => {
    const count = await openCount(bench, scene, { definition: POLLEN_MARKER, inputs: {}, withTrain: false });
    const hand = handOf(bench, count.id);
    expect((await hand.press("pinus", "0,5")).categoryCount).toBe("0.5");
    expect((await hand.press("pinus", "8")).categoryCount).toBe("8.5");
    const press = (category: string, weight: string) => ({
      countId: count.id,
      act: { kind: "press", requestId: bench.request(), category, weight, rowId: null, waitedMs: 0 },
    });
    for (const [category, weight, words] of [
      ["betula", "0.5", "“Betula” takes whole numbers, not 0.5"],
      ["pinus", "0.3", "takes whole and half numbers, not 0.3"],
      ["pinus", "0", "greater than zero"],
      ["pinus", "-1", "less than zero"],
      ["pinus", "x", "character"],
      ["pinus", "2000000", "more than 1000000"],
    ] as const) {
      expect(await bench.refusal("counts.press", press(category, weight))).toMatchObject({
        code: "weight.unreadable",
        message: expect.stringContaining(words),
      });
    }
    expect((await bench.refusal("counts.press", press("oak", "1"))).code).toBe("category.unknown");
    expect((await hand.state()).fields[0]?.counts).toEqual({ pinus: "8.5" });
    await clean();
  });

  it("repeated with its request id counts once, also after the count was paused; with another weight it is refused", async () => {
    const count = await openCount(bench, scene);
    const press = {
      kind: "press" as const,
      requestId: "press-0001",
      category: "diatoms",
      weight: "3",
      rowId: null,
      waitedMs: 0,
    };
    const first = await bench.call("counts.press", { countId: count.id, act: press });
    await bench.call("counts.pause", act(count.id));
    const again = await bench.call("counts.press", { countId: count.id, act: { ...press, waitedMs: 900 } });
    expect(again).toEqual(first);
    expect(
      await bench.refusal("counts.press", { countId: count.id, act: { ...press, weight: "4" } }),
    ).toMatchObject({
      code: "input.invalid",
      field: "requestId",
    });
  });

  it("that waited in the window is dated when it was made", async () => {
    const count = await openCount(bench, scene);
    bench.clock.set("2026-03-02T10:00:10.000Z");
    const { event } = await bench.call("counts.press", {
      countId: count.id,
      act: {
        kind: "press",
        requestId: bench.request(),
        category: "diatoms",
        weight: "1",
        rowId: null,
        waitedMs: 4000,
      },
    });
    expect(event.at).toMatch(/^2026-03-02T10:00:06/);
  });
});

describe("presses that waited", () => {
  it("go in together in their order, once, with new fields and undos among them", async () => {
    const count = await openCount(bench, scene);
    const acts = [
      {
        kind: "press" as const,
        requestId: "queue-001",
        category: "diatoms",
        weight: "1",
        rowId: null,
        waitedMs: 30,
      },
      { kind: "field" as const, requestId: "queue-002", position: null, waitedMs: 20 },
      {
        kind: "press" as const,
        requestId: "queue-003",
        category: "greens",
        weight: "4",
        rowId: null,
        waitedMs: 10,
      },
      { kind: "undo" as const, requestId: "queue-004", waitedMs: 5 },
      {
        kind: "press" as const,
        requestId: "queue-005",
        category: "greens",
        weight: "1",
        rowId: null,
        waitedMs: 0,
      },
    ];
    const echoes = await bench.call("counts.pressMany", { countId: count.id, acts });
    expect(echoes.map((echo) => echo.event.sequence)).toEqual([1, 2, 3, 4, 5]);
    expect(echoes[3]?.struck).toMatchObject({ sequence: 3, weight: "4", struckBy: 4 });
    const more = [...acts, { kind: "field" as const, requestId: "queue-006", position: null, waitedMs: 0 }];
    const again = await bench.call("counts.pressMany", { countId: count.id, acts: more });
    expect(again.map((echo) => echo.event.sequence)).toEqual([1, 2, 3, 4, 5, 6]);
    const { fields, count: now } = await handOf(bench, count.id).state();
    expect(fields.map((field) => field.counts)).toEqual([{ diatoms: "1" }, { greens: "1" }, {}]);
    expect(now.lastSequence).toBe(6);
    await clean();
  });

  it("go in all or none", async () => {
    const count = await openCount(bench, scene);
    const acts = [
      { kind: "press", requestId: "queue-001", category: "diatoms", weight: "1", rowId: null, waitedMs: 0 },
      { kind: "press", requestId: "queue-002", category: "nobody", weight: "1", rowId: null, waitedMs: 0 },
    ];
    expect((await bench.refusal("counts.pressMany", { countId: count.id, acts })).code).toBe(
      "category.unknown",
    );
    expect((await handOf(bench, count.id).state()).count.lastSequence).toBe(0);
  });
});

describe("fields and undo", () => {
  it("count an empty field, and undo steps back through new fields, striking and never deleting", async () => {
    const count = await openCount(bench, scene);
    const hand = handOf(bench, count.id);
    await hand.press();
    await hand.field({ x: "12.3", y: "45.1" });
    await hand.field();
    expect((await hand.undo()).currentField).toBe(2);
    expect((await hand.undo()).currentField).toBe(1);
    expect((await hand.undo()).total).toBe("0");
    expect(
      await bench.refusal("counts.undo", {
        countId: count.id,
        act: { kind: "undo", requestId: bench.request(), waitedMs: 0 },
      }),
    ).toMatchObject({ code: "undo.empty" });
    const { events, last } = await bench.call("counts.events", { countId: count.id, from: 1, count: 100 });
    expect(last).toBe(6);
    expect(events.map((event) => [event.kind, event.strikes, event.struckBy])).toEqual([
      ["press", null, 6],
      ["field", null, 5],
      ["field", null, 4],
      ["undo", 3, null],
      ["undo", 2, null],
      ["undo", 1, null],
    ]);
    await hand.field();
    const { fields } = await hand.state();
    expect(fields.map((field) => field.position)).toEqual([null, null]);
    await clean();
  });

  it("keep where a field lies on the stage, and say so in the trail when it is changed", async () => {
    const count = await openCount(bench, scene);
    const hand = handOf(bench, count.id);
    await hand.field({ x: "10.1", y: "20.2" });
    await bench.call("counts.placeField", {
      ...act(count.id),
      field: 2,
      position: { x: "10.2", y: "20.2" },
    });
    expect((await hand.state()).fields.map((field) => field.position)).toEqual([
      null,
      { x: "10.2", y: "20.2" },
    ]);
    const wrong = { ...act(count.id), field: 3, position: { x: "1", y: "1" } };
    expect((await bench.refusal("counts.placeField", wrong)).code).toBe("field.unknown");
    const [line] = await bench.call("trail.page", { before: null, count: 1 });
    expect(JSON.parse(line?.detail ?? "{}").position).toEqual({
      from: { x: "10.1", y: "20.2" },
      to: { x: "10.2", y: "20.2" },
    });
  });
});

describe("pausing and closing", () => {
  it("goes on days later at the same field, and only counted time counts", async () => {
    bench.clock.set("2026-03-02T10:00:00.000Z");
    const count = await openCount(bench, scene);
    const hand = handOf(bench, count.id);
    await hand.press();
    await hand.field();
    bench.clock.set("2026-03-02T10:05:01.500Z");
    const paused = await bench.call("counts.pause", act(count.id));
    expect(paused.secondsBefore).toBe(301);
    const press = {
      countId: count.id,
      act: {
        kind: "press",
        requestId: bench.request(),
        category: "diatoms",
        weight: "1",
        rowId: null,
        waitedMs: 0,
      },
    };
    expect((await bench.refusal("counts.press", press)).code).toBe("count.paused");
    await bench.reopen();
    bench.clock.set("2026-03-05T08:00:00.000Z");
    await bench.call("counts.resume", act(count.id));
    expect((await hand.press()).currentField).toBe(2);
    bench.clock.set("2026-03-05T08:01:01.500Z");
    await bench.call("counts.pause", act(count.id));
    expect((await bench.call("counts.get", { countId: count.id })).secondsBefore).toBe(362);
    await clean();
  });

  it("a count left running by a crash is ended at its last press", async () => {
    bench.clock.set("2026-03-02T10:00:00.000Z");
    const count = await openCount(bench, scene);
    bench.clock.set("2026-03-02T10:02:00.500Z");
    await handOf(bench, count.id).press();
    bench.clock.set("2026-03-09T10:00:00.000Z");
    const resumed = await bench.call("counts.resume", act(count.id));
    expect(resumed).toMatchObject({
      state: "counting",
      secondsBefore: 120,
      runningSince: expect.stringMatching(/^2026-03-09T10:00:00/),
    });
  });

  it("freezes the results with the factor of then; a later calibration changes nothing", async () => {
    const count = await openCount(bench, scene);
    const hand = handOf(bench, count.id);
    for (const n of [7, 5, 9, 6, 8, 4, 7, 10, 6, 8]) {
      for (let i = 0; i < n; i += 1) await hand.press(i % 3 === 0 ? "greens" : "diatoms");
      await hand.field();
    }
    const live = await bench.call("counts.results", { countId: count.id });
    expect(live.frozen).toBe(false);
    const closed = await bench.call("counts.close", { ...act(count.id), lastFieldCounted: false });
    const { densities, fields, dispersion } = closed.results ?? {};
    expect({ fields, verdict: dispersion?.verdict }).toEqual({ fields: 10, verdict: "random" });
    // 1000 µm / 96.4 div: 70 units in 10 squares of (25·f)², 10 mL in a chamber of 25 mm.
    const f = 1000 / 96.4 / 1000;
    const expected = (70 * (Math.PI / 4) * 25 ** 2) / ((25 * f) ** 2 * 10 * 10);
    expect(Number(densities?.[0]?.value) / expected).toBeCloseTo(1, 9);
    await calibrateTrain(bench, scene, { right: "98" });
    expect(await bench.call("counts.results", { countId: count.id })).toEqual({
      frozen: true,
      results: closed.results,
    });
    const { counts } = await clean();
    expect(counts).toBe(1);
  });

  it("counts the last field only when it was finished, and opens again with a reason, keeping the old results", async () => {
    const count = await openCount(bench, scene);
    const hand = handOf(bench, count.id);
    await hand.press();
    const closed = await bench.call("counts.close", { ...act(count.id), lastFieldCounted: true });
    expect(closed.results).toMatchObject({ fields: 1, total: "1", inHand: "0" });
    for (const name of ["counts.pause", "counts.resume", "counts.close"] as const) {
      const input = name === "counts.close" ? { ...act(count.id), lastFieldCounted: true } : act(count.id);
      expect((await bench.refusal(name, input)).code).toBe("count.closed");
    }
    const opened = await bench.call("counts.reopen", {
      ...act(count.id),
      reason: "two fields were left out",
    });
    expect(opened).toMatchObject({ state: "paused", results: null, closedAt: null });
    const lines = await bench.call("trail.page", { before: null, count: 5 });
    expect(lines[0]).toMatchObject({ act: "tallies.reopen", reason: "two fields were left out" });
    expect(JSON.parse(lines[1]?.detail ?? "{}").results).toEqual(closed.results);
    await bench.call("counts.resume", act(count.id));
    await hand.press();
    expect(
      (await bench.call("counts.close", { ...act(count.id), lastFieldCounted: false })).results,
    ).toMatchObject({ fields: 0, total: "0", inHand: "2" });
    await clean();
  });
});

describe("what surrounds a count", () => {
  it("the keys are locked while it runs; paused they change with a reason, and a category that was used stays", async () => {
    const count = await openCount(bench, scene);
    const [first, second, ...rest] = count.categories;
    if (!first || !second) throw new Error("no categories");
    const swapped = [{ ...first, keyCode: second.keyCode }, { ...second, keyCode: first.keyCode }, ...rest];
    const change = (categories: unknown) => ({ ...act(count.id), categories, reason: "left hand" });
    expect((await bench.refusal("counts.changeCategories", change(swapped))).code).toBe("count.running");
    await bench.call("counts.pause", act(count.id));
    const added = {
      key: "euglena",
      name: "Euglena",
      keyCode: "KeyE",
      kind: "object" as const,
      halves: false,
    };
    const changed = await bench.call("counts.changeCategories", {
      ...act(count.id),
      categories: [...swapped, added],
      reason: "a new taxon appeared",
    });
    expect(changed.categories.map((one) => one.keyCode)).toContain("KeyE");
    for (const [categories, field] of [
      [rest, "categories"],
      [[{ ...first, kind: "aside" }, second, ...rest], "categories"],
      [[first, { ...second, keyCode: first.keyCode }, ...rest, added], "categories.1.keyCode"],
    ] as const) {
      expect(await bench.refusal("counts.changeCategories", change(categories))).toMatchObject({
        code: "input.invalid",
        field,
      });
    }
    await bench.call("counts.resume", act(count.id));
    expect((await handOf(bench, count.id).press("euglena")).total).toBe("1");
    await clean();
  });

  it("without a calibration says what is missing, and freezes one when the inputs are saved again", async () => {
    const other = await tempBench();
    try {
      const bare = await buildScene(other);
      const count = await openCount(other, bare);
      expect(count.calibrationId).toBeNull();
      const hand = handOf(other, count.id);
      await hand.press();
      await hand.field();
      const before = await other.call("counts.results", { countId: count.id });
      expect(before.results.missing).toContain("No factor is frozen");
      const calibration = await calibrateTrain(other, bare);
      const changed = await other.call("counts.changeInputs", {
        requestId: other.request(),
        countId: count.id,
        inputs: { ...count.inputs, settledVolume: "50" },
        reason: "50 mL were settled",
      });
      expect(changed.calibrationId).toBe(calibration.id);
      const after = await other.call("counts.results", { countId: count.id });
      expect(after.results.densities[0]?.factor?.power).toBe(-2);
      expect((await other.call("trail.verify", {})).differences).toEqual([]);
    } finally {
      await other.end();
    }
  });

  it("a method with a field area needs a train, one without does not", async () => {
    const method = await bench.call("countMethods.define", {
      requestId: bench.request(),
      familyId: null,
      definition: UTERMOHL_FIELDS,
    });
    const open = {
      requestId: bench.request(),
      position: null,
      count: {
        sample: "x",
        note: "",
        countMethodId: method.id,
        train: null,
        categories: UTERMOHL_FIELDS.categories,
        inputs: {},
        batch: "",
      },
    };
    expect((await bench.refusal("counts.open", open)).code).toBe("train.missing");
    const eggs = await openCount(bench, scene, { definition: EGGS_MCMASTER, inputs: {}, withTrain: false });
    await handOf(bench, eggs.id).press("strongyles", "23");
    const closed = await bench.call("counts.close", { ...act(eggs.id), lastFieldCounted: true });
    expect(closed.results?.densities[0]?.value).toBe("1150");
  });

  it("links a sheet; a press may name the row that measured the object, and no other", async () => {
    const count = await openCount(bench, scene);
    await enterLength(bench, scene, "row-1", "10", "30");
    const press = (rowId: string) => ({
      countId: count.id,
      act: {
        kind: "press",
        requestId: bench.request(),
        category: "diatoms",
        weight: "1",
        rowId,
        waitedMs: 0,
      },
    });
    expect((await bench.refusal("counts.press", press("row-1"))).code).toBe("row.unknown");
    await bench.call("counts.linkSheet", { ...act(count.id), sheetId: scene.sheet.id });
    expect((await bench.refusal("counts.press", press("row-9"))).code).toBe("row.unknown");
    const echo = await handOf(bench, count.id).press("diatoms", "1", "row-1");
    expect(echo.event.rowId).toBe("row-1");
    await clean();
  });

  it("methods have versions, and a name belongs to one method", async () => {
    const define = (familyId: string | null, definition = UTERMOHL_FIELDS) => ({
      requestId: bench.request(),
      familyId,
      definition,
    });
    const first = await bench.call("countMethods.define", define(null));
    expect((await bench.refusal("countMethods.define", define(null))).code).toBe("countMethod.taken");
    const next = await bench.call(
      "countMethods.define",
      define(first.familyId, { ...UTERMOHL_FIELDS, note: "20 fields at least" }),
    );
    expect(next).toMatchObject({ version: 2, familyId: first.familyId });
    expect(await bench.call("countMethods.list", {})).toEqual([next]);
    expect(await bench.call("countMethods.get", { countMethodId: first.id })).toEqual(first);
    const wrong = { ...UTERMOHL_FIELDS, name: "other", categories: [] };
    expect((await bench.refusal("countMethods.define", define(null, wrong))).code).toBe("input.invalid");
  });
});

describe("a doubtful factor", () => {
  it("reaches the densities of counts with its square, beside the frozen ones", async () => {
    const count = await openCount(bench, scene);
    const hand = handOf(bench, count.id);
    await hand.press("diatoms", "40");
    await hand.field();
    const closed = await bench.call("counts.close", { ...act(count.id), lastFieldCounted: false });
    const eggs = await openCount(bench, scene, { definition: EGGS_MCMASTER, inputs: {} });
    const later = await calibrateTrain(bench, scene, { right: "98" });
    const calibrationId = closed.calibrationId ?? "";
    const scope = {
      subject: { kind: "calibration" as const, id: calibrationId },
      from: null,
      to: null,
      replacement: { kind: "calibration" as const, calibrationId: later.id },
    };
    const touched = await bench.call("counts.touchedBy", scope);
    expect(touched.map((one) => one.count.id)).toEqual([count.id, eggs.id]);
    const [total] = touched[0]?.densities ?? [];
    expect(total?.before).toEqual(closed.results?.densities[0]);
    // The factors are 1000/96.4 and 1000/98 µm/div.
    expect(Number(total?.relativeChange)).toBeCloseTo((98 / 96.4) ** 2 - 1, 9);
    expect(Number(total?.after?.value) / Number(total?.before.value)).toBeCloseTo((98 / 96.4) ** 2, 9);
    expect(touched[1]?.densities).toEqual([]);
    const alone = await bench.call("counts.touchedBy", { ...scope, replacement: null });
    expect(alone[0]?.densities[0]).toMatchObject({ after: null, relativeChange: null });
    expect(await bench.call("counts.touchedBy", { ...scope, to: "2020-01-01" })).toEqual([]);
    expect((await bench.call("counts.get", { countId: count.id })).results).toEqual(closed.results);
  });
});

describe("verify names what was changed behind the program's back", () => {
  it.each([
    ["a weight", "UPDATE tally_event SET thousandths = 4 WHERE sequence = 1", "count T-0001, event 1"],
    ["a category", "UPDATE tally_event SET category = 'greens' WHERE sequence = 2", "count T-0001, event 2"],
    [
      "a time",
      "UPDATE tally_event SET at = '2026-03-02T09:00:00.000Z' WHERE sequence = 1",
      "count T-0001, event 1",
    ],
    ["a press taken out", "DELETE FROM tally_event WHERE sequence = 2", "count T-0001, event 2"],
    [
      "the last press taken out with its sums",
      "DELETE FROM tally_event WHERE sequence = 4",
      "count T-0001, last event",
    ],
    ["a strike taken back", "UPDATE tally_event SET struck_by = NULL", "count T-0001, event 2, struck by"],
    [
      "a sum",
      "UPDATE tally_field_count SET thousandths = 60 WHERE category = 'diatoms'",
      "field 1, diatoms, objects",
    ],
    [
      "an input",
      "UPDATE tally SET inputs_json = json_set(inputs_json, '$.settledVolume', '5')",
      "as told by the trail, inputs, settledVolume",
    ],
    [
      "a result of which the trail knew better",
      "UPDATE tally SET results_json = json_set(results_json, '$.total', '2')",
      "as told by the trail, results, total",
    ],
    [
      "a place on the stage",
      "UPDATE tally_field SET x_typed = '9', y_typed = '9' WHERE ordinal = 2",
      "field 2, position",
    ],
    [
      "the method",
      "UPDATE count_method SET definition_json = json_set(definition_json, '$.countingUnit', 'colony')",
      "countingUnit",
    ],
    [
      "a result",
      "UPDATE tally SET results_json = json_set(results_json, '$.densities[0].value', '1')",
      "results, densities, 0, value",
    ],
  ])("%s", async (_, sql, where) => {
    const count = await openCount(bench, scene);
    const hand = handOf(bench, count.id);
    await hand.press();
    await hand.press();
    await hand.undo();
    await hand.field();
    await bench.call("counts.close", { ...act(count.id), lastFieldCounted: false });
    await clean();
    tamper(bench.paths.databaseFile, sql);
    const { differences } = await bench.call("trail.verify", {});
    expect(differences.map((one) => one.where).join("\n")).toContain(where);
  });
});
