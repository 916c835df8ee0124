import { type ReactNode, useState } from "react";
import type { PracticeCertificate, PracticeWithdrawal } from "#core/contract/records/competence.ts";
import type { PracticeAttempt } from "#core/contract/records/practice.ts";
import { Reason } from "#core/contract/records/primitives.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { printedInstant } from "../../parts/bench-words/instant.ts";
import { pinResetWords } from "../../parts/bench-words/pin-reset-words.ts";
import { usePersonName } from "../../parts/bench-words/use-person-name.ts";
import { FieldGrid } from "../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../parts/form/FormFrame.tsx";
import type { FieldProps } from "../../parts/form/field-props.ts";
import { PinField } from "../../parts/form/PinField.tsx";
import { SelectField } from "../../parts/form/SelectField.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { useForm } from "../../parts/form/use-form.ts";
import { usePinEntry } from "../../parts/form/use-pin-entry.ts";
import { Facts } from "../../parts/layout/Facts.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { usePeopleHere } from "../../parts/people/use-people-here.ts";
import styles from "./Practice.module.css";

/** The examiner's signature under a met attempt with the way to take it back, or the way to give it. */
export function CertificateOf({ attempt }: { attempt: PracticeAttempt }) {
  const certificates = useCall("practice.certificates", {}).data;
  const [asking, setAsking] = useState(false);
  if (certificates === undefined) return null;
  const one = certificates.find(({ attemptId }) => attemptId === attempt.id);
  const done = (): void => setAsking(false);
  if (one) {
    return (
      <section aria-label="Certificate of practice" className={styles.stack}>
        <h3>
          Certificate of practice no. {one.number}
          {one.withdrawn ? ", withdrawn" : ""}
        </h3>
        <Signature certificate={one} />
        {one.withdrawn ? <Withdrawn withdrawn={one.withdrawn} /> : null}
        {asking && !one.withdrawn ? <WithdrawForm attempt={attempt} onDone={done} /> : null}
        {asking || one.withdrawn ? null : (
          <p data-screen-only>
            <Button onClick={() => setAsking(true)}>Withdraw the certificate</Button>
          </p>
        )}
        {one.withdrawn ? null : (
          <p data-paper-only>Examiner, by hand: ______________________ Reader: ______________________</p>
        )}
      </section>
    );
  }
  return asking ? (
    <SignForm attempt={attempt} onDone={done} />
  ) : (
    <p>
      No examiner has signed this attempt. <Button onClick={() => setAsking(true)}>Sign as examiner</Button>
    </p>
  );
}

function Signature({ certificate }: { certificate: PracticeCertificate }) {
  const personName = usePersonName();
  const { examinerId, at, words, attemptSha256, pinReset } = certificate;
  return (
    <>
      <Facts
        facts={[
          ["Examiner", personName(examinerId)],
          ["Signed", printedInstant(at)],
          ["Words", words],
          ["SHA-256 of the attempt", attemptSha256],
        ]}
      />
      <ResetNotice did={`${personName(examinerId)} signed`} pinReset={pinReset} />
    </>
  );
}

function Withdrawn({ withdrawn: { examinerId, at, reason, pinReset } }: { withdrawn: PracticeWithdrawal }) {
  const personName = usePersonName();
  return (
    <>
      <Notice
        kind="care"
        title={`Withdrawn by ${personName(examinerId)}, ${printedInstant(at)}: ${reason}`}
        hint="From then on this attempt is no longer taken as proof. Practise again for a new certificate."
      />
      <ResetNotice did={`${personName(examinerId)} withdrew it`} pinReset={pinReset} />
    </>
  );
}

function ResetNotice({ did, pinReset }: { did: string; pinReset: PracticeCertificate["pinReset"] }) {
  const personName = usePersonName();
  return pinReset ? (
    <Notice
      kind="care"
      title={`${did} ${pinResetWords(printedInstant(pinReset.at), personName(pinReset.voucher))}`}
    />
  ) : null;
}

interface ExaminerFormProps {
  readonly attempt: PracticeAttempt;
  readonly onDone: () => void;
}

function SignForm({ attempt, onDone }: ExaminerFormProps) {
  const client = useClient();
  const examiners = useExaminers(attempt);
  const pin = usePinEntry();
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
      <ExaminerFields
        examiners={examiners}
        examiner={form.bind("examinerId", "Examiner")}
        pinId={`certificate-pin-${attempt.id}`}
        pin={pin.field}
      >
        <TextField {...form.bind("words", "Words with the signature")} optional />
      </ExaminerFields>
    </FormFrame>
  );
}

function WithdrawForm({ attempt, onDone }: ExaminerFormProps) {
  const client = useClient();
  const examiners = useExaminers(attempt);
  const pin = usePinEntry();
  const form = useForm({
    id: `withdrawal-${attempt.id}`,
    what: "the withdrawal of a certificate",
    initial: { examinerId: "", reason: "" },
    check: ({ examinerId, reason }) => {
      const why = Reason.safeParse(reason).error?.issues[0]?.message;
      return {
        ...(examinerId === "" ? { examinerId: "is not chosen yet" } : {}),
        ...(why ? { reason: why } : {}),
      };
    },
    send: async ({ examinerId, reason }, requestId) =>
      client("practice.withdraw", { requestId, attemptId: attempt.id, examinerId, pin: pin.take(), reason }),
    fieldOf: (path) => (path === "pin" ? "examinerId" : path),
    onSaved: onDone,
  });
  return (
    <FormFrame form={form} label="Withdraw the certificate" submit="Withdraw" onCancel={onDone}>
      <p>
        The certificate stays readable and says that it was withdrawn. What was entered while it stood keeps
        its proof; what is entered from now on does not have it.
      </p>
      <ExaminerFields
        examiners={examiners}
        examiner={form.bind("examinerId", "Examiner")}
        pinId={`withdrawal-pin-${attempt.id}`}
        pin={pin.field}
      >
        <TextField {...form.bind("reason", "Reason for the withdrawal")} />
      </ExaminerFields>
    </FormFrame>
  );
}

interface ExaminerFieldsProps {
  readonly examiners: ReturnType<typeof useExaminers>;
  readonly examiner: FieldProps;
  readonly pinId: string;
  readonly pin: ReturnType<typeof usePinEntry>["field"];
  readonly children: ReactNode;
}

/** Who examines, with the PIN, and what is said with it. */
function ExaminerFields({ examiners, examiner, pinId, pin, children }: ExaminerFieldsProps) {
  return (
    <>
      {examiners.notice}
      <FieldGrid>
        <SelectField {...examiner} autoFocus none="choose …" {...examiners.field} />
        <PinField id={pinId} label="PIN" {...pin} />
        {children}
      </FieldGrid>
    </>
  );
}

/** Everybody but the reader; who has no PIN yet is named so. */
function useExaminers(attempt: PracticeAttempt) {
  const people = usePeopleHere();
  const pins = useCall("people.pins", {}).data;
  const withPin = new Set(pins?.filter((one) => one.hasPin).map((one) => one.personId));
  const others = (people ?? []).filter(({ id }) => id !== attempt.personId);
  const notice =
    people && pins && !others.some(({ id }) => withPin.has(id)) ? (
      <Notice
        kind="care"
        title="Nobody else has a PIN yet."
        hint="The examiner is another person than the reader, and sets a PIN in Registers, People."
      />
    ) : null;
  const choices = others.map(({ id, name }) => ({
    value: id,
    words: withPin.has(id) ? name : `${name} (no PIN)`,
  }));
  return { notice, field: { choices } };
}
