import type { ControlSample, RecoverySample } from "#core/contract/records/control-sample.ts";
import { ControlSample as ControlSchema } from "#core/contract/records/control-sample.ts";
import type { Count } from "#core/contract/records/count.ts";
import type { CountMethod } from "#core/contract/records/count-method.ts";
import { lastDensity } from "#core/counting/controls/control-found.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { useCall } from "../../../bridge/use-call.ts";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { problemsBySchema, problemsOfNumbers } from "../../../parts/form/form-checks.ts";
import type { FieldErrors } from "../../../parts/form/form-values.ts";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { type Form, useForm } from "../../../parts/form/use-form.ts";

interface Values {
  readonly kind: ControlSample["kind"] | "none";
  readonly of: string;
  readonly against: RecoverySample["against"];
  readonly stated: string;
  readonly expanded: string;
  readonly portion: string;
  readonly background: string;
  readonly source: string;
  readonly ofCountId: string;
  readonly reason: string;
}

const EMPTY: Values = {
  kind: "blank",
  of: "total",
  against: "objects",
  stated: "",
  expanded: "",
  portion: "",
  background: "",
  source: "",
  ofCountId: "",
  reason: "",
};

const KINDS = [
  { value: "blank", words: "a blank: it ought to hold nothing" },
  { value: "recovery", words: "a sample of known content, or with a known addition" },
  { value: "duplicate", words: "a duplicate of another count" },
  { value: "none", words: "no control sample" },
];

function controlOf(values: Values): ControlSample | null {
  const { kind, of, against, stated, expanded, source, ofCountId } = values;
  if (kind === "none") return null;
  if (kind === "blank") return { kind };
  if (kind === "duplicate") return { kind, ofCountId };
  const { portion, background } = against === "objects" ? values : EMPTY;
  return { kind, of, against, stated, expanded, portion, background, source };
}

function check(values: Values, replaces: boolean): FieldErrors {
  const reason =
    replaces && values.reason.trim() === "" ? { reason: "is needed: something else was said before" } : {};
  if (values.kind === "duplicate" && values.ofCountId === "")
    return { ...reason, ofCountId: "Choose a count." };
  if (values.kind !== "recovery") return reason;
  const { source, stated, expanded, portion, background } = values;
  const Recovery = ControlSchema.options[1];
  return {
    ...reason,
    ...problemsOfNumbers([
      ["stated", stated, { sign: "positive" }],
      ["expanded", expanded, { sign: "not negative", optional: true }],
      ["portion", portion, { sign: "positive", optional: true }],
      ["background", background, { sign: "not negative", optional: true }],
    ]),
    ...problemsBySchema(Recovery.pick({ source: true }), { source }),
  };
}

interface ControlFormProps {
  readonly count: Count;
  readonly method: CountMethod;
  readonly onSaved: (count: Count) => void;
}

/** What control sample a count is: what is stated of it, and by whom. */
export function ControlForm({ count, method, onSaved }: ControlFormProps) {
  const client = useClient();
  const before = count.control;
  const form = useForm<Values, Count>({
    id: `control-${count.id}`,
    what: "what control sample the count is",
    initial: { ...EMPTY, ...before },
    check: (values) => check(values, before !== undefined),
    send: (values, requestId) =>
      client("counts.setControl", {
        requestId,
        countId: count.id,
        control: controlOf(values),
        reason: values.reason,
      }),
    root: "control",
    onSaved,
  });
  return (
    <FormFrame form={form} submit="Save" label={`Control sample ${count.number}`}>
      <SelectField {...form.bind("kind", "The count is of")} choices={KINDS} autoFocus />
      {form.values.kind === "recovery" ? <Stated form={form} count={count} method={method} /> : null}
      {form.values.kind === "duplicate" ? <Other form={form} count={count} method={method} /> : null}
      {before ? <TextField {...form.bind("reason", "Reason")} /> : null}
    </FormFrame>
  );
}

type Part = { readonly form: Form<Values> } & Omit<ControlFormProps, "onSaved">;

function Stated({ form, count, method }: Part) {
  const { against, of } = form.values;
  const density = count.results && lastDensity(count.results, of);
  const unit = against === "objects" ? "objects" : (density?.unit ?? "");
  return (
    <>
      <SelectField
        {...form.bind("of", "What is known of")}
        choices={[
          { value: "total", words: "the total" },
          ...count.categories.map(({ key, name }) => ({ value: key, words: name })),
        ]}
      />
      {method.definition.density.kind === "none" ? null : (
        <SelectField
          {...form.bind("against", "Stated as")}
          choices={[
            { value: "objects", words: "a number of objects in the whole sample" },
            { value: "density", words: "a density, in the unit of the count" },
          ]}
        />
      )}
      <NumberField {...form.bind("stated", "Stated")} unit={unit} />
      <NumberField {...form.bind("expanded", "U (k = 2)")} unit={unit} optional="taken as exact without it" />
      {against === "objects" ? (
        <>
          <NumberField
            {...form.bind("portion", "Part of the sample looked at")}
            unit="%"
            optional="all of it when empty"
          />
          <NumberField
            {...form.bind("background", "Found without the addition")}
            unit="objects"
            optional
            hint="In as much of the sample."
          />
        </>
      ) : null}
      <TextField {...form.bind("source", "Who states it")} hint="Certificate, batch, preparation." />
    </>
  );
}

function Other({ form, count, method }: Part) {
  const counts = useCall("counts.search", {
    words: "",
    personId: null,
    familyId: method.familyId,
    objectiveId: null,
    since: null,
    until: null,
    state: null,
    sort: "number",
    descending: true,
    skip: 0,
    count: 200,
  });
  const others = (counts.data?.counts ?? []).filter(({ id }) => id !== count.id);
  return (
    <SelectField
      {...form.bind("ofCountId", "Duplicate of")}
      none="Choose a count."
      hint="Of the last 200 by this method."
      choices={others.map(({ id, number, sample }) => ({ value: id, words: `${number}, ${sample}` }))}
    />
  );
}
