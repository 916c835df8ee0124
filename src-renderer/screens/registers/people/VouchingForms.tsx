import type { Person } from "#core/contract/records/person.ts";
import { Reason } from "#core/contract/records/primitives.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { useCall } from "../../../bridge/use-call.ts";
import { ChoiceField } from "../../../parts/form/ChoiceField.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { PinField } from "../../../parts/form/PinField.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { usePinEntry } from "../../../parts/form/use-pin-entry.ts";
import { Notice } from "../../../parts/Notice.tsx";
import { usePeopleHere } from "../../../parts/people/use-people-here.ts";

export interface VouchingFormProps {
  readonly person: Person;
  readonly onDone: (words: string | null) => void;
}

const NOT_CHOSEN = "is not chosen yet";

/** Who was confirmed before and whose PIN is their own; those who may answer for another. */
function useVouchers(person: Person): readonly Person[] {
  const people = usePeopleHere();
  const pins = useCall("people.pins", {});
  const fit = new Set(
    pins.data?.filter((one) => one.hasPin && one.confirmed && !one.reset).map((one) => one.personId),
  );
  return (people ?? []).filter((one) => one.id !== person.id && fit.has(one.id));
}

function NoVoucher({ vouchers }: { vouchers: readonly Person[] }) {
  if (vouchers.length > 0) return null;
  return (
    <Notice kind="care" title="Nobody else can vouch here.">
      It takes another person with a PIN whom somebody has confirmed before. Somebody who was only just
      registered vouches for nobody.
    </Notice>
  );
}

const choicesOf = (people: readonly Person[]) => people.map((one) => ({ value: one.id, words: one.name }));

export function ConfirmPersonForm({ person, onDone }: VouchingFormProps) {
  const client = useClient();
  const vouchers = useVouchers(person);
  const pin = usePinEntry();
  const form = useForm({
    id: `confirm-person-${person.id}`,
    what: "the confirmation of a person",
    initial: { voucherId: "" },
    check: ({ voucherId }) => (voucherId === "" ? { voucherId: NOT_CHOSEN } : {}),
    send: async ({ voucherId }, requestId) =>
      client("people.confirm", { requestId, personId: person.id, voucherId, voucherPin: pin.take() }),
    fieldOf: (path) => (path === "voucherPin" ? "voucherId" : path),
    onSaved: () => onDone(`It is confirmed that the PIN is with ${person.name}.`),
  });
  return (
    <FormFrame
      form={form}
      label={`Confirm ${person.name}`}
      submit="I confirm it"
      onCancel={() => onDone(null)}
    >
      <p>
        You know {person.name}, and have seen that {person.name} set this PIN.
      </p>
      <NoVoucher vouchers={vouchers} />
      <FieldGrid>
        <SelectField
          {...form.bind("voucherId", "Confirmed by")}
          none="choose …"
          choices={choicesOf(vouchers)}
        />
        <PinField id={`confirm-pin-${person.id}`} label="Their PIN" {...pin.field} />
      </FieldGrid>
    </FormFrame>
  );
}

export function ClearPinForm({ person, onDone }: VouchingFormProps) {
  const client = useClient();
  const vouchers = useVouchers(person);
  const pin = usePinEntry();
  const form = useForm({
    id: `clear-pin-${person.id}`,
    what: "the reset of a PIN",
    initial: { voucherId: "", reason: "" },
    check: ({ voucherId, reason }) => {
      const why = Reason.safeParse(reason).error?.issues[0]?.message;
      return {
        ...(voucherId === "" ? { voucherId: NOT_CHOSEN } : {}),
        ...(why ? { reason: why } : {}),
      };
    },
    send: async ({ voucherId, reason }, requestId) =>
      client("people.clearPin", {
        requestId,
        personId: person.id,
        voucherId,
        voucherPin: pin.take(),
        reason,
      }),
    fieldOf: (path) => (path === "voucherPin" ? "voucherId" : path),
    onSaved: () => onDone("The PIN is cleared; a new one can be set."),
  });
  return (
    <FormFrame
      form={form}
      label={`Clear the PIN of ${person.name}`}
      submit="Clear the PIN"
      onCancel={() => onDone(null)}
    >
      <p>
        Signatures of {person.name} say so until {person.name} has confirmed the reset.
      </p>
      <NoVoucher vouchers={vouchers} />
      <FieldGrid>
        <SelectField
          {...form.bind("voucherId", "Vouched for by")}
          none="choose …"
          choices={choicesOf(vouchers)}
        />
        <PinField id={`voucher-pin-${person.id}`} label="Their PIN" {...pin.field} />
        <TextField {...form.bind("reason", "Reason")} />
      </FieldGrid>
    </FormFrame>
  );
}

/** The owner proves to be the owner by what whoever vouched did not have. */
export function ConfirmResetForm({ person, onDone }: VouchingFormProps) {
  const client = useClient();
  const witnesses = useVouchers(person);
  const pin = usePinEntry();
  const proof = usePinEntry();
  const form = useForm({
    id: `confirm-reset-${person.id}`,
    what: "the confirmation of a reset PIN",
    initial: { how: "former PIN", witnessId: "" },
    check: ({ how, witnessId }) =>
      how === "third person" && witnessId === "" ? { witnessId: NOT_CHOSEN } : {},
    send: async ({ how, witnessId }, requestId) =>
      client("people.confirmReset", {
        requestId,
        personId: person.id,
        pin: pin.take(),
        proof:
          how === "former PIN"
            ? { kind: how, formerPin: proof.take() }
            : { kind: "third person", witnessId, witnessPin: proof.take() },
      }),
    fieldOf: (path) => (path === "proof.witnessId" || path === "proof.witnessPin" ? "witnessId" : "how"),
    onSaved: () => onDone("The reset is confirmed; signatures bear no mark from now on."),
  });
  const byFormer = form.values.how === "former PIN";
  return (
    <FormFrame
      form={form}
      label={`Confirm the reset of the PIN of ${person.name}`}
      submit="Confirm the reset"
      onCancel={() => onDone(null)}
    >
      <ChoiceField
        {...form.bind("how", "Proven by")}
        choices={[
          { value: "former PIN", words: "The PIN from before the reset." },
          {
            value: "third person",
            words: "A third person, who did not vouch and had been confirmed before the reset.",
          },
        ]}
      />
      <FieldGrid>
        <PinField id={`reset-pin-${person.id}`} label={`Present PIN of ${person.name}`} {...pin.field} />
        {byFormer ? null : (
          <SelectField
            {...form.bind("witnessId", "Third person")}
            none="choose …"
            choices={choicesOf(witnesses)}
          />
        )}
        <PinField
          id={`reset-proof-${person.id}`}
          label={byFormer ? "PIN from before" : "Their PIN"}
          {...proof.field}
        />
      </FieldGrid>
    </FormFrame>
  );
}
