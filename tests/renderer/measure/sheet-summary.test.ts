import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { SheetSummary } from "#renderer/screens/measure/sheet-summary.ts";

function row(id: string, label: string, size: string | null, struck = false): SpecimenRow {
  const measured = size === null ? null : { value: size };
  return {
    id,
    sheetId: "s",
    ordinal: 1,
    label,
    note: "",
    stage: null,
    struck: struck ? { at: "", by: "p", reason: "broken" } : null,
    measurements: [{ dimension: "length", size: measured } as never],
  };
}

describe("the running summary of a sheet", () => {
  it("counts by label and in all: 10, 12, 14 → mean 12, s 2", () => {
    const summary = new SheetSummary();
    for (const [at, size] of ["10", "12", "14"].entries())
      summary.store(row(`r${at}`, at < 2 ? "A" : "B", size));
    const all = summary.of("length", null);
    expect([all?.n, all?.mean.toFixed(), all?.deviation?.toFixed()]).toEqual([3, "12", "2"]);
    expect(summary.of("length", "A")?.mean.toFixed()).toBe("11");
    expect(summary.of("length", "C")).toBeNull();
  });

  it("a row stored again takes the place of what it held; a struck one counts nothing", () => {
    const summary = new SheetSummary();
    summary.store(row("r", "A", "10"));
    summary.store(row("r", "B", "20"));
    expect(summary.of("length", "A")).toBeNull();
    expect(summary.of("length", "B")?.mean.toFixed()).toBe("20");
    summary.store(row("r", "B", "20", true));
    expect(summary.of("length", null)).toBeNull();
    expect(summary.rows).toBe(1);
  });

  it("is the same whatever the order and however often rows were corrected before", () => {
    const rows = fc.array(
      fc.record({
        id: fc.constantFrom("a", "b", "c", "d"),
        label: fc.constantFrom("", "A"),
        size: fc.integer({ min: 1, max: 999 }),
      }),
      { minLength: 1, maxLength: 30 },
    );
    fc.assert(
      fc.property(rows, (list) => {
        const corrected = new SheetSummary();
        for (const one of list) corrected.store(row(one.id, one.label, String(one.size)));
        const last = new Map(list.map((one) => [one.id, one]));
        const fresh = new SheetSummary();
        for (const one of last.values()) fresh.store(row(one.id, one.label, String(one.size)));
        const shown = (of: SheetSummary) => of.of("length", null)?.mean.toFixed();
        expect(shown(corrected)).toBe(shown(fresh));
        expect(corrected.of("length", "A")?.n).toBe(fresh.of("length", "A")?.n);
      }),
    );
  });
});
