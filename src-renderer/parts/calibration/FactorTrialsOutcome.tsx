import {
  coverageProbability,
  FACTOR_TRIALS,
  type FactorSimulation,
  type FactorUnderTrial,
} from "#core/calibration/factor-simulation.ts";
import { printedNumber } from "#core/quantity/printed-number.ts";
import type { ValidationOutcome } from "#core/uncertainty/interval-validation.ts";
import { type Column, DataTable } from "../layout/DataTable.tsx";
import { Notice, type NoticeProps } from "../Notice.tsx";
import styles from "./FactorTrials.module.css";

interface ComparedRow {
  readonly what: string;
  readonly gum: string;
  readonly simulated: string;
  readonly difference: string;
}

const COLUMNS: readonly Column<ComparedRow>[] = [
  { key: "what", title: "µm/div", names: true, cell: (row) => row.what },
  { key: "gum", title: "GUM (JCGM 100)", number: true, cell: (row) => row.gum },
  { key: "simulated", title: "Simulation (JCGM 101)", number: true, cell: (row) => row.simulated },
  { key: "difference", title: "Difference", number: true, cell: (row) => row.difference },
];

const SIGNS: Readonly<Record<ValidationOutcome, NoticeProps["kind"]>> = {
  validated: "done",
  "not-validated": "care",
  unclear: "note",
};

/** GUM and simulation side by side, δ, and the verdict in words. */
export function FactorTrialsOutcome({
  factor,
  simulation,
}: {
  factor: FactorUnderTrial;
  simulation: FactorSimulation;
}) {
  const { validation } = simulation;
  const shown = placesFor(validation.tolerance);
  const percent = `${Number((coverageProbability(factor.coverage) * 100).toFixed(2))} %`;
  const { endUncertainty } = simulation.simulated;
  return (
    <>
      <Notice kind={SIGNS[validation.outcome] ?? "note"} live title={validation.words}>
        <p>
          δ = {shown(validation.tolerance)} µm/div, half a unit of the second digit of u (JCGM 101:2008, 7.9.2
          and 8.1).
        </p>
      </Notice>
      <DataTable
        caption="GUM and simulation compared"
        captionHidden
        columns={COLUMNS}
        rows={comparedRows(factor, simulation, percent, shown)}
        rowKey={(row) => row.what}
        empty="No trial."
      />
      <p className={styles.soft}>
        {printedNumber(String(simulation.simulated.trials))} trials, seed {FACTOR_TRIALS.seed}: the same
        budget gives the same figures. Every line is drawn from its own distribution, through the model of the
        budget, not linearised; the settings enter by the length and the reticle interval that they together
        stand for. The simulated ends are known to a standard uncertainty of{" "}
        {shown(Math.max(endUncertainty.low, endUncertainty.high))} µm/div. Differences are taken before
        rounding. {spreadWords(factor, simulation)}Nothing is stored.
      </p>
    </>
  );
}

function spreadWords({ lines }: FactorUnderTrial, { simulated }: FactorSimulation): string {
  if (simulated.standard === null) {
    return "A line has ν of 2 or less: its t distribution has no standard deviation, and so the simulation has none. ";
  }
  return lines.some((line) => line.degreesOfFreedom !== null && line.standardUncertainty > 0)
    ? "A line with ν has the wider distribution that its ν asks for: the simulated u is larger by it, where the GUM makes k larger. "
    : "";
}

/** Two places more than the last digit of u: δ, and what comes of chance, lie below it. */
function placesFor(tolerance: number): (value: number) => string {
  const places = Math.max(0, 1 - Number(tolerance.toExponential().split("e")[1]));
  return (value) => value.toFixed(places).replace("-", "−");
}

function comparedRows(
  { gum, ofExact }: FactorUnderTrial,
  { simulated, validation }: FactorSimulation,
  percent: string,
  shown: (value: number) => string,
): readonly ComparedRow[] {
  const { interval, difference } = validation;
  const pair = (what: string, ours: number, theirs: number | null): ComparedRow => ({
    what,
    gum: shown(ours),
    simulated: theirs === null ? "none" : shown(theirs),
    difference: theirs === null ? "" : shown(Math.abs(ours - theirs)),
  });
  return [
    pair(ofExact ? "Exact factor" : "Factor", gum.estimate, simulated.estimate),
    pair("Standard uncertainty", gum.standard, simulated.standard),
    {
      ...pair(`Lower end, ${percent}`, interval.low, simulated.symmetric.low),
      difference: shown(difference.low),
    },
    {
      ...pair(`Upper end, ${percent}`, interval.high, simulated.symmetric.high),
      difference: shown(difference.high),
    },
    {
      what: `Shortest interval, ${percent}`,
      gum: "",
      simulated: `${shown(simulated.shortest.low)} to ${shown(simulated.shortest.high)}`,
      difference: "",
    },
  ];
}
