import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import type { Client } from "#core/contract/calls.ts";
import type { GridAction } from "#renderer/grid/grid-action.ts";
import type { Outgoing } from "#renderer/grid/grid-state.ts";
import { SheetLink } from "#renderer/grid/sheet-link.ts";

const CELL = { dimension: "polar", edge: "left" as const, repeat: 1 };
const ENTER: Outgoing = {
  kind: "enter",
  requestId: "request-1",
  rowId: "r",
  cell: CELL,
  typed: "40",
  label: "",
  objectiveId: "o1",
};

/** A service that answers a call when told to, with the calls it has heard. */
function slowService() {
  const heard: string[] = [];
  const waiting: ((reply: object) => void)[] = [];
  const client = ((name: string, input: { typed?: string }) => {
    heard.push(`${name} ${input.typed ?? ""}`.trim());
    return new Promise((resolve) => waiting.push(resolve));
  }) as unknown as Client;
  return { client, heard, answer: (reply: object = { ok: true, value: {} }) => waiting.shift()?.(reply) };
}

function link(client: Client) {
  const actions: GridAction[] = [];
  const made = new SheetLink({
    client,
    sheetId: "s",
    dispatch: (action) => actions.push(action),
    onAskStrike: () => undefined,
  });
  return { made, actions };
}

const draft = (typed: string, now = false) =>
  ({ type: "keepDraft", rowId: "r", cell: CELL, typed, now }) as const;

describe("the link between the grid and its service", () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  it("keeps half-typed text when typing pauses, the newest only", async () => {
    const { client, heard } = slowService();
    const { made } = link(client);
    for (const text of ["4", "40", "40."]) made.run(draft(text));
    await vi.advanceTimersByTimeAsync(250);
    expect(heard).toEqual([]);
    await vi.advanceTimersByTimeAsync(100);
    expect(heard).toEqual(["rows.keepDraft 40."]);
  });

  it("never lets a draft arrive behind the reading that replaces it", async () => {
    const { client, heard, answer } = slowService();
    const { made } = link(client);
    made.run(draft("4", true));
    await vi.advanceTimersByTimeAsync(1);
    made.run(draft("40"));
    made.run({ type: "dropDraft", rowId: "r", cell: CELL });
    made.run({ type: "send", item: ENTER });
    await vi.advanceTimersByTimeAsync(1000);
    expect(heard).toEqual(["rows.keepDraft 4"]);
    answer();
    await vi.advanceTimersByTimeAsync(1000);
    expect(heard).toEqual(["rows.keepDraft 4", "rows.enter 40"]);
  });

  it("turns answers into actions: stored, refused with what to do, lost", async () => {
    const { client, answer } = slowService();
    const { made, actions } = link(client);
    const row = { id: "r", ordinal: 1 };
    const refusal = { code: "row.struck", message: "Row 1 is struck.", hint: "Measure it again." };
    for (const reply of [
      { ok: true, value: row },
      { ok: false, error: refusal },
      { ok: false, error: { code: "host.lost", message: "No answer." } },
    ]) {
      made.run({ type: "send", item: ENTER });
      await vi.advanceTimersByTimeAsync(1);
      answer(reply);
      await vi.advanceTimersByTimeAsync(1);
    }
    expect(actions).toEqual([
      { type: "rowStored", requestId: "request-1", row },
      {
        type: "refused",
        requestId: "request-1",
        code: "row.struck",
        message: "Row 1 is struck. Measure it again.",
      },
      { type: "lost", requestId: "request-1" },
    ]);
  });

  it("tries a lost draft again, unless a newer one waits", async () => {
    const { client, heard, answer } = slowService();
    const { made } = link(client);
    const lost = { ok: false, error: { code: "host.lost", message: "No answer." } };
    made.run(draft("4", true));
    await vi.advanceTimersByTimeAsync(1);
    answer(lost);
    await vi.advanceTimersByTimeAsync(2000);
    expect(heard).toEqual(["rows.keepDraft 4", "rows.keepDraft 4"]);
    made.run(draft("41"));
    answer(lost);
    await vi.advanceTimersByTimeAsync(5000);
    expect(heard.at(-1)).toBe("rows.keepDraft 41");
    expect(heard).toHaveLength(3);
  });
});
