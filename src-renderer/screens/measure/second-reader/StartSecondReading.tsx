import { useState } from "react";
import type { Client } from "#core/contract/calls.ts";
import type { SecondReading, SecondReadingChoice } from "#core/contract/records/second-reading.ts";
import { type CallError, errorWords, type Reply } from "#core/contract/reply.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { newRequestId } from "../../../bridge/request-id.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { NumberedChoices } from "../../../parts/layout/NumberedChoices.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { useDigitsAhead } from "../../../parts/layout/use-digits-ahead.ts";
import { usePeopleHere } from "../../../parts/people/use-people-here.ts";
import { RefusalNotice } from "../../../parts/RefusalNotice.tsx";
import { readOrdinals } from "./read-ordinals.ts";

type Kind = SecondReadingChoice["kind"];

const KINDS = [
  { key: "count", words: "A number of rows, drawn by chance" },
  { key: "share", words: "A share of the rows, drawn by chance" },
  { key: "rows", words: "Rows I choose by their numbers" },
] as const;

const FIELDS: Readonly<Record<Kind, { readonly label: string; readonly hint: string }>> = {
  count: { label: "Number of rows", hint: "1 to 1000." },
  share: { label: "Share of the rows, %", hint: "1 to 100; rounded up to whole rows." },
  rows: { label: "Row numbers", hint: "Such as 3+7+12-15." },
};

export interface StartSecondReadingProps {
  readonly sheetId: string;
  readonly onLeave: () => void;
  readonly onStarted: (secondReadingId: string) => void;
}

/** Who reads, which rows, how many: three questions, each answered from the keypad. */
export function StartSecondReading({ sheetId, onLeave, onStarted }: StartSecondReadingProps) {
  const client = useClient();
  const here = usePeopleHere();
  const people = here ?? [];
  useDigitsAhead(here === undefined);
  const present = useCall("bench.status", {}).data?.personInUse?.id;
  const [reader, setReader] = useState<string | null>(null);
  const [kind, setKind] = useState<Kind | null>(null);
  const [error, setError] = useState<CallError | null>(null);
  const choosePerson = async (personId: string): Promise<void> => {
    const reply = personId === present ? null : await client("people.choose", { personId });
    if (reply && !reply.ok) setError(reply.error);
    else setReader(personId);
  };
  const problem = error ? <RefusalNotice error={error} /> : null;
  if (reader === null) {
    const choices = people.map(({ id, name }) => ({
      key: id,
      words: name,
      more: id === present ? "at the bench now" : undefined,
    }));
    return (
      <Panel title="Who reads the second time?">
        {problem}
        {choices.length > 0 ? (
          <NumberedChoices
            key="people"
            choices={choices}
            onChoose={(id) => void choosePerson(id)}
            onLeave={onLeave}
            autoFocus
          />
        ) : null}
      </Panel>
    );
  }
  if (kind === null) {
    return (
      <Panel title="Which rows?">
        <NumberedChoices
          key="kinds"
          choices={KINDS}
          onChoose={(key) => setKind(KINDS.find((one) => one.key === key)?.key ?? null)}
          onLeave={() => setReader(null)}
          autoFocus
        />
      </Panel>
    );
  }
  return <HowMany sheetId={sheetId} kind={kind} onLeave={() => setKind(null)} onStarted={onStarted} />;
}

function HowMany({
  sheetId,
  kind,
  onLeave,
  onStarted,
}: {
  sheetId: string;
  kind: Kind;
  onLeave: () => void;
  onStarted: (secondReadingId: string) => void;
}) {
  const client = useClient();
  const measured = useCall("secondReadings.candidates", { sheetId, ordinals: [] }).data?.measured;
  const [text, setText] = useState("");
  const [problem, setProblem] = useState<string | null>(null);
  const [requestId] = useState(newRequestId);
  const submit = async (): Promise<void> => {
    const reply = await begin(client, { sheetId, kind, text, requestId });
    if (typeof reply === "string") setProblem(reply);
    else if (reply.ok) onStarted(reply.value.id);
    else setProblem(errorWords(reply.error));
  };
  const { label, hint } = FIELDS[kind];
  return (
    <Panel
      title="How many?"
      lead={measured === undefined ? undefined : `${measured} measured rows to choose from.`}
    >
      <form
        noValidate
        onKeyDown={(event) => {
          if (event.key !== "-" || text !== "") return;
          event.preventDefault();
          onLeave();
        }}
        onSubmit={(event) => {
          event.preventDefault();
          void submit();
        }}
      >
        <TextField
          id="second-which"
          label={label}
          hint={hint}
          value={text}
          onChange={setText}
          error={problem}
          autoFocus
        />
        <p>
          <Button look="main" type="submit" keyHint="Enter">
            Begin
          </Button>
        </p>
      </form>
    </Panel>
  );
}

interface Wanted {
  readonly sheetId: string;
  readonly kind: Kind;
  readonly text: string;
  readonly requestId: string;
}

/** Begins it; a sentence says what is wrong with the text. */
async function begin(client: Client, wanted: Wanted): Promise<Reply<SecondReading> | string> {
  const { sheetId, requestId } = wanted;
  const choice = await choiceOf(client, wanted);
  return typeof choice === "string"
    ? choice
    : client("secondReadings.start", { requestId, sheetId, choice, note: "" });
}

async function choiceOf(
  client: Client,
  { sheetId, kind, text }: Wanted,
): Promise<SecondReadingChoice | string> {
  if (kind !== "rows") {
    const most = kind === "count" ? 1000 : 100;
    const number = /^\d{1,4}$/.test(text.trim()) ? Number(text) : 0;
    if (number < 1 || number > most) return `is not a whole number from 1 to ${most}`;
    return kind === "count" ? { kind, count: number } : { kind, percent: number };
  }
  try {
    const reply = await client("secondReadings.candidates", { sheetId, ordinals: readOrdinals(text) });
    if (!reply.ok) return reply.error.message;
    const { rows, notThere } = reply.value;
    if (notThere.length > 0)
      return `cannot be read again: ${notThere.slice(0, 10).join(", ")} (struck or not measured)`;
    return { kind, rowIds: rows.map((row) => row.rowId) };
  } catch (error) {
    if (error instanceof InputError) return error.reason;
    throw error;
  }
}
