import { describe, expect, it } from "vitest";
import { defaultTypedReadingConditions } from "#core/measurement/default-reading-conditions.ts";
import { previewSize } from "#core/measurement/typed-reading.ts";
import { columnsFor } from "#renderer/grid/grid-columns.ts";
import { newGrid } from "#renderer/grid/grid-state.ts";
import { type RowView, rowView } from "#renderer/grid/row-view.ts";
import { measuredDimension, type Surroundings } from "#renderer/screens/measure/measured-dimension.ts";

const COLUMNS = columnsFor({ dimensions: [{ key: "length" }], entry: "two-edges", repeats: 1 });
/** 96.4 divisions on 1 mm; readings and u invented. */
const FACTOR = {
  factor: "10.3734439834025",
  standardUncertainty: "0.01",
  degreesOfFreedom: null,
  coverageFactor: "2",
  expandedUncertainty: "0.02",
} as never;
const DEFINITION = {
  name: "Grain size",
  dimensions: [{ key: "length", name: "Length" }],
  edgeConvention: "",
  reading: defaultTypedReadingConditions(),
  coverage: "t95" as const,
  rounding: "half-even" as const,
  minimumDivisions: "10",
  note: "",
  entry: "two-edges" as const,
  repeats: 1,
  wantedPercent: "",
  derived: [],
  classes: [],
  percentiles: { type: 7 as const, lower: "5", upper: "95" },
  report: { kind: "none" as const, decimals: 1 },
};

function around(calibrated: boolean): Surroundings {
  const train = { id: "t1", objectiveId: "o1", eyepieceId: "e", intermediateMagnification: "1" };
  const inForce = calibrated
    ? { id: "k1", certificateId: "c", personId: "p", dueOn: "2099-01-01", result: FACTOR }
    : null;
  return {
    personId: "p",
    today: "2026-11-25",
    context: {
      sheet: { eyepieceId: "e", intermediateMagnification: "1" },
      method: { definition: DEFINITION },
      microscope: {
        headCompensated: true,
        objectives: [{ id: "o1", numericalAperture: null }],
        eyepieces: [{ id: "e", reticle: { divisions: 100 } }],
      },
      eyepiece: { reticle: { divisions: 100 } },
      trains: [{ train, inForce }],
      micrometers: [],
    } as never,
  };
}

function view(left: string, right: string, more: Partial<RowView> = {}): RowView {
  const state = newGrid({ columns: COLUMNS, objectives: [], objectiveId: "o1", total: 0, firstRowId: "r" });
  const blank = rowView(state, 0);
  const texts = blank.texts.map((text, at) => {
    const column = COLUMNS[at];
    if (!text || column?.kind !== "reading") return text;
    const typed = column.edge === "left" ? left : right;
    return { text: typed, status: typed === "" ? ("empty" as const) : ("pending" as const), message: null };
  });
  return { ...blank, texts, active: -1, ...more };
}

describe("what a row comes to while it is typed", () => {
  it("is what the service will store: the same function on the same text", () => {
    const measured = measuredDimension(view("23.0", "51.5"), COLUMNS, "length", around(true));
    const { size } = previewSize({ left: "23.0", right: "51.5", factor: FACTOR, definition: DEFINITION });
    expect(measured.divisions).toBe("28.5");
    expect(measured.size).toEqual({ value: size.shownValue, uncertainty: size.shownUncertainty });
    expect(measured.size?.value).toMatch(/^295\.6/);
    expect(measured.isStored).toBe(false);
  });

  it("keeps divisions and says why when no calibration is in force", () => {
    const measured = measuredDimension(view("23.0", "51.5"), COLUMNS, "length", around(false));
    expect([measured.divisions, measured.size]).toEqual(["28.5", null]);
    expect(measured.missing).toMatch(/No calibration in force/);
  });

  it.each([
    ["reversed edges", "51.5", "23.0", "edges-reversed"],
    ["few divisions", "40", "45", "few-divisions"],
    ["off the scale", "40", "101", "off-scale"],
  ])("flags %s at once", (_name, left, right, flag) => {
    expect(measuredDimension(view(left, right), COLUMNS, "length", around(true)).flags).toContain(flag);
  });

  it("follows the open editor", () => {
    const active = COLUMNS.findIndex((column) => column.key === "length.right");
    const editing = { text: "70", mode: "replace", touched: true } as const;
    const measured = measuredDimension(view("40", "", { active, editing }), COLUMNS, "length", around(true));
    expect(measured.divisions).toBe("30");
  });

  it("half-typed text is no fault", () => {
    const measured = measuredDimension(view("40", "."), COLUMNS, "length", around(true));
    expect([measured.divisions, measured.size, measured.flags]).toEqual([null, null, []]);
  });

  it("a reading frozen to an earlier calibration is not previewed with today's factor", () => {
    const record = {
      measurements: [
        {
          dimension: "length",
          left: "23.0",
          right: "51.5",
          direct: null,
          repeats: [],
          trainId: "t1",
          calibrationId: "k0",
          divisions: "28.5",
          size: null,
        },
      ],
    } as never;
    const measured = measuredDimension(view("23.0", "61", { record }), COLUMNS, "length", around(true));
    expect([measured.divisions, measured.size, measured.missing]).toEqual(["38", null, null]);
  });
});

describe("repeats and direct readings", () => {
  const plan = { dimensions: [{ key: "length" }], repeats: 2 };
  const filled = (
    columns: ReturnType<typeof columnsFor>,
    texts: Readonly<Record<string, string>>,
  ): RowView => {
    const state = newGrid({ columns, objectives: [], objectiveId: "o1", total: 0, firstRowId: "r" });
    const blank = rowView(state, 0);
    return {
      ...blank,
      texts: blank.texts.map((text, at) => {
        const typed = texts[columns[at]?.key ?? ""];
        return text && typed !== undefined ? { text: typed, status: "pending", message: null } : text;
      }),
    };
  };

  it("have a column each, named for the ear and stable for drafts", () => {
    const keys = (entry: "two-edges" | "direct") =>
      columnsFor({ ...plan, entry }).flatMap((one) => (one.kind === "reading" ? [one.key] : []));
    expect(keys("two-edges")).toEqual(["length.left", "length.right", "length.left.2", "length.right.2"]);
    expect(keys("direct")).toEqual(["length.direct", "length.direct.2"]);
  });

  it("come to the mean of the complete ones", () => {
    const columns = columnsFor({ ...plan, entry: "two-edges" });
    const texts = {
      "length.left": "23.0",
      "length.right": "51.5",
      "length.left.2": "23.0",
      "length.right.2": "52.5",
    };
    expect(measuredDimension(filled(columns, texts), columns, "length", around(true)).divisions).toBe("29");
    const half = { ...texts, "length.right.2": "" };
    expect(measuredDimension(filled(columns, half), columns, "length", around(true)).divisions).toBe("28.5");
  });

  it("a direct reading is its own number of divisions", () => {
    const columns = columnsFor({ ...plan, repeats: 1, entry: "direct" });
    const measured = measuredDimension(
      filled(columns, { "length.direct": "28.5" }),
      columns,
      "length",
      around(true),
    );
    expect(measured.divisions).toBe("28.5");
    expect(measured.size?.value).toBe("295.6");
  });

  it("divisions stored on a sheet that is read at two edges show, though no cell holds them", () => {
    const columns = columnsFor({ ...plan, repeats: 1, entry: "two-edges" });
    const stored = {
      dimension: "length",
      entry: "direct",
      left: null,
      right: null,
      direct: "20.5",
      repeats: [],
      trainId: "t1",
      calibrationId: "k1",
      divisions: "20.5",
      size: { shownValue: "207.1", shownUncertainty: "1.2" },
      missing: null,
      flags: [],
    };
    const row = { ...filled(columns, {}), record: { measurements: [stored] } as never };
    expect(measuredDimension(row, columns, "length", around(true))).toMatchObject({
      divisions: "20.5",
      size: { value: "207.1", uncertainty: "1.2" },
      isStored: true,
    });
  });
});
