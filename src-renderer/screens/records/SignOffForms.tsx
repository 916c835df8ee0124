import type { SheetSignOffs } from "#core/contract/records/sign-off.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { FieldGrid } from "../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../parts/form/FormFrame.tsx";
import { PinField } from "../../parts/form/PinField.tsx";
import { SelectField } from "../../parts/form/SelectField.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { useForm } from "../../parts/form/use-form.ts";
import { usePinEntry } from "../../parts/form/use-pin-entry.ts";
import { Notice } from "../../parts/Notice.tsx";
import { usePeopleHere } from "../../parts/people/use-people-here.ts";

export interface SignOffFormProps {
  readonly sheetId: string;
  readonly number: string;
  readonly onSaved: (signOffs: SheetSignOffs) => void;
  readonly onCancel: () => void;
}

const WORDS = {
  close: {
    call: "sheets.close",
    submit: "Close the sheet",
    label: "Words with the closing",
    follows: "Nothing is locked away: a later change asks for its reason and is kept as an amendment.",
  },
  review: {
    call: "sheets.review",
    submit: "I have reviewed it",
    label: "Words with the review",
    follows: "By the person at the bench, who must not have measured on this sheet or closed it.",
  },
} as const;

/** Closing or review: an act of the person at the bench, with words if wanted. */
export function WordsForm({
  sheetId,
  number,
  act,
  onSaved,
  onCancel,
}: SignOffFormProps & { act: "close" | "review" }) {
  const client = useClient();
  const laboratory = useCall("laboratory.settings", {});
  const pin = usePinEntry();
  const asksForPin = act === "review" && laboratory.data?.reviewWithPin === true;
  const { call, submit, label, follows } = WORDS[act];
  const form = useForm({
    id: `${act}-${sheetId}`,
    what: `the ${act === "close" ? "closing" : "review"} of sheet ${number}`,
    initial: { words: "" },
    send: async ({ words }, requestId) =>
      asksForPin
        ? client("sheets.review", { requestId, sheetId, words, pin: pin.take() })
        : client(call, { requestId, sheetId, words }),
    fieldOf: (path) => (path === "pin" ? "words" : path),
    onSaved,
  });
  return (
    <FormFrame form={form} label={`${submit}: ${number}`} submit={submit} onCancel={onCancel}>
      <p>{follows}</p>
      <TextField {...form.bind("words", label)} lines={2} optional autoFocus />
      {asksForPin ? <PinField id={`review-pin-${sheetId}`} label="Your PIN" {...pin.field} /> : null}
    </FormFrame>
  );
}

/** Signature by a person who proves it with the PIN. The PIN is never kept, not even half-typed. */
export function SignForm({ sheetId, number, onSaved, onCancel }: SignOffFormProps) {
  const client = useClient();
  const people = usePeopleHere();
  const pins = useCall("people.pins", {});
  const status = useCall("bench.status", {});
  const pin = usePinEntry();
  const withPin = new Set(pins.data?.filter((one) => one.hasPin).map((one) => one.personId));
  const form = useForm({
    id: `sign-${sheetId}`,
    what: `the signature of sheet ${number}`,
    initial: { personId: status.data?.personInUse?.id ?? "", words: "" },
    check: ({ personId }) => (personId === "" ? { personId: "is not chosen yet" } : {}),
    send: async ({ personId, words }, requestId) =>
      client("sheets.sign", { requestId, sheetId, personId, pin: pin.take(), words }),
    fieldOf: (path) => (path === "pin" ? "personId" : path),
    onSaved,
  });
  return (
    <FormFrame form={form} label={`Sign sheet ${number}`} submit="Sign" onCancel={onCancel}>
      <p>The signature covers every reading, result and calibration of the sheet as they stand now.</p>
      {pins.data && withPin.size === 0 ? (
        <Notice kind="care" title="Nobody has a PIN yet." hint="Set one in Registers, People." />
      ) : null}
      <FieldGrid>
        <SelectField
          {...form.bind("personId", "Signed by")}
          none="choose …"
          choices={(people ?? []).map((one) => ({
            value: one.id,
            words: withPin.has(one.id) ? one.name : `${one.name} (no PIN)`,
          }))}
        />
        <PinField id={`sign-pin-${sheetId}`} label="PIN" {...pin.field} />
        <TextField {...form.bind("words", "Words with the signature")} optional />
      </FieldGrid>
    </FormFrame>
  );
}
