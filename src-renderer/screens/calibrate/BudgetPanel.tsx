import type { CalibrationResult } from "#core/calibration/calibration.ts";
import { factorRecordOf } from "#core/calibration/factor-record.ts";
import { factorUnderTrial } from "#core/calibration/factor-simulation.ts";
import { formatToPlaces, roundToSignificant } from "#core/quantity/rounding.ts";
import type { BudgetComponent } from "#core/uncertainty/uncertainty.ts";
import type { CoverageRule } from "#core/vocabulary/calibration.ts";
import { ShareBar } from "../../charts/ShareBar.tsx";
import { FactorTrials } from "../../parts/calibration/FactorTrials.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";

const two = (value: BudgetComponent["contribution"]): string => roundToSignificant(value, 2).toFixed();

const COLUMNS: readonly Column<BudgetComponent>[] = [
  { key: "name", title: "Component", words: true, cell: (one) => one.name, names: true },
  {
    key: "value",
    title: "Half-width or U",
    cell: (one) => `${two(one.standardUncertainty.times(one.divisor))} ${one.unit === "1" ? "" : one.unit}`,
    number: true,
  },
  {
    key: "divisor",
    title: "Divisor",
    cell: (one) => roundToSignificant(one.divisor, 3).toFixed(),
    number: true,
  },
  { key: "distribution", title: "Distribution", cell: (one) => one.distribution },
  {
    key: "freedom",
    title: "ν",
    cell: (one) => (one.degreesOfFreedom ? formatToPlaces(one.degreesOfFreedom, 1) : "∞"),
    number: true,
  },
  { key: "contribution", title: "Contribution, µm/div", cell: (one) => two(one.contribution), number: true },
  {
    key: "share",
    title: "Share of u²",
    cell: (one) => (
      <ShareBar share={one.share.toNumber()} words={`${formatToPlaces(one.share.times(100), 1)} %`} />
    ),
  },
];

/** Where the factor's uncertainty comes from, line by line. */
export function BudgetPanel({
  result,
  coverage,
}: {
  result: CalibrationResult | null;
  coverage: CoverageRule;
}) {
  return (
    <Panel
      title="Uncertainty budget"
      lead={
        result
          ? `u = ${roundToSignificant(result.uncertainty.standard, 2).toFixed()} µm/div, combined by JCGM 100:2008, 5.1.2.`
          : undefined
      }
    >
      <DataTable
        caption="Components of the uncertainty of the factor"
        captionHidden
        columns={COLUMNS}
        rows={result?.budget ?? []}
        rowKey={(one) => one.key}
        empty="The first complete setting gives a budget."
      />
      {result ? <FactorTrials factor={factorUnderTrial(factorRecordOf(result), coverage)} /> : null}
    </Panel>
  );
}
