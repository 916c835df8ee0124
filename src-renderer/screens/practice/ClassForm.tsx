import { NewClass, type PracticeClass } from "#core/contract/records/practice-class.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { ChoiceField } from "../../parts/form/ChoiceField.tsx";
import { FieldGrid } from "../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../parts/form/FormFrame.tsx";
import { problemsBySchema, problemsOfNumbers } from "../../parts/form/form-checks.ts";
import { NumberField } from "../../parts/form/NumberField.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { useForm } from "../../parts/form/use-form.ts";

/** A list as it is pasted: a name on each line; cells to the right of it are left out. */
export function namesOf(pasted: string): string[] {
  return pasted
    .split(/\r?\n/)
    .map((line) => (line.split(/[\t;]/)[0] ?? "").trim())
    .filter((name) => name !== "");
}

/** Makes a class from a list of names. */
export function ClassForm({
  onSaved,
  onCancel,
}: {
  onSaved: (made: PracticeClass) => void;
  onCancel: (() => void) | null;
}) {
  const client = useClient();
  const form = useForm({
    id: "practice-class",
    what: "the class you began to list",
    initial: {
      name: "",
      names: "",
      pictures: "same",
      seed: "5113",
      slide: "",
      intervals: "5",
      repeats: "3",
    },
    check: (typed) => {
      const numbers = problemsOfNumbers([
        ...(typed.pictures === "same"
          ? [["seed", typed.seed, { sign: "positive", whole: true }] as const]
          : []),
        ["intervals", typed.intervals, { sign: "positive", whole: true }],
        ["repeats", typed.repeats, { sign: "positive", whole: true }],
      ]);
      const names = namesOf(typed.names).length === 0 ? { names: "is empty: a name on each line" } : {};
      const schema = Object.keys(numbers).length > 0 ? {} : problemsBySchema(NewClass, planOf(typed));
      return { ...schema, ...numbers, ...names };
    },
    fieldOf: (path) => (path.startsWith("names.") ? "names" : path),
    send: (typed, requestId) =>
      client("practice.makeClass", { requestId, ...planOf(typed), names: namesOf(typed.names) }),
    onSaved,
  });
  return (
    <FormFrame form={form} label="New class" submit="Make the class" onCancel={onCancel ?? undefined}>
      <TextField {...form.bind("name", "Name of the class")} autoFocus />
      <TextField
        {...form.bind("names", "Names")}
        lines={6}
        hint="One on each line, typed or pasted. Whoever is not registered yet is registered with the name alone."
      />
      <ChoiceField
        {...form.bind("pictures", "Pictures")}
        choices={[
          {
            value: "same",
            words: "The same for everybody, by one seed: results can be compared task by task.",
          },
          { value: "own", words: "Everybody gets their own: nobody can copy." },
        ]}
      />
      {form.values.pictures === "same" ? <NumberField {...form.bind("seed", "Seed")} /> : null}
      <FieldGrid title="Real material, if all of them also read it at a real microscope">
        <TextField
          {...form.bind("slide", "What is read")}
          optional="empty: none"
          hint="Such as “ruled slide no. 2, intervals marked 1 to 5”. Nothing of it is put in force."
        />
        <NumberField {...form.bind("intervals", "Intervals")} />
        <NumberField {...form.bind("repeats", "Times each is read")} />
      </FieldGrid>
    </FormFrame>
  );
}

function planOf(typed: {
  readonly name: string;
  readonly pictures: string;
  readonly seed: string;
  readonly slide: string;
  readonly intervals: string;
  readonly repeats: string;
}): NewClass {
  return {
    name: typed.name,
    seed: typed.pictures === "same" ? Number(typed.seed) : null,
    slide: typed.slide,
    intervals: Number(typed.intervals),
    repeats: Number(typed.repeats),
  };
}
