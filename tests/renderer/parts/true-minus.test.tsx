import { renderToStaticMarkup } from "react-dom/server";
import { describe, expect, it } from "vitest";
import { decimal } from "#core/quantity/decimal.ts";
import { RunningSummary } from "#core/statistics/running-summary.ts";
import { ResultFigure } from "#renderer/parts/bench-words/ResultFigure.tsx";
import { DataTable } from "#renderer/parts/layout/DataTable.tsx";
import { liveFigures } from "#renderer/screens/measure/live-figures.ts";

describe("a number below zero is shown with a true minus", () => {
  it("in every column of numbers, and nowhere else", () => {
    const markup = renderToStaticMarkup(
      <DataTable
        caption="Lines"
        columns={[
          { key: "on", title: "on", cell: () => "2026-03-02" },
          { key: "note", title: "note", cell: () => "-5 as typed" },
          { key: "off", title: "off", cell: (row: string) => row, number: true },
        ]}
        rows={["-0.25 ± 0.10", "0.40"]}
        rowKey={(row) => row}
        empty=""
      />,
    );
    expect(markup).toContain("−0.25 ± 0.10");
    expect(markup).toContain("2026-03-02");
    expect(markup).toContain("-5 as typed");
    expect(markup).not.toContain("-0.25");
  });

  it("in a result in big digits", () => {
    const markup = renderToStaticMarkup(<ResultFigure label="difference" value="-3.1" unit="µm" />);
    expect(markup).toContain("−3.1");
  });

  it("in the live figures of two sizes so unlike that the interval of their mean reaches below zero", () => {
    const sample = new RunningSummary();
    for (const size of ["10", "30"]) sample.add(decimal(size));
    const percentiles = { lower: "10", upper: "90", type: 7 } as never;
    const { interval } = liveFigures(sample, { percentiles, rounding: "half-even" }, null);
    expect(interval).toMatch(/^−1\d\d–1\d\d$/);
  });
});
