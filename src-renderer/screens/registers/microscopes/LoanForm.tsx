import { type EquipmentEvent, NewEquipmentEvent } from "#core/contract/records/equipment-event.ts";
import type { Eyepiece } from "#core/contract/records/microscope.ts";
import { lentWords } from "#core/optics/lent-eyepiece.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { today } from "../../../parts/bench-words/today.ts";
import { DateField } from "../../../parts/form/DateField.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { problemsBySchema } from "../../../parts/form/form-checks.ts";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";

const FACTORS = [
  { value: "check", words: "to be checked before its trains are used" },
  { value: "unchanged", words: "hold: I state that nothing was changed" },
] as const;

export interface LoanFormProps {
  readonly eyepiece: Eyepiece;
  /** With which it is away; null to lend it. */
  readonly loan: EquipmentEvent | null;
  readonly onDone: () => void;
}

/** Lends an eyepiece with its reticle, or brings it back with what becomes of its factors. */
export function LoanForm({ eyepiece, loan, onDone }: LoanFormProps) {
  const client = useClient();
  const inputOf = (typed: { happenedOn: string; words: string; factors: string }): NewEquipmentEvent => ({
    kind: loan ? "brought back" : "lent",
    subject: { kind: "eyepiece", id: eyepiece.id },
    happenedOn: typed.happenedOn,
    words: typed.words,
    ...(loan && typed.factors === "unchanged" ? { unchanged: true } : {}),
  });
  const form = useForm({
    id: `loan-${eyepiece.id}`,
    what: loan ? "the return you began to record" : "the loan you began to record",
    initial: { happenedOn: today(), words: "", factors: FACTORS[0].value as string },
    root: "event",
    check: (typed) => problemsBySchema(NewEquipmentEvent, inputOf(typed)),
    send: (typed, requestId) => client("events.record", { requestId, event: inputOf(typed) }),
    onSaved: onDone,
  });
  if (!loan) {
    return (
      <FormFrame form={form} label={`Lend eyepiece ${eyepiece.name}`} submit="Lend it" onCancel={onDone}>
        <p>
          Lent with its reticle: out of the laboratory, or to another stand. Nothing new is read, counted,
          calibrated or checked with its trains until it is brought back.
        </p>
        <FieldGrid>
          <TextField
            {...form.bind("words", "To whom, where")}
            hint="“Teaching laboratory, stand C.”"
            autoFocus
          />
          <DateField {...form.bind("happenedOn", "Lent on")} />
        </FieldGrid>
      </FormFrame>
    );
  }
  return (
    <FormFrame
      form={form}
      label={`Bring back eyepiece ${eyepiece.name}`}
      submit="Bring it back"
      onCancel={onDone}
    >
      <p>
        It {lentWords(loan)} A reticle that was turned over, taken out or focused anew changes the factor.
      </p>
      <FieldGrid>
        <TextField
          {...form.bind("words", "How it came back")}
          hint="“Sealed, reticle and sleeve untouched.”"
          autoFocus
        />
        <DateField {...form.bind("happenedOn", "Brought back on")} />
        <SelectField {...form.bind("factors", "Its factors")} choices={FACTORS} />
      </FieldGrid>
    </FormFrame>
  );
}
