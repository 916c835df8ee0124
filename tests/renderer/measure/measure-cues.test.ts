import { describe, expect, it } from "vitest";
import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { columnsFor } from "#renderer/grid/grid-columns.ts";
import { type GridState, newGrid } from "#renderer/grid/grid-state.ts";
import { cueOf } from "#renderer/screens/measure/measure-cues.ts";
import { pulsesOfTone } from "#renderer/sound/tones.ts";

const before: GridState = newGrid({
  columns: columnsFor({ dimensions: [{ key: "length" }], entry: "two-edges", repeats: 1 }),
  objectives: [],
  objectiveId: "o40",
  total: 0,
  firstRowId: "r",
});
const words = (id: string): string => `objective ${id}`;

function withResult(part: { flags?: readonly string[]; missing?: string; shown?: string | null }): GridState {
  const size = part.shown === null ? null : { shownValue: part.shown ?? "295.6" };
  const measurement = {
    dimension: "length",
    divisions: "28.5",
    size,
    missing: part.missing ?? null,
    flags: part.flags ?? [],
  };
  const row = { id: "r", measurements: [measurement] } as unknown as SpecimenRow;
  return { ...before, lastResult: { row, dimension: "length" } };
}

describe("what the ear is told", () => {
  it("a result by tone and number, another tone when something is flagged or missing", () => {
    expect(cueOf(before, withResult({}), words)).toEqual({ tone: "taken", words: "295.6" });
    expect(cueOf(before, withResult({ flags: ["off-scale"] }), words)?.tone).toBe("flagged");
    expect(cueOf(before, withResult({ missing: "No factor", shown: null }), words)).toEqual({
      tone: "flagged",
      words: "28.5 divisions",
    });
  });

  it("a key that did nothing, and what was done by undo", () => {
    const no = { ...before, remark: { text: "NumLock is off", cell: null, serial: 1, done: false } };
    expect(cueOf(before, no, words)).toEqual({ tone: "refused", words: null });
    const yes = { ...before, remark: { text: "Taken back", cell: null, serial: 1, done: true } };
    expect(cueOf(before, yes, words)).toEqual({ tone: "undone", words: null });
    const asking = { ...no, turret: "" };
    expect(cueOf(before, asking, words)).toBeNull();
  });

  it("the objective now in use, as soon as it is chosen", () => {
    expect(cueOf(before, { ...before, objectiveId: "o10" }, words)).toEqual({
      tone: "objective",
      words: "objective o10",
    });
  });

  it("nothing when nothing of this happened", () => {
    expect(cueOf(before, { ...before, cursor: { row: 0, column: 1 } }, words)).toBeNull();
  });

  it("no two of these tones sound alike", () => {
    const names = ["taken", "flagged", "refused", "undone", "objective"] as const;
    expect(new Set(names.map((name) => JSON.stringify(pulsesOfTone(name)))).size).toBe(names.length);
  });
});
