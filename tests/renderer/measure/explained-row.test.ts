import { describe, expect, it } from "vitest";
import type { LabelHistory } from "#core/contract/records/sheet-columns.ts";
import { defaultTypedReadingConditions } from "#core/measurement/default-reading-conditions.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { RunningSummary } from "#core/statistics/running-summary.ts";
import { columnsFor } from "#renderer/grid/grid-columns.ts";
import { newGrid } from "#renderer/grid/grid-state.ts";
import { type RowView, rowView } from "#renderer/grid/row-view.ts";
import { explainedRow } from "#renderer/screens/measure/explain/explained-row.ts";
import { bandWords, historyBand } from "#renderer/screens/measure/explain/history-band.ts";
import { LabelHistories } from "#renderer/screens/measure/explain/label-histories.ts";
import type { Surroundings } from "#renderer/screens/measure/measured-dimension.ts";

/* Invented inputs: a 10× and a 40×, their factors four to one. */

const COLUMNS = columnsFor({ dimensions: [{ key: "length" }], entry: "two-edges", repeats: 1 });
const factorOf = (factor: string) => ({ factor, standardUncertainty: "0.001", degreesOfFreedom: null });
const HISTORY = {
  label: "Acer",
  dimension: "length",
  n: 120,
  least: "70",
  low: "75",
  median: "88.4",
  high: "101",
  greatest: "110",
} as unknown as LabelHistory;

function around(change: object = {}): Surroundings {
  const trainOf = (id: string, objectiveId: string, factor: string) => ({
    train: { id, objectiveId, eyepieceId: "e", intermediateMagnification: "1" },
    inForce: {
      id: `k-${id}`,
      certificateId: "c",
      personId: "ada",
      dueOn: "2099-01-01",
      result: factorOf(factor),
    },
    state: "ready",
    why: "",
    ...change,
  });
  const objective = (id: string, magnification: string, position: number) => ({
    id,
    magnification,
    position,
    numericalAperture: null,
  });
  return {
    personId: "bo",
    today: "2026-11-25",
    histories: new LabelHistories([HISTORY]),
    context: {
      sheet: { eyepieceId: "e", intermediateMagnification: "1" },
      method: {
        definition: {
          dimensions: [{ key: "length", name: "Length" }],
          reading: defaultTypedReadingConditions(),
          coverage: "t95",
          rounding: "half-even",
          minimumDivisions: "",
          wantedPercent: "",
        },
      },
      microscope: {
        headCompensated: false,
        objectives: [objective("o10", "10", 1), objective("o40", "40", 2)],
        eyepieces: [{ id: "e", reticle: { divisions: 100 } }],
      },
      trains: [trainOf("t10", "o10", "10.4"), trainOf("t40", "o40", "2.6")],
      micrometers: [],
    } as never,
  };
}

function view(label: string, left: string, right: string, more: Partial<RowView> = {}): RowView {
  const state = newGrid({ columns: COLUMNS, objectives: [], objectiveId: "o10", total: 0, firstRowId: "r" });
  const typed: Readonly<Record<string, string>> = { label, "length.left": left, "length.right": right };
  const blank = rowView(state, 0);
  const texts = blank.texts.map((text, at) => {
    const cell = typed[COLUMNS[at]?.key ?? ""];
    return text && cell !== undefined ? { text: cell, status: "pending" as const, message: null } : text;
  });
  return { ...blank, texts, active: -1, ...more };
}

const KNOWN = { nameOf: (id: string | null) => `person ${id}`, calibration: () => null };
const explain = (row: RowView, change: object = {}) => explainedRow(row, COLUMNS, around(change), KNOWN);

describe("what is said of the row at the cursor", () => {
  it("names the wrong objective while the right edge is still being typed", () => {
    const active = COLUMNS.findIndex((column) => column.key === "length.right");
    const editing = { text: "44", mode: "replace", touched: true } as const;
    const { flags, sizes } = explain(view("Acer 12", "10", "", { active, editing }));
    expect(sizes.length?.shownValue).toMatch(/^35\d/);
    expect(flags.map((one) => one.flag)).toEqual(["wrong-objective", "outside-history", "person-differs"]);
    expect(flags[1]?.facts.map((fact) => fact.value).join("; ")).toContain("4.00 × the median");
    expect(flags[2]?.facts).toEqual([
      { name: "read by", value: "person bo" },
      { name: "calibrated by", value: "person ada" },
    ]);
    expect(flags.every((one) => !one.isPast)).toBe(true);
  });

  it("says nothing of a label without a history, of half-typed text, of an empty row", () => {
    const noPerson = { inForce: null };
    expect(explain(view("Betula", "10", "44"), noPerson).flags).toEqual([]);
    expect(explain(view("Acer", "10", ".")).flags).toEqual([]);
    expect(explain(view("", "", "")).flags).toEqual([]);
  });

  it("tells why a train is to be checked", () => {
    const state = { state: "check before use", why: "The lamp was moved on 2026-11-20." };
    const { flags } = explain(view("Betula", "10", "44"), state);
    expect(flags.find((one) => one.flag === "check-before-use")?.facts).toEqual([
      { name: "why", value: "The lamp was moved on 2026-11-20." },
    ]);
  });

  it("keeps a stored flag that today's registers would not raise, and says that it is past", () => {
    const record = {
      measurements: [
        {
          dimension: "length",
          left: "10",
          right: "44",
          direct: null,
          repeats: [],
          trainId: "t10",
          calibrationId: "k-t10",
          divisions: "34",
          size: { value: "353.6", shownValue: "353.6", shownUncertainty: "4.0", expandedUncertainty: "4" },
          missing: null,
          flags: ["calibration-overdue"],
          enteredBy: "ada",
        },
      ],
    } as never;
    const { flags } = explain(view("Betula", "10", "44", { record }));
    expect(flags).toEqual([{ flag: "calibration-overdue", dimension: "length", facts: [], isPast: true }]);
  });
});

describe("the band of a label's earlier values", () => {
  const sampleOf = (...values: readonly string[]): RunningSummary => {
    const sample = new RunningSummary();
    for (const value of values) sample.add(decimal(value));
    return sample;
  };
  const live = { value: "353.6", shownValue: "353.6" } as never;

  it("holds both samples and the live value, whatever lies outside", () => {
    const band = historyBand({
      stem: "Acer",
      name: "Length",
      elsewhere: HISTORY,
      here: sampleOf("80", "90"),
      live,
    });
    expect(band.from).toBeLessThan(70);
    expect(band.to).toBeGreaterThan(353.6);
    expect(band.here).toMatchObject({ n: 2, least: 80, greatest: 90, middle: 85 });
    expect(bandWords(band)).toBe(
      "Acer, Length, µm; on earlier sheets n = 120, median 88.4, 95 % in 75.0–101, all in 70.0–110; on this sheet " +
        "n = 2, median 85.0, s 7.1, all in 80.0–90.0; this row 353.6",
    );
  });

  it("says from how many values on a size is flagged, and when there is nothing to compare", () => {
    const few = { ...HISTORY, n: 19 };
    const of = { stem: "Acer", name: "Length", here: null, live: null };
    expect(historyBand({ ...of, elsewhere: few }).note).toMatch(/^20 earlier values/);
    expect(historyBand({ ...of, elsewhere: null }).note).toMatch(/^No earlier sheet/);
    expect(historyBand({ ...of, stem: "", elsewhere: null }).note).toMatch(/^A history is kept by label/);
    expect(historyBand({ ...of, elsewhere: HISTORY }).note).toBeNull();
  });

  it("of a single value still has a scale to draw it on", () => {
    const band = historyBand({
      stem: "Acer",
      name: "Length",
      elsewhere: null,
      here: sampleOf("80"),
      live: null,
    });
    expect(band.to).toBeGreaterThan(band.from);
  });
});
