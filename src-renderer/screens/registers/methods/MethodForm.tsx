import type { Method } from "#core/contract/records/method.ts";
import { DEFAULT_READING_CONDITIONS } from "#core/measurement/default-reading-conditions.ts";
import { DIAMETER_DEFINITIONS } from "#core/methods/particle-diameters.ts";
import { ROUNDING_RULES } from "#core/quantity/rounding.ts";
import { COVERAGE_RULES } from "#core/vocabulary/calibration.ts";
import { ENTRY_KINDS } from "#core/vocabulary/entry.ts";
import { EDGE_KINDS } from "#core/vocabulary/measurement.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { EXERCISE_CHOICES } from "../../../parts/bench-words/exercise-choices.ts";
import {
  CONDITION_WORDS,
  COVERAGE_WORDS,
  EDGE_WORDS,
  END_WORDS,
  ENTRY_WORDS,
  ROUNDING_WORDS,
} from "../../../parts/bench-words/method-words.ts";
import { ChecksField } from "../../../parts/form/ChecksField.tsx";
import { EntryTable } from "../../../parts/form/EntryTable.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { withoutAt } from "../../../parts/form/form-values.ts";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { MethodResults } from "./MethodResults.tsx";
import { MethodStart } from "./MethodStart.tsx";
import {
  EMPTY_DIMENSION,
  EMPTY_METHOD,
  fieldOfMethod,
  keyFromName,
  type MethodTyped,
  methodInput,
  methodProblems,
  typedFrom,
  typedFromMethod,
} from "./method-form.ts";
import { ScatterChoice } from "./ScatterChoice.tsx";

export interface MethodFormProps {
  /** The version to go on from; null: a new method. */
  readonly before: Method | null;
  readonly onSaved: (method: Method) => void;
  readonly onCancel: () => void;
}

const DIAMETERS = DIAMETER_DEFINITIONS.map(({ id, name, symbol, definition }) => ({
  value: id,
  words: `${name} ${symbol}: ${definition}`,
}));

function choicesOf<K extends string>(keys: readonly K[], words: Readonly<Record<K, string>>) {
  return keys.map((key) => ({ value: key, words: words[key] }));
}

/** A condition typed by hand; a repeatability that is typed is nobody's any more. */
function withCondition(
  values: MethodTyped,
  key: (typeof CONDITION_WORDS)[number]["key"],
  typed: string,
): MethodTyped {
  const { repeatabilitySource, ...rest } = values.reading;
  const isTypedOver = key === "repeatability" || key === "repeatabilityDegreesOfFreedom";
  const source = isTypedOver || repeatabilitySource === undefined ? {} : { repeatabilitySource };
  return { ...values, reading: { ...rest, ...source, [key]: typed } };
}

/** Defines a method or its next version; every default stands in its field with where it comes from. */
export function MethodForm({ before, onSaved, onCancel }: MethodFormProps) {
  const client = useClient();
  const form = useForm({
    id: before ? `method-${before.familyId}-${before.version + 1}` : "method",
    what: before ? "the version you began to define" : "the method you began to define",
    initial: before ? typedFromMethod(before) : EMPTY_METHOD,
    root: "definition",
    fieldOf: fieldOfMethod,
    check: methodProblems,
    send: (typed, requestId) =>
      client("methods.define", {
        requestId,
        familyId: before?.familyId ?? null,
        definition: methodInput(typed),
      }),
    onSaved,
  });
  const { dimensions } = form.values;
  return (
    <FormFrame form={form} label="Define a method" submit="Define" onCancel={onCancel}>
      {before ? null : <MethodStart onTake={(ready) => form.change(() => typedFrom(ready.definition))} />}
      <FieldGrid>
        <TextField {...form.bind("name", "Name")} autoFocus hint="“Pollen grains, P and E”." />
        <TextField
          {...form.bind("edgeConvention", "Which edges are read")}
          optional
          hint="Printed on every sheet: “outer edge to outer edge, ornament included”."
        />
        <SelectField
          id="method-diameter"
          label="Or a particle's diameter by its definition"
          value={DIAMETERS.find(({ words }) => words === form.values.edgeConvention)?.value ?? ""}
          onChange={(id) =>
            form.change((typed) => ({
              ...typed,
              edgeConvention: DIAMETERS.find(({ value }) => value === id)?.words ?? "",
            }))
          }
          error={null}
          none="own words"
          choices={DIAMETERS}
          hint={`${DIAMETER_DEFINITIONS[0]?.source}, from memory; it fills the field above.`}
        />
        <NumberField
          {...form.bind("minimumDivisions", "Least divisions an object should span")}
          unit="div"
          hint="Below it a size is flagged, never refused. At 20 div a repeatability of 0.2 div is 1 % of the size."
          source="Common practice, no source."
        />
      </FieldGrid>
      <EntryTable
        caption="Dimensions, in the order they are read"
        columns={[
          { key: "name", title: "Dimension", kind: "text", placeholder: "length" },
          {
            key: "key",
            title: "Column name",
            kind: "text",
            placeholder: (row) => keyFromName(dimensions[row]?.name ?? "") || "made from the name",
          },
          { key: "parts", title: "Read in up to … parts", kind: "number", placeholder: "whole" },
        ]}
        rows={dimensions.length}
        rowName={(row) => `Dimension ${row + 1}`}
        bind={(row, key, label) => form.bind(`dimensions.${row}.${key}`, label)}
        onAdd={() =>
          form.change((typed) => ({ ...typed, dimensions: [...typed.dimensions, EMPTY_DIMENSION] }))
        }
        addWords="Add dimension"
        onRemove={(row) =>
          form.change((typed) => ({ ...typed, dimensions: [...withoutAt(typed.dimensions, row)] }))
        }
        least={1}
        most={6}
      />
      <p>
        A curved object, or one longer than the scale, is read in parts, end to end, and its size is their
        sum; parts that an object does not have stay empty. Chords across a curve are always too short: more
        parts bring the sum nearer the curve, and U does not hold this.
      </p>
      <FieldGrid title="How a reading is made">
        <SelectField {...form.bind("entry", "What is read")} choices={choicesOf(ENTRY_KINDS, ENTRY_WORDS)} />
        <NumberField
          {...form.bind("repeats", "Readings of each dimension")}
          hint="More than one: their mean is the size, and U falls with √n in its repeatability."
        />
        <NumberField
          {...form.bind("wantedPercent", "Wanted U of a size")}
          optional
          unit="%"
          hint="A size with a larger U is flagged, with the objective that would do."
        />
        {CONDITION_WORDS.map(({ key, name, unit }) => (
          <NumberField
            key={key}
            {...form.bind(`reading.${key}`, name)}
            unit={unit}
            hint={DEFAULT_READING_CONDITIONS[key].why}
            onChange={(typed) => form.change((values) => withCondition(values, key, typed))}
          />
        ))}
        <SelectField
          {...form.bind("reading.ends", "Ends of the object")}
          choices={choicesOf(["points", "parallel-edges"], END_WORDS)}
          hint={DEFAULT_READING_CONDITIONS.ends.why}
        />
        <SelectField
          {...form.bind("reading.edgeKind", "Edge errors")}
          choices={choicesOf(EDGE_KINDS, EDGE_WORDS)}
          hint={DEFAULT_READING_CONDITIONS.edgeKind.why}
        />
      </FieldGrid>
      <ScatterChoice
        source={form.values.reading.repeatabilitySource}
        onTake={(taken) => form.change((values) => ({ ...values, reading: { ...values.reading, ...taken } }))}
      />
      <FieldGrid title="How a result is given">
        <SelectField
          {...form.bind("coverage", "Coverage of U")}
          choices={choicesOf(COVERAGE_RULES, COVERAGE_WORDS)}
        />
        <SelectField
          {...form.bind("rounding", "Rounding")}
          choices={choicesOf(ROUNDING_RULES, ROUNDING_WORDS)}
        />
      </FieldGrid>
      <MethodResults form={form} />
      <ChecksField
        {...form.bind("practice", "To be proven in practice before work by this method")}
        hint="Nothing is blocked: a sheet with rows of somebody who lacks one of these says so on screen, report and workbook."
        choices={EXERCISE_CHOICES}
      />
      <TextField {...form.bind("note", "Note")} optional lines={3} />
    </FormFrame>
  );
}
