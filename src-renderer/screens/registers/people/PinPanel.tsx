import { useState } from "react";
import type { Person } from "#core/contract/records/person.ts";
import { Reason } from "#core/contract/records/primitives.ts";
import { Pin } from "#core/contract/records/sign-off.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { shownInstant } from "../../../parts/bench-words/instant.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { PinField } from "../../../parts/form/PinField.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { usePinEntry } from "../../../parts/form/use-pin-entry.ts";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { Notice } from "../../../parts/Notice.tsx";
import styles from "../Registers.module.css";

/** The PIN a person signs sheets with: set, changed, or vouched away when forgotten. */
export function PinPanel({ person }: { person: Person }) {
  const pins = useCall("people.pins", {});
  const [doing, setDoing] = useState<"set" | "clear" | null>(null);
  const [done, setDone] = useState<string | null>(null);
  const standing = pins.data?.find((one) => one.personId === person.id);
  const hasPin = standing?.hasPin === true;
  const finish = (words: string | null): void => {
    setDoing(null);
    setDone(words);
  };
  return (
    <Panel
      title="PIN for signing"
      actions={
        doing === null && pins.data ? (
          <>
            <Button onClick={() => setDoing("set")}>{hasPin ? "Change the PIN" : "Set a PIN"}</Button>
            {hasPin ? <Button onClick={() => setDoing("clear")}>It was forgotten</Button> : null}
          </>
        ) : null
      }
    >
      <div className={styles.stack}>
        <CallNotice calls={[pins]} waiting="Asking for the PIN’s state …" />
        {done ? <Notice kind="done" live title={done} /> : null}
        {pins.data ? (
          <p>
            {hasPin
              ? `Set ${standing?.setAt ? shownInstant(standing.setAt) : ""}. Only a hash of it is kept.`
              : "None yet. It is needed to sign sheets, and for nothing else."}
          </p>
        ) : null}
        {doing === "set" ? <SetPinForm person={person} hasPin={hasPin} onDone={finish} /> : null}
        {doing === "clear" ? <ClearPinForm person={person} onDone={finish} /> : null}
      </div>
    </Panel>
  );
}

interface PinFormProps {
  readonly person: Person;
  readonly onDone: (words: string | null) => void;
}

function SetPinForm({ person, hasPin, onDone }: PinFormProps & { hasPin: boolean }) {
  const client = useClient();
  const present = usePinEntry();
  const pin = usePinEntry();
  const again = usePinEntry();
  const [problem, setProblem] = useState<string | null>(null);
  const form = useForm({
    id: `pin-${person.id}`,
    what: "the PIN you began to set",
    initial: {},
    check: () => {
      const short = Pin.safeParse(pin.field.value).error?.issues[0]?.message ?? null;
      const differs =
        pin.field.value === again.field.value ? null : "differs from the PIN above: type both anew";
      setProblem(short ?? differs);
      return short ? { pin: short } : differs ? { again: differs } : {};
    },
    send: async (_values, requestId) => {
      again.take();
      return client("people.setPin", {
        requestId,
        personId: person.id,
        pin: pin.take(),
        presentPin: hasPin ? present.take() : null,
      });
    },
    onSaved: () => onDone("The PIN is set."),
  });
  return (
    <FormFrame form={form} label={`PIN of ${person.name}`} submit="Set the PIN" onCancel={() => onDone(null)}>
      <FieldGrid>
        {hasPin ? <PinField id={`pin-present-${person.id}`} label="Present PIN" {...present.field} /> : null}
        <PinField
          id={`pin-new-${person.id}`}
          label="New PIN"
          hint="At least 4 characters; letters are allowed."
          error={problem}
          {...pin.field}
        />
        <PinField id={`pin-again-${person.id}`} label="New PIN again" {...again.field} />
      </FieldGrid>
    </FormFrame>
  );
}

function ClearPinForm({ person, onDone }: PinFormProps) {
  const client = useClient();
  const people = useCall("people.list", {});
  const pins = useCall("people.pins", {});
  const pin = usePinEntry();
  const vouchers = (people.data ?? []).filter(
    (one) => one.id !== person.id && pins.data?.some(({ personId, hasPin }) => hasPin && personId === one.id),
  );
  const form = useForm({
    id: `clear-pin-${person.id}`,
    what: "the clearing of a PIN",
    initial: { voucherId: "", reason: "" },
    check: ({ voucherId, reason }) => {
      const why = Reason.safeParse(reason).error?.issues[0]?.message;
      return {
        ...(voucherId === "" ? { voucherId: "is not chosen yet" } : {}),
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
    onSaved: () => onDone("The PIN is cleared; a new one can be set."),
  });
  return (
    <FormFrame
      form={form}
      label={`Clear the PIN of ${person.name}`}
      submit="Clear the PIN"
      onCancel={() => onDone(null)}
    >
      {vouchers.length === 0 ? (
        <Notice kind="care" title="Nobody else has a PIN to vouch with.">
          Another person with a PIN vouches that {person.name} asks for it.
        </Notice>
      ) : null}
      <FieldGrid>
        <SelectField
          {...form.bind("voucherId", "Vouched for by")}
          none="choose …"
          choices={vouchers.map((one) => ({ value: one.id, words: one.name }))}
        />
        <PinField id={`voucher-pin-${person.id}`} label="Their PIN" {...pin.field} />
        <TextField {...form.bind("reason", "Reason")} />
      </FieldGrid>
    </FormFrame>
  );
}
