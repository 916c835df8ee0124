import { useState } from "react";
import type { BenchOverview } from "#core/contract/records/bench.ts";
import { DEFAULT_READING_CONDITIONS } from "#core/measurement/default-reading-conditions.ts";
import type { PlannedMeasurement } from "#core/measurement/measuring-plan.ts";
import { shownPlaces } from "#core/methods/shown-places.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { problemOfNumber } from "#core/quantity/number-rule.ts";
import { formatToPlaces, roundToSignificant } from "#core/quantity/rounding.ts";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { benchTrains } from "../work-out/bench-trains.ts";
import { calibratedTrains, planOf, sizeOf } from "./plan.ts";

const MICROMETRES = "";
const USUAL_WANTED = "2";

/** How many divisions an object covers on each train, and which one reaches the wanted uncertainty with the fewest readings. */
export function PlanPanel({ overview }: { overview: BenchOverview }) {
  const trains = calibratedTrains(overview);
  const [amount, setAmount] = useState("");
  const [trainId, setTrainId] = useState(MICROMETRES);
  const [wanted, setWanted] = useState(USUAL_WANTED);
  if (trains.length === 0) return null;
  const problems = {
    amount: amount === "" ? null : problemOfNumber(amount, { sign: "positive" }),
    wanted: problemOfNumber(wanted, { sign: "positive" }),
  };
  const isReady = amount !== "" && problems.amount === null && problems.wanted === null;
  const object = isReady
    ? {
        amount: readDecimal("amount", amount).value,
        train: trains.find((one) => one.id === trainId) ?? null,
        wantedPercent: readDecimal("wanted", wanted).value,
      }
    : null;
  return (
    <Panel
      title="Plan a measurement"
      lead="From divisions on one objective to another, and which one to use. Nothing is stored."
    >
      <FieldGrid>
        <NumberField
          id="plan-amount"
          label="Size of the object"
          value={amount}
          onChange={setAmount}
          error={problems.amount}
          hint="About how long it is, or how many divisions it covers."
        />
        <SelectField
          id="plan-unit"
          label="Given in"
          value={trainId}
          onChange={setTrainId}
          error={null}
          none="µm"
          choices={trains.map(({ id, name }) => ({ value: id, words: `divisions on ${name}` }))}
        />
        <NumberField
          id="plan-wanted"
          label="Wanted, ±"
          unit="%"
          value={wanted}
          onChange={setWanted}
          error={problems.wanted}
          hint="Expanded uncertainty of one size, k = 2."
        />
      </FieldGrid>
      {object ? (
        <>
          {object.train ? (
            <p>
              {amount} divisions on {object.train.name} are{" "}
              {formatToPlaces(sizeOf(object), placesOf(overview, object.train.id))} µm.
            </p>
          ) : null}
          <DataTable
            caption="The object on each calibrated objective, the one to use first"
            columns={COLUMNS}
            rows={planOf(object, trains)}
            rowKey={({ id }) => id}
            empty=""
          />
          <p>
            Read to {DEFAULT_READING_CONDITIONS.smallestFraction.value} of a division with a scatter of{" "}
            {DEFAULT_READING_CONDITIONS.repeatability.value} division; edges, angle and the object itself come
            on top.
          </p>
        </>
      ) : null}
    </Panel>
  );
}

/** Without an uncertainty the objective says how many places a size has. */
function placesOf(overview: BenchOverview, trainId: string): number {
  const train = benchTrains(overview).find(({ id }) => id === trainId);
  return train ? shownPlaces(decimal(train.magnification)) : 0;
}

const COLUMNS: readonly Column<PlannedMeasurement>[] = [
  { key: "train", title: "Objective", names: true, words: true, cell: ({ name }) => name },
  { key: "divisions", title: "Divisions", number: true, cell: (one) => formatToPlaces(one.divisions, 1) },
  {
    key: "expected",
    title: "U of one reading",
    number: true,
    cell: (one) => (one.fitsScale ? `${roundToSignificant(one.expectedPercent, 2).toFixed()} %` : "–"),
  },
  {
    key: "repeats",
    title: "Readings needed",
    number: true,
    cell: (one) => (one.fitsScale && one.repeats !== null ? one.repeats : "–"),
  },
  { key: "why", title: "Why", words: true, cell: (one) => one.reasons.join("; ") },
];
