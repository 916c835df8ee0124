import { describe, expect, it } from "vitest";
import { HAEMOCYTOMETER } from "#core/counting/methods/ready-bench-methods.ts";
import { POLLEN_MARKER } from "#core/counting/methods/ready-pollen-methods.ts";
import { countResults } from "#core/counting/results/count-results.ts";
import { type CountValues, filledBy, problemsOfCount } from "#renderer/screens/count/counts/count-form.ts";
import { offeredMethods } from "#renderer/screens/count/methods/offered-methods.ts";
import { reduceCounting } from "#renderer/screens/count/state/counting-reducer.ts";
import { openedCount } from "#renderer/screens/count/state/counting-state.ts";
import { liveResults, secondsCounted } from "#renderer/screens/count/state/live-results.ts";
import { fieldCounts } from "../../support/count-data.ts";
import { act, emptyCount } from "./count-fixture.ts";

describe("live results", () => {
  it("are those of the core for the fields on screen", () => {
    const from = emptyCount();
    from.count = { ...from.count, categories: HAEMOCYTOMETER.categories };
    let state = openedCount(from);
    const perField = [4, 6, 5];
    perField.forEach((count, at) => {
      for (let i = 0; i < count; i += 1) {
        state = reduceCounting(state, { type: "act", act: act("press", "unstained"), madeAt: 0 });
      }
      if (at < 2) state = reduceCounting(state, { type: "act", act: act("field"), madeAt: 0 });
    });
    const live = liveResults(state, { definition: HAEMOCYTOMETER, factor: null }, 0);
    const core = countResults({
      definition: HAEMOCYTOMETER,
      categories: HAEMOCYTOMETER.categories,
      inputs: {},
      factor: null,
      fields: fieldCounts(perField.map((unstained) => ({ unstained }))),
      lastFieldCounted: false,
      seconds: 0,
    });
    expect(live).toEqual(core);
    expect([live.total, live.inHand, live.fields]).toEqual(["10", "5", 2]);
  });

  it("the clock runs from the last going on, and stands while paused", () => {
    const { count } = emptyCount();
    const begun = Date.parse(count.runningSince ?? "");
    expect(secondsCounted({ ...count, secondsBefore: 60 }, begun + 90_500)).toBe(150);
    expect(secondsCounted({ ...count, secondsBefore: 60, runningSince: null }, begun)).toBe(60);
  });
});

describe("the form of a new count", () => {
  it("offers a ready method until the bench has one of its name", () => {
    const method = {
      id: "m-1",
      familyId: "f-1",
      version: 1,
      definition: POLLEN_MARKER,
      definedAt: "2026-01-31T09:00:00.000Z",
      definedBy: "p-1",
    };
    const names = (offered: ReturnType<typeof offeredMethods>) =>
      offered.map(({ definition }) => definition.name);
    const all = names(offeredMethods([]));
    const some = names(offeredMethods([method]));
    expect(all).toContain(POLLEN_MARKER.name);
    expect(some.filter((name) => name === POLLEN_MARKER.name)).toHaveLength(1);
    expect(some).toHaveLength(all.length);
  });

  it("names what is missing at its field: sample, unreadable inputs, a category without a name; none needs a key", () => {
    const offered = offeredMethods([]).find(({ definition }) => definition.name === HAEMOCYTOMETER.name);
    const values: CountValues = {
      samples: "",
      sample: "",
      customer: "",
      note: "",
      batch: "",
      microscopeId: "",
      eyepieceId: "",
      intermediateMagnification: "",
      objectiveId: "",
      listId: "",
      ...filledBy(offered, undefined),
      inputs: { dilution: "1..2" },
    };
    const own = { key: "own_1", name: "", keyCode: "", kind: "object" as const, halves: false };
    const problems = problemsOfCount({ ...values, categories: [...values.categories, own] }, offered);
    expect(Object.keys(problems).sort()).toEqual(["categories", "inputs.dilution", "sample"]);
    expect(problems.categories).toContain("a name");
  });
});
