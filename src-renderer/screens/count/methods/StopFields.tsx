import { EntryTable } from "../../../parts/form/EntryTable.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { withoutAt } from "../../../parts/form/form-values.ts";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import type { Form } from "../../../parts/form/use-form.ts";
import { type MethodValues, STOP_CHOICES } from "./method-draft.ts";
import { conditionChoices, EMPTY_PART, NO_PARTS, type StopTogether } from "./stop-parts.ts";

const STOP_WORDS: Readonly<Record<string, string>> = {
  units: "at so many objects",
  fields: "at so many fields",
  minutes: "after so many minutes",
  interval: "at an interval so narrow",
  several: "several conditions together",
  none: "no rule",
};
const STOP_UNITS: Readonly<Record<string, string>> = {
  units: "objects",
  fields: "fields",
  minutes: "min",
  interval: "% half-width, 95 %",
};

/** When a count by the method may stop: one condition, or several together. */
export function StopFields({ form, words }: { form: Form<MethodValues>; words: string }) {
  const { stop } = form.values;
  const unit = STOP_UNITS[stop];
  return (
    <>
      <FieldGrid title="When to stop">
        <SelectField
          {...form.bind("stop", "Stopping rule")}
          choices={STOP_CHOICES.map((choice) => ({
            value: choice,
            words: STOP_WORDS[choice] ?? `as it is: ${words}`,
          }))}
        />
        {unit ? <NumberField {...form.bind("stopNumber", "Stop at")} unit={unit} /> : null}
        {stop === "several" ? (
          <>
            <SelectField
              {...form.bind("stopTogether.together", "It may stop when")}
              choices={[
                { value: "all", words: "all of them are met" },
                { value: "any", words: "the first of them is met" },
              ]}
            />
            <NumberField
              {...form.bind("stopTogether.latest", "In any case after")}
              unit="fields"
              optional
              hint="An end where there is little to count."
            />
          </>
        ) : null}
      </FieldGrid>
      {stop === "several" ? <Conditions form={form} /> : null}
    </>
  );
}

function Conditions({ form }: { form: Form<MethodValues> }) {
  const { stopTogether = NO_PARTS, categories } = form.values;
  const change = (parts: StopTogether["parts"]): void =>
    form.change((values) => ({
      ...values,
      stopTogether: { ...(values.stopTogether ?? NO_PARTS), parts },
    }));
  return (
    <EntryTable
      caption="Conditions of the stopping rule"
      columns={[
        { key: "number", title: "At least", kind: "number", placeholder: "400" },
        { key: "what", title: "Of what", kind: "choice", choices: conditionChoices(categories) },
      ]}
      rows={stopTogether.parts.length}
      rowName={(row) => `Condition ${row + 1}`}
      bind={(row, key, label) => form.bind(`stopTogether.parts.${row}.${key}`, label)}
      onAdd={() => change([...stopTogether.parts, EMPTY_PART])}
      addWords="Add condition"
      onRemove={(row) => change(withoutAt(stopTogether.parts, row))}
      least={1}
      most={8}
    />
  );
}
