import { useState } from "react";
import type { Person } from "#core/contract/records/person.ts";
import { Reason } from "#core/contract/records/primitives.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { shownInstant } from "../../../parts/bench-words/instant.ts";
import { usePersonName } from "../../../parts/bench-words/use-person-name.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { StateMark } from "../../../parts/StateMark.tsx";
import styles from "../Registers.module.css";

/** Whether a person works here, and the way to set somebody aside who left or to bring somebody back. */
export function StandingPanel({ person }: { person: Person }) {
  const nameOf = usePersonName();
  const standings = useCall("people.standings", {});
  const [isChanging, setChanging] = useState(false);
  const last = standings.data?.find(({ personId }) => personId === person.id);
  const isAway = last?.standing === "set aside";
  const words = isAway ? "Bring back" : "Set aside";
  return (
    <Panel
      title="Works here"
      lead="Whoever left is set aside: no list offers the name any more and the PIN signs nothing; every record keeps it."
    >
      <CallNotice calls={[standings]} waiting="Reading who works here …" />
      {standings.data ? (
        <p className={styles.line}>
          <StateMark state={isAway ? "none" : "good"} />
          <span>
            {last
              ? `${isAway ? "Set aside" : "Works here again"} since ${shownInstant(last.at)}, ${last.reason} (${nameOf(last.by)})`
              : "Works here since the registration"}
          </span>
          {isChanging ? null : (
            <Button look="quiet" aria-label={`${words}: ${person.name}`} onClick={() => setChanging(true)}>
              {words}
            </Button>
          )}
        </p>
      ) : null}
      {isChanging ? (
        <StandingForm person={person} isAway={isAway} words={words} onDone={() => setChanging(false)} />
      ) : null}
    </Panel>
  );
}

interface StandingFormProps {
  readonly person: Person;
  readonly isAway: boolean;
  readonly words: string;
  readonly onDone: () => void;
}

function StandingForm({ person, isAway, words, onDone }: StandingFormProps) {
  const client = useClient();
  const form = useForm({
    id: `standing-${person.id}`,
    what: "whether a person works here",
    initial: { reason: "" },
    check: ({ reason }) => {
      const why = Reason.safeParse(reason).error?.issues[0]?.message;
      return why ? { reason: why } : {};
    },
    send: ({ reason }, requestId) =>
      client("people.setStanding", {
        requestId,
        personId: person.id,
        standing: isAway ? "working here" : "set aside",
        reason,
      }),
    fieldOf: (path) => (path === "personId" || path === "standing" ? "reason" : path),
    onSaved: onDone,
  });
  return (
    <FormFrame form={form} label={`${words}: ${person.name}`} submit={words} onCancel={onDone}>
      <FieldGrid>
        <TextField {...form.bind("reason", "Reason")} autoFocus />
      </FieldGrid>
    </FormFrame>
  );
}
