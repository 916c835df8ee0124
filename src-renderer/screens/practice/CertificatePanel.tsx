import { useState } from "react";
import type { PracticeAttempt } from "#core/contract/records/practice.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { printedInstant } from "../../parts/bench-words/instant.ts";
import { pinResetWords } from "../../parts/bench-words/pin-reset-words.ts";
import { usePersonName } from "../../parts/bench-words/use-person-name.ts";
import { FieldGrid } from "../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../parts/form/FormFrame.tsx";
import { PinField } from "../../parts/form/PinField.tsx";
import { SelectField } from "../../parts/form/SelectField.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { useForm } from "../../parts/form/use-form.ts";
import { usePinEntry } from "../../parts/form/use-pin-entry.ts";
import { Facts } from "../../parts/layout/Facts.tsx";
import { Notice } from "../../parts/Notice.tsx";
import styles from "./Practice.module.css";

/** The examiner's signature under a met attempt, or the way to give it. */
export function CertificateOf({ attempt }: { attempt: PracticeAttempt }) {
  const certificate = useCall("practice.certificate", { attemptId: attempt.id });
  const personName = usePersonName();
  const [signing, setSigning] = useState(false);
  const one = certificate.data;
  if (one) {
    return (
      <section aria-label="Certificate of practice" className={styles.stack}>
        <h3>Certificate of practice no. {one.number}</h3>
        <Facts
          facts={[
            ["Examiner", personName(one.examinerId)],
            ["Signed", printedInstant(one.at)],
            ["Words", one.words],
            ["SHA-256 of the attempt", one.attemptSha256],
          ]}
        />
        {one.pinReset ? (
          <Notice
            kind="care"
            title={`${personName(one.examinerId)} signed ${pinResetWords(printedInstant(one.pinReset.at), personName(one.pinReset.voucher))}`}
          />
        ) : null}
        <p data-paper-only>Examiner, by hand: ______________________ Reader: ______________________</p>
      </section>
    );
  }
  if (certificate.data === undefined) return null;
  return signing ? (
    <SignForm attempt={attempt} onDone={() => setSigning(false)} />
  ) : (
    <p>
      No examiner has signed this attempt. <Button onClick={() => setSigning(true)}>Sign as examiner</Button>
    </p>
  );
}

function SignForm({ attempt, onDone }: { attempt: PracticeAttempt; onDone: () => void }) {
  const client = useClient();
  const people = useCall("people.list", {});
  const pins = useCall("people.pins", {});
  const pin = usePinEntry();
  const withPin = new Set(pins.data?.filter((one) => one.hasPin).map((one) => one.personId));
  const others = (people.data ?? []).filter(({ id }) => id !== attempt.personId);
  const form = useForm({
    id: `certificate-${attempt.id}`,
    what: "the signature of an examiner",
    initial: { examinerId: "", words: "" },
    check: ({ examinerId }) => (examinerId === "" ? { examinerId: "is not chosen yet" } : {}),
    send: async ({ examinerId, words }, requestId) =>
      client("practice.sign", { requestId, attemptId: attempt.id, examinerId, pin: pin.take(), words }),
    fieldOf: (path) => (path === "pin" ? "examinerId" : path),
    onSaved: onDone,
  });
  return (
    <FormFrame form={form} label="Sign as examiner" submit="Sign" onCancel={onDone}>
      <p>
        You saw this attempt made by the reader alone, and have looked at its figures. The signature covers
        every answer, the criteria and the result.
      </p>
      {people.data && pins.data && !others.some(({ id }) => withPin.has(id)) ? (
        <Notice
          kind="care"
          title="Nobody else has a PIN yet."
          hint="The examiner is another person than the reader, and sets a PIN in Registers, People."
        />
      ) : null}
      <FieldGrid>
        <SelectField
          {...form.bind("examinerId", "Examiner")}
          autoFocus
          none="choose …"
          choices={others.map(({ id, name }) => ({
            value: id,
            words: withPin.has(id) ? name : `${name} (no PIN)`,
          }))}
        />
        <PinField id={`certificate-pin-${attempt.id}`} label="PIN" {...pin.field} />
        <TextField {...form.bind("words", "Words with the signature")} optional="if any" />
      </FieldGrid>
    </FormFrame>
  );
}
