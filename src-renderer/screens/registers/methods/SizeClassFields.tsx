import { DECISION_RULES } from "#core/vocabulary/decision-rules.ts";
import { AMOUNT_BASES, SIZE_COUNTINGS } from "#core/vocabulary/size-classes.ts";
import {
  AMOUNT_BASIS_WORDS,
  NUMBER_RULE_CHOICE_WORDS,
  SIZE_COUNTING_WORDS,
} from "../../../parts/bench-words/size-class-words.ts";
import { EntryTable } from "../../../parts/form/EntryTable.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { withoutAt } from "../../../parts/form/form-values.ts";
import { type Choice, SelectField } from "../../../parts/form/SelectField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import type { Form } from "../../../parts/form/use-form.ts";
import { EMPTY_SIZE_LIMIT, type MethodTyped, NO_SIZE_CLASSES, type SizeClassesTyped } from "./method-form.ts";

function choicesOf<K extends string>(keys: readonly K[], words: Readonly<Record<K, string>>): Choice[] {
  return keys.map((key) => ({ value: key, words: words[key] }));
}
const COUNTINGS = choicesOf(SIZE_COUNTINGS, SIZE_COUNTING_WORDS);
const BASES = choicesOf(AMOUNT_BASES, AMOUNT_BASIS_WORDS);
const RULES = choicesOf(DECISION_RULES, NUMBER_RULE_CHOICE_WORDS);

/** The laboratory's own limits by which specimens are counted; the rest is asked for once there is a limit. */
export function SizeClassFields({
  form,
  quantities,
}: {
  readonly form: Form<MethodTyped>;
  readonly quantities: readonly Choice[];
}) {
  const now = form.values.sizeClasses ?? NO_SIZE_CLASSES;
  const change = (next: Partial<SizeClassesTyped>): void =>
    form.change((typed) => ({
      ...typed,
      sizeClasses: { ...(typed.sizeClasses ?? NO_SIZE_CLASSES), ...next },
    }));
  return (
    <>
      <EntryTable
        caption="Own size limits, by which the specimens of a sheet are counted"
        columns={[
          { key: "from", title: "From", kind: "number", placeholder: "10" },
          { key: "most", title: "At most", kind: "number", placeholder: "no limit" },
        ]}
        rows={now.limits.length}
        rowName={(row) => `Size limit ${row + 1}`}
        bind={(row, key, label) => form.bind(`sizeClasses.limits.${row}.${key}`, label)}
        onAdd={() =>
          change({
            of: now.of === "" ? (quantities[0]?.value ?? "") : now.of,
            limits: [...now.limits, EMPTY_SIZE_LIMIT],
          })
        }
        addWords="Add size limit"
        onRemove={(row) => change({ limits: withoutAt(now.limits, row) })}
        least={0}
        most={12}
      />
      {now.limits.length === 0 ? null : (
        <FieldGrid title="How they are counted by size">
          <SelectField {...form.bind("sizeClasses.of", "What is counted by size")} choices={quantities} />
          <SelectField {...form.bind("sizeClasses.counted", "A class holds")} choices={COUNTINGS} />
          <SelectField
            {...form.bind("sizeClasses.per", "Numbers are given")}
            choices={BASES}
            hint="Containers, volume and part looked at are named where a sheet is opened, or corrected in Records."
          />
          <SelectField
            {...form.bind("sizeClasses.rule", "A number keeps its “at most” when")}
            choices={RULES}
            hint="JCGM 106:2012, 8.2 and 8.3."
          />
          <TextField
            {...form.bind("sizeClasses.source", "Where the limits come from")}
            optional
            hint="Printed beside the numbers. The edition in force decides, not this form."
          />
        </FieldGrid>
      )}
    </>
  );
}
