import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { CountingAct } from "#core/contract/records/count.ts";
import { replayEvents } from "#core/counting/inputs/field-counts.ts";
import { readyToSend, reduceCounting } from "#renderer/screens/count/state/counting-reducer.ts";
import { type CountingState, openedCount, totalIn } from "#renderer/screens/count/state/counting-state.ts";
import { act, emptyCount, RememberingHost } from "./count-fixture.ts";

const press = (state: CountingState, one: CountingAct): CountingState =>
  reduceCounting(state, { type: "act", act: one, madeAt: 0 });

/** Counts as plain text, without the zeros of what was taken back. */
function countsOf(state: CountingState): string {
  return JSON.stringify(
    state.fields.map(({ thousandths }) =>
      Object.entries(thousandths)
        .filter(([, count]) => count !== 0)
        .sort(),
    ),
  );
}

const anyAct = fc.oneof(
  { weight: 6, arbitrary: fc.constantFrom("pinus", "betula", "marker").map((key) => act("press", key)) },
  { weight: 1, arbitrary: fc.constant(0).map(() => act("press", "pinus", "0.5")) },
  { weight: 1, arbitrary: fc.integer({ min: 2, max: 99 }).map((n) => act("press", "betula", String(n))) },
  { weight: 2, arbitrary: fc.constant(0).map(() => act("field")) },
  { weight: 3, arbitrary: fc.constant(0).map(() => act("undo")) },
);

/** Drops undos that would find nothing standing: the host refuses them. */
function possible(acts: readonly CountingAct[]): CountingAct[] {
  let undoStack = 0;
  return acts.filter((one) => {
    if (one.kind === "undo" && undoStack === 0) return false;
    undoStack += one.kind === "undo" ? -1 : 1;
    return true;
  });
}

describe("the counts on the screen", () => {
  it("are those that a replay of the same acts finds, before and after the host has answered", () => {
    fc.assert(
      fc.property(fc.array(anyAct, { maxLength: 60 }), (drawn) => {
        const acts = possible(drawn);
        const host = new RememberingHost();
        const shown = acts.reduce(press, openedCount(emptyCount()));
        const echoes = acts.map((one) => host.perform(one));
        const replayed = replayEvents(host.events);
        expect(shown.fields.length).toBe(replayed.currentField);
        shown.fields.forEach((field, at) => {
          for (const [category, thousandths] of Object.entries(field.thousandths)) {
            const told = replayed.fields.get(at + 1)?.get(category);
            expect([thousandths, field.presses[category]]).toEqual([told?.thousandths, told?.presses]);
          }
        });
        const stored = reduceCounting(shown, { type: "stored", echoes });
        expect(stored.outbox).toEqual([]);
        expect(countsOf(stored)).toBe(countsOf(openedCount(host.state())));
        expect(stored.storedUpTo).toBe(acts.length);
      }),
    );
  });

  it("follow the host's word when more is taken back than this window knows", () => {
    const host = new RememberingHost();
    for (let i = 0; i < 30; i += 1) host.perform(act("press", i % 2 ? "pinus" : "betula"));
    let state = openedCount(host.state(3));
    const undos = Array.from({ length: 7 }, () => act("undo"));
    for (const one of undos) state = press(state, one);
    expect(state.unknownUndos).toBe(4);
    const echoes = undos.map((one) => host.perform(one));
    state = reduceCounting(state, { type: "stored", echoes });
    expect(state.unknownUndos).toBe(0);
    expect(countsOf(state)).toBe(countsOf(openedCount(host.state())));
  });

  it("an undone field takes the former in hand again, with what it holds", () => {
    const acts = [act("press", "pinus"), act("field"), act("undo"), act("press", "pinus")];
    const state = acts.reduce(press, openedCount(emptyCount()));
    expect(state.fields).toHaveLength(1);
    expect(totalIn(state.sums, state.count)).toBe(2);
  });

  it("the total holds objects alone, halves and colonies as they are; marker spores stand beside", () => {
    const acts = [act("press", "pinus", "0.5"), act("press", "betula", "8"), act("press", "marker")];
    const state = acts.reduce(press, openedCount(emptyCount()));
    expect(totalIn(state.sums, state.count)).toBe(8.5);
  });

  it("a refused act leaves the others standing on what the host keeps", () => {
    const host = new RememberingHost();
    const [first, refused, third] = [act("press", "pinus"), act("press", "betula"), act("press", "marker")];
    let state = [first, refused, third].reduce(press, openedCount(emptyCount()));
    state = reduceCounting(state, { type: "stored", echoes: [host.perform(first)] });
    state = reduceCounting(state, { type: "rebased", state: host.state(), skipped: 1, words: "Not taken." });
    expect(state.outbox.map((one) => one.act)).toEqual([third]);
    expect(state.remark?.text).toBe("Not taken.");
    expect(state.sums.thousandths).toEqual({ pinus: 1000, marker: 1000 });
  });
});

describe("the outbox", () => {
  it("sends nothing while something is under way or the host is lost", () => {
    let state = press(openedCount(emptyCount()), act("press", "pinus"));
    expect(readyToSend(state)).toBe(1);
    state = reduceCounting(state, { type: "sent", count: 1 });
    state = press(state, act("press", "pinus"));
    expect(readyToSend(state)).toBe(0);
    expect(readyToSend(reduceCounting(state, { type: "lost" }))).toBe(0);
  });

  it("sends at most what the contract takes, and one by one after a refusal", () => {
    let state = openedCount(emptyCount());
    for (let i = 0; i < 600; i += 1) state = press(state, act("press", "pinus"));
    expect(readyToSend(state)).toBe(500);
    expect(readyToSend(reduceCounting(state, { type: "split" }))).toBe(1);
  });
});
