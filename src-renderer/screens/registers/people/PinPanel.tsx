import { useState } from "react";
import type { Person } from "#core/contract/records/person.ts";
import { Pin, type PinState } from "#core/contract/records/sign-off.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { shownInstant } from "../../../parts/bench-words/instant.ts";
import { usePersonName } from "../../../parts/bench-words/use-person-name.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { PinField } from "../../../parts/form/PinField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { usePinEntry } from "../../../parts/form/use-pin-entry.ts";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { Notice } from "../../../parts/Notice.tsx";
import styles from "../Registers.module.css";
import {
  ClearPinForm,
  ConfirmPersonForm,
  ConfirmResetForm,
  type VouchingFormProps,
} from "./VouchingForms.tsx";

type Doing = "set" | "confirm" | "clear" | "confirm reset";

/** The PIN a person signs sheets with: set, changed, confirmed by others, or reset when forgotten. */
export function PinPanel({ person }: { person: Person }) {
  const pins = useCall("people.pins", {});
  const [doing, setDoing] = useState<Doing | null>(null);
  const [done, setDone] = useState<string | null>(null);
  const pinState = pins.data?.find((one) => one.personId === person.id);
  const hasPin = pinState?.hasPin === true;
  const offered: readonly (readonly [Doing, string])[] = [
    ["set", hasPin ? "Change the PIN" : "Set a PIN"],
    ...(hasPin && !pinState.confirmed ? [["confirm", "Confirm whose it is"] as const] : []),
    ...(hasPin && pinState.reset ? [["confirm reset", "Confirm the reset"] as const] : []),
    ...(hasPin ? [["clear", "It was forgotten"] as const] : []),
  ];
  const finish = (words: string | null): void => {
    setDoing(null);
    setDone(words);
  };
  const common = { person, onDone: finish };
  return (
    <Panel
      title="PIN for signing"
      actions={
        doing === null && pinState
          ? offered.map(([what, words]) => (
              <Button key={what} onClick={() => setDoing(what)}>
                {words}
              </Button>
            ))
          : null
      }
    >
      <div className={styles.stack}>
        <CallNotice calls={[pins]} waiting="Asking for the PIN’s state …" />
        {done ? <Notice kind="done" live title={done} /> : null}
        {pinState ? <PinStateLines pinState={pinState} name={person.name} /> : null}
        {doing === "set" ? <SetPinForm {...common} hasPin={hasPin} /> : null}
        {doing === "confirm" ? <ConfirmPersonForm {...common} /> : null}
        {doing === "clear" ? <ClearPinForm {...common} /> : null}
        {doing === "confirm reset" ? <ConfirmResetForm {...common} /> : null}
      </div>
    </Panel>
  );
}

function PinStateLines({ pinState, name }: { pinState: PinState; name: string }) {
  const nameOf = usePersonName();
  const { hasPin, setAt, confirmed, reset } = pinState;
  return (
    <>
      <p>
        {hasPin
          ? `Set ${setAt ? shownInstant(setAt) : ""}. Only a hash of it is kept.`
          : "None yet. It is needed to sign sheets, and to review them where the laboratory asks for it."}
      </p>
      {hasPin ? (
        <p>
          {confirmed === null
            ? `Nobody has confirmed yet that it is ${name} who has it: ${name} cannot vouch for others.`
            : confirmed.by === pinState.personId
              ? "Confirmed without another person: the first PIN of this bench, or one from before others were asked."
              : `Confirmed by ${nameOf(confirmed.by)}, ${shownInstant(confirmed.at)}.`}
        </p>
      ) : null}
      {reset ? (
        <Notice
          kind="care"
          title={`The PIN was reset ${shownInstant(reset.at)}; ${nameOf(reset.voucher)} vouched: ${reset.reason}`}
        >
          Every signature of {name} says so until {name} has confirmed it.
        </Notice>
      ) : null}
    </>
  );
}

function SetPinForm({ person, hasPin, onDone }: VouchingFormProps & { hasPin: boolean }) {
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
