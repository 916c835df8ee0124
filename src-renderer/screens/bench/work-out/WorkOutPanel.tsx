import { useState } from "react";
import type { BenchOverview } from "#core/contract/records/bench.ts";
import { Caution } from "../../../parts/Caution.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { Facts } from "../../../parts/layout/Facts.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { benchTrains } from "./bench-trains.ts";
import { type Calculator, textOfField, workOut } from "./calculator.ts";
import { FIELD_CALCULATORS } from "./field-calculators.ts";
import { LENGTH_CALCULATORS } from "./length-calculators.ts";
import styles from "./WorkOut.module.css";

const CALCULATORS: readonly Calculator[] = [...LENGTH_CALCULATORS, ...FIELD_CALCULATORS];

/** Small calculations of the bench, each with its U where it has one, its source and what to mind. Nothing is stored. */
export function WorkOutPanel({ overview }: { overview: BenchOverview }) {
  const [id, setId] = useState("");
  const calculator = CALCULATORS.find((one) => one.id === id);
  return (
    <Panel
      title="Work something out"
      lead="Fields of view, circles, thickness, grain size, means. Nothing is stored."
    >
      <div className={styles.parts}>
        <FieldGrid>
          <SelectField
            id="work-out"
            label="What to work out"
            value={id}
            onChange={setId}
            error={null}
            none="choose"
            choices={CALCULATORS.map((one) => ({ value: one.id, words: one.title }))}
          />
        </FieldGrid>
        {calculator ? <Form key={calculator.id} calculator={calculator} overview={overview} /> : null}
      </div>
    </Panel>
  );
}

function Form({ calculator, overview }: { calculator: Calculator; overview: BenchOverview }) {
  const trains = benchTrains(overview);
  const isNeeded = calculator.train === "needed";
  const [trainId, setTrainId] = useState(isNeeded ? (trains[0]?.id ?? "") : "");
  const [typed, setTyped] = useState<Readonly<Record<string, string>>>({});
  const train = trains.find((one) => one.id === trainId) ?? null;
  const { outcomes, problems } = workOut(calculator, typed, train);
  return (
    <>
      <FieldGrid>
        {calculator.train === "none" ? null : (
          <SelectField
            id="work-out-train"
            label="Objective"
            value={trainId}
            onChange={setTrainId}
            error={isNeeded && trains.length === 0 ? "none is calibrated yet: calibrate one first" : null}
            {...(isNeeded ? {} : { none: "none: type everything" })}
            choices={trains.map(({ id, name }) => ({ value: id, words: name }))}
          />
        )}
        {calculator.fields.map((field) => (
          <NumberField
            key={field.key}
            id={`work-out-${field.key}`}
            label={field.label}
            {...(field.unit ? { unit: field.unit } : {})}
            {...(field.hint ? { hint: field.hint } : {})}
            value={textOfField(field, typed, train)}
            onChange={(text) => setTyped({ ...typed, [field.key]: text })}
            error={problems[field.key] ?? null}
          />
        ))}
      </FieldGrid>
      <output aria-label="Outcome">
        {problems[""] ? <p>This cannot be worked out: the input {problems[""]}.</p> : null}
        {outcomes ? <Facts facts={outcomes} /> : null}
      </output>
      {calculator.caution ? <Caution>{calculator.caution}</Caution> : null}
      <p>Source: {calculator.source}.</p>
    </>
  );
}
