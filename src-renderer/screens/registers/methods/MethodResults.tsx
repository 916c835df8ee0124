import { REPORT_KINDS } from "#core/contract/records/method.ts";
import { derivedInputs, derivedWords } from "#core/measurement/derived-kind.ts";
import { OBJECT_CLASS_TABLES } from "#core/methods/class-tables.ts";
import { DECISION_RULES } from "#core/vocabulary/decision-rules.ts";
import { DERIVED_KINDS, OWN_FORMULA } from "#core/vocabulary/derived-kinds.ts";
import { PERCENTILE_WORDS, REPORT_WORDS, RULE_WORDS } from "../../../parts/bench-words/method-words.ts";
import { EntryTable } from "../../../parts/form/EntryTable.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { withoutAt } from "../../../parts/form/form-values.ts";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import type { Form } from "../../../parts/form/use-form.ts";
import { EMPTY_DERIVED, EMPTY_LIMIT, keyFromName, type MethodTyped, methodInput } from "./method-form.ts";
import { SizeClassFields } from "./SizeClassFields.tsx";

const KINDS = [
  ...DERIVED_KINDS.map((kind) => ({ value: kind, words: derivedWords(kind) })),
  { value: OWN_FORMULA, words: "a formula of its own" },
];
const TABLES = OBJECT_CLASS_TABLES.map(({ id, name, quantity }) => ({
  value: id,
  words: `${name} (${quantity})`,
}));

const RULES = DECISION_RULES.map((value) => ({ value, words: RULE_WORDS[value] }));

/** What is made of the sizes: derived quantities, classes, limits, percentiles and the report string. */
export function MethodResults({ form }: { form: Form<MethodTyped> }) {
  const { derived, classes, limits } = form.values;
  const { dimensions, derived: quantities } = methodInput(form.values);
  const classed = [...dimensions, ...quantities]
    .filter(({ key }) => key !== "")
    .map(({ key, name }) => ({ value: key, words: name === "" ? key : name }));
  return (
    <>
      <EntryTable
        caption="Quantities computed from the sizes of a specimen"
        columns={[
          { key: "name", title: "Quantity", kind: "text", placeholder: "P/E" },
          { key: "kind", title: "What it is", kind: "choice", choices: KINDS },
          {
            key: "of",
            title: "Columns or formula",
            kind: "text",
            placeholder: (row) => placeholderOf(derived[row]?.kind ?? "ratio"),
          },
          {
            key: "key",
            title: "Column name",
            kind: "text",
            placeholder: (row) => keyFromName(derived[row]?.name ?? "") || "made from the name",
          },
        ]}
        rows={derived.length}
        rowName={(row) => `Quantity ${row + 1}`}
        bind={(row, key, label) => form.bind(`derived.${row}.${key}`, label)}
        onAdd={() => form.change((typed) => ({ ...typed, derived: [...typed.derived, EMPTY_DERIVED] }))}
        addWords="Add quantity"
        onRemove={(row) => form.change((typed) => ({ ...typed, derived: withoutAt(typed.derived, row) }))}
        least={0}
        most={12}
      />
      {derived.some(({ kind }) => kind === OWN_FORMULA) ? (
        <p>
          A formula is written with column names, numbers with a point, + − * / ^, brackets, pi, um (one
          micrometre, for a constant that is a length) and sqrt, ln, exp, min, max. Its unit follows from it;
          what several columns share, such as the factor, counts once in its U.
        </p>
      ) : null}
      <EntryTable
        caption="Classes a size or quantity is put into"
        columns={[
          { key: "of", title: "Size or quantity", kind: "choice", choices: classed },
          { key: "tableId", title: "Classes", kind: "choice", choices: TABLES },
        ]}
        rows={classes.length}
        rowName={(row) => `Class ${row + 1}`}
        bind={(row, key, label) => form.bind(`classes.${row}.${key}`, label)}
        onAdd={() =>
          form.change((typed) => ({
            ...typed,
            classes: [...typed.classes, { of: classed[0]?.value ?? "", tableId: TABLES[0]?.value ?? "" }],
          }))
        }
        addWords="Add table of classes"
        onRemove={(row) => form.change((typed) => ({ ...typed, classes: withoutAt(typed.classes, row) }))}
        least={0}
        most={12}
      />
      <EntryTable
        caption="Limits a specimen must keep"
        columns={[
          { key: "of", title: "Size or quantity", kind: "choice", choices: classed },
          { key: "lower", title: "Lower limit", kind: "number" },
          { key: "upper", title: "Upper limit", kind: "number" },
          { key: "rule", title: "Decision rule", kind: "choice", choices: RULES },
        ]}
        rows={limits.length}
        rowName={(row) => `Limit ${row + 1}`}
        bind={(row, key, label) => form.bind(`limits.${row}.${key}`, label)}
        onAdd={() =>
          form.change((typed) => ({
            ...typed,
            limits: [...typed.limits, { ...EMPTY_LIMIT, of: classed[0]?.value ?? "" }],
          }))
        }
        addWords="Add limits"
        onRemove={(row) => form.change((typed) => ({ ...typed, limits: withoutAt(typed.limits, row) }))}
        least={0}
        most={12}
      />
      <SizeClassFields form={form} quantities={classed} />
      <FieldGrid title="What is reported of a label">
        <SelectField
          {...form.bind("report.kind", "Report string")}
          choices={REPORT_KINDS.map((kind) => ({ value: kind, words: REPORT_WORDS[kind] }))}
        />
        <NumberField {...form.bind("report.places", "Decimals of a size")} />
        <NumberField {...form.bind("report.ratioPlaces", "Decimals of a ratio")} />
        <NumberField
          {...form.bind("percentiles.lower", "Lower percentile")}
          unit="%"
          source="5 and 95: R. E. Tulloss and J. E. Lindgren, Mycotaxon 91 (2005). 10 and 90: common practice, no source."
        />
        <NumberField {...form.bind("percentiles.upper", "Upper percentile")} unit="%" />
        <SelectField
          {...form.bind("percentiles.type", "Definition of a percentile")}
          choices={Object.entries(PERCENTILE_WORDS).map(([value, words]) => ({ value, words }))}
          hint="R. J. Hyndman and Y. Fan, The American Statistician 50 (1996) 361."
        />
      </FieldGrid>
    </>
  );
}

/** What a quantity is computed from, as it is to be typed. */
function placeholderOf(kind: string): string {
  if (kind === OWN_FORMULA) return "pi/6*length*width^2";
  return derivedInputs(kind)?.join(", ") ?? "two or more columns";
}
