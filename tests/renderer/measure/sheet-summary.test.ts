import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import type { SheetColumns } from "#core/contract/records/sheet-columns.ts";
import { decimal } from "#core/quantity/decimal.ts";
import type { FlagKey } from "#core/vocabulary/flag.ts";
import { groupTitle, kindOf, SheetSummary } from "#renderer/screens/measure/sheet-summary.ts";

function row(
  ordinal: number,
  label: string,
  size: string | null,
  struck = false,
  flags: readonly FlagKey[] = [],
): SpecimenRow {
  const measured = size === null ? null : { value: size };
  return {
    id: `r${ordinal}`,
    sheetId: "s",
    ordinal,
    label,
    note: "",
    stage: null,
    struck: struck ? { at: "", by: "p", reason: "broken" } : null,
    measurements: [{ dimension: "length", size: measured, divisions: size, flags } as never],
  };
}

const meanOf = (of: SheetSummary, label: string | null = null): string | undefined =>
  of.sample("length", label)?.summary().mean.toFixed();

/** Invented inputs. */
const COLUMNS = {
  total: 4,
  from: 1,
  count: 4,
  labels: ["A", "B"],
  label: [0, 0, 1, 1],
  struck: [4],
  sizes: { length: ["10", "12", "14", "99"] },
  flagSets: [[], ["few-divisions"]],
  flags: { length: [0, 1, 1, 1] },
  factors: [
    { calibrationId: "cal", relativeUncertainty: "0.01", degreesOfFreedom: "20" },
    { calibrationId: "other", relativeUncertainty: "0.02", degreesOfFreedom: null },
  ],
  factor: { length: [0, 0, 1, 1] },
} as unknown as SheetColumns;

describe("the running summary of a sheet", () => {
  it("counts by label and in all: 10, 12, 14 → mean 12, s 2", () => {
    const summary = new SheetSummary();
    for (const [at, size] of ["10", "12", "14"].entries())
      summary.store(row(at + 1, at < 2 ? "A" : "B", size));
    const all = summary.sample("length", null)?.summary();
    expect([all?.n, all?.mean.toFixed(), all?.deviation?.toFixed()]).toEqual([3, "12", "2"]);
    expect(meanOf(summary, "A")).toBe("11");
    expect(summary.sample("length", "C")).toBeNull();
  });

  it("counts a numbered label with its kind: Salix 1, Salix 2 and Salix are all of Salix", () => {
    const summary = new SheetSummary();
    for (const [at, label] of ["Salix 1", "Salix 2", "Salix", "17"].entries())
      summary.store(row(at + 1, label, String(10 + at)));
    expect(summary.sample("length", kindOf("Salix 7"))?.summary().mean.toFixed()).toBe("11");
    expect(meanOf(summary, "Salix")).toBe("12");
    expect(kindOf("17")).toBeNull();
    expect(summary.groupOf("17")).toBe("17");
    expect(groupTitle(summary.groupOf("Salix 1"))).toBe("Salix");
    expect(summary.count(summary.groupOf("Salix 1"))).toBe(3);
    expect(summary.objects(summary.groupOf("Salix 9"))).toHaveLength(3);
    // A number that names a slide with several grains keeps them together.
    summary.store(row(5, "Salix 1", "30"));
    expect(summary.groupOf("Salix 1")).toBe("Salix 1");
    summary.store(row(5, "17", "30"));
    summary.store(row(2, "Betula 2", "11"));
    expect(summary.sample("length", kindOf("Salix 7"))?.n).toBe(2);
  });

  it("counts flags by dimension, of stored rows and of columns, struck ones left out", () => {
    const summary = new SheetSummary();
    summary.store(row(1, "A", "10", false, ["few-divisions", "off-scale"]));
    for (let at = 0; at < 4; at += 1) summary.storeColumn(COLUMNS, at, new Set(COLUMNS.struck));
    const { measured, counts } = summary.flagCounts("length");
    expect([measured, counts.get("few-divisions"), counts.get("off-scale")]).toEqual([3, 3, 1]);
    summary.store(row(1, "A", "10", true));
    expect(summary.flagCounts("length").counts.get("off-scale")).toBe(0);
  });

  it("tells which samples changed: of a label, or of all rows without a name", () => {
    const summary = new SheetSummary();
    summary.store(row(1, "Tilia 1", "10"));
    summary.store(row(2, "17", "11"));
    summary.store(row(3, "", "12"));
    expect(summary.takeChanged().map(({ group }) => groupTitle(group))).toEqual(["Tilia", ""]);
    expect(summary.takeChanged()).toEqual([]);
    expect(summary.sample("length", "")?.n).toBe(2);
    expect(summary.samples()).toHaveLength(2);
  });

  it("a row stored again takes the place of what it held; a struck one counts nothing", () => {
    const summary = new SheetSummary();
    summary.store(row(1, "A", "10"));
    summary.store(row(1, "B", "20"));
    expect(summary.sample("length", "A")).toBeNull();
    expect(meanOf(summary, "B")).toBe("20");
    summary.store(row(1, "B", "20", true));
    expect(summary.sample("length", null)).toBeNull();
    expect(summary.rows).toBe(1);
  });

  it("columns fetched count what was not stored meanwhile; rows an undo took away count no more", () => {
    const summary = new SheetSummary();
    summary.store(row(2, "A", "16"));
    for (let at = 0; at < 4; at += 1) summary.storeColumn(COLUMNS, at, new Set(COLUMNS.struck));
    expect(meanOf(summary, "A")).toBe("13");
    expect(meanOf(summary, "B")).toBe("14");
    expect(summary.count("B")).toBe(2);
    summary.shorten(2);
    expect([summary.rows, summary.sample("length", "B"), meanOf(summary)]).toEqual([2, null, "13"]);
    expect(summary.objects("A")).toEqual([{ length: decimal("16") }, { length: decimal("10") }]);
  });

  it("knows what sizes share of their factors, once each factor of the group is known", () => {
    const summary = new SheetSummary();
    const taken = (ordinal: number, size: string, calibrationId: string) => {
      const { measurements, ...rest } = row(ordinal, "A", size);
      return { ...rest, measurements: measurements.map((one) => ({ ...one, calibrationId })) };
    };
    summary.learn(COLUMNS);
    for (let at = 0; at < 4; at += 1) summary.storeColumn(COLUMNS, at, new Set(COLUMNS.struck));
    // 1 % of 10 and 12, 2 % of 14; the struck one counts nothing.
    expect(summary.sharedPart("length", "A")?.mean.toNumber()).toBeCloseTo(0.11, 12);
    expect(summary.sharedPart("length", null)?.mean.toNumber()).toBeCloseTo(0.5 / 3, 12);
    expect(summary.sharedPart("length", null)?.degreesOfFreedom?.toNumber()).toBe(20);
    const foreign = taken(5, "20", "third");
    expect(summary.knowsFactorsOf(foreign)).toBe(false);
    summary.store(foreign);
    expect(summary.sharedPart("length", "A")).toBeNull();
    summary.learn({
      factors: [{ calibrationId: "third", relativeUncertainty: "0.04", degreesOfFreedom: "7" }],
    } as unknown as SheetColumns);
    summary.store(foreign);
    expect(summary.sharedPart("length", "A")?.mean.toNumber()).toBeCloseTo(1.02 / 3, 12);
    expect(summary.sharedPart("length", "A")?.degreesOfFreedom?.toNumber()).toBe(7);
    summary.store(taken(5, "20", "cal"));
    expect(summary.sharedPart("length", "A")?.mean.toNumber()).toBeCloseTo(0.42 / 3, 12);
    expect(summary.sharedPart("length", "C")).toBeNull();
  });

  it("is the same whatever the order and however often rows were corrected before", () => {
    const rows = fc.array(
      fc.record({
        ordinal: fc.integer({ min: 1, max: 4 }),
        label: fc.constantFrom("", "A"),
        size: fc.integer({ min: 1, max: 999 }),
      }),
      { minLength: 1, maxLength: 30 },
    );
    fc.assert(
      fc.property(rows, (list) => {
        const corrected = new SheetSummary();
        for (const one of list) corrected.store(row(one.ordinal, one.label, String(one.size)));
        const last = new Map(list.map((one) => [one.ordinal, one]));
        const fresh = new SheetSummary();
        for (const one of last.values()) fresh.store(row(one.ordinal, one.label, String(one.size)));
        expect(meanOf(corrected)).toBe(meanOf(fresh));
        expect(corrected.sample("length", "A")?.n).toBe(fresh.sample("length", "A")?.n);
        expect(corrected.count("A")).toBe(fresh.count("A"));
      }),
    );
  });
});
