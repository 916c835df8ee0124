import { useState } from "react";
import {
  CORRECTABLE,
  type CorrectableField,
  type Correction,
  type CorrectionSubject,
  NewCorrection,
} from "#core/contract/records/correction.ts";
import { AMOUNT_KEYS } from "#core/contract/records/tested-amount.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { Notice } from "../Notice.tsx";
import { FieldGrid } from "./FieldGrid.tsx";
import { FormFrame } from "./FormFrame.tsx";
import styles from "./MoreFields.module.css";
import { NumberField } from "./NumberField.tsx";
import { ReasonField } from "./ReasonField.tsx";
import { SelectField } from "./SelectField.tsx";
import { TextField } from "./TextField.tsx";
import { useForm } from "./use-form.ts";

const WORDS: Readonly<Record<CorrectableField, string>> = {
  name: "Name",
  sample: "Sample",
  initials: "Initials",
  maker: "Maker",
  model: "Model",
  serial: "Serial number",
  customer: "Customer",
  containers: "Containers pooled",
  volume: "Volume tested, mL",
  portion: "Part looked at, %",
  note: "Note",
};

/** Fields that hold a number as typed. */
const NUMBERS: readonly CorrectableField[] = AMOUNT_KEYS;

export interface CorrectionFormProps {
  readonly subject: CorrectionSubject;
  /** The words as they stand. */
  readonly words: { readonly [F in CorrectableField]?: string | undefined };
  readonly onCorrected?: (correction: Correction) => void;
}

/** A slip in a word of a record is put right, or what was left empty filled in: folded away until it is wanted. */
export function CorrectionForm({ subject, words, onCorrected }: CorrectionFormProps) {
  const client = useClient();
  const [done, setDone] = useState<Correction | null>(null);
  const fields: readonly CorrectableField[] = CORRECTABLE[subject.kind];
  const form = useForm({
    id: `correct-${subject.kind}-${subject.id}`,
    what: `the correction of a ${subject.kind}`,
    initial: { field: fields[0] ?? "name", value: "", reason: "" },
    check: (values) => {
      const issues = NewCorrection.safeParse({ subject, ...values }).error?.issues ?? [];
      return Object.fromEntries(issues.map(({ path, message }) => [path.join("."), message]));
    },
    send: (values, requestId) => client("records.correct", { requestId, correction: { subject, ...values } }),
    root: "correction",
    onSaved: (correction) => {
      setDone(correction);
      onCorrected?.(correction);
    },
  });
  const field = form.values.field;
  const now = words[field] ?? "";
  return (
    <details className={styles.more} data-screen-only>
      <summary>Correct a slip, or fill in what was left empty …</summary>
      {done ? (
        <Notice
          kind="done"
          live
          title={`${WORDS[done.field as CorrectableField]}: ${done.before || "empty"} → ${done.after || "empty"}.`}
        >
          <p>The old word stays in the audit trail, with your reason.</p>
        </Notice>
      ) : null}
      <FormFrame form={form} label={`Correct a ${subject.kind}`} submit="Correct">
        <FieldGrid>
          <SelectField
            {...form.bind("field", "What")}
            choices={fields.map((one) => ({ value: one, words: WORDS[one] }))}
            hint={`Now: ${now || "empty"}`}
          />
          {NUMBERS.includes(field) ? (
            <NumberField {...form.bind("value", "As it should read")} />
          ) : (
            <TextField
              {...form.bind("value", "As it should read")}
              {...(field === "note" ? { lines: 3 } : {})}
            />
          )}
          <ReasonField use="correct" {...form.bind("reason", "Reason")} />
        </FieldGrid>
      </FormFrame>
    </details>
  );
}
