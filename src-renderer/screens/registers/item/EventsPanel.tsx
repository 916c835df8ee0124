import { useState } from "react";
import {
  type EquipmentEvent,
  EVENT_KINDS,
  type EventSubject,
  NewEquipmentEvent,
} from "#core/contract/records/equipment-event.ts";
import type { Microscope } from "#core/contract/records/microscope.ts";
import { eventWords, isLoan } from "#core/optics/lent-eyepiece.ts";
import { objectiveWords } from "#core/optics/train-name.ts";
import { objectivesOnTurret } from "#core/optics/turret.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { TouchedButton } from "../../../parts/bench-words/TouchedButton.tsx";
import { today } from "../../../parts/bench-words/today.ts";
import { usePersonName } from "../../../parts/bench-words/use-person-name.ts";
import { useTrainName } from "../../../parts/bench-words/use-train-name.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { DateField } from "../../../parts/form/DateField.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { problemsBySchema } from "../../../parts/form/form-checks.ts";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import styles from "../Registers.module.css";

/** What has happened to a microscope; each event asks for a check of the trains it touches before they are used. */
export function EventsPanel({ microscope }: { microscope: Microscope }) {
  const nameOf = usePersonName();
  const trainName = useTrainName();
  const events = useCall("events.list", { microscopeId: microscope.id });
  const [adding, setAdding] = useState(false);
  const columns: readonly Column<EquipmentEvent>[] = [
    { key: "on", title: "On", names: true, unbroken: true, cell: (one) => one.happenedOn },
    { key: "kind", title: "What", cell: eventWords },
    { key: "words", title: "In words", cell: (one) => one.words },
    { key: "by", title: "Recorded by", cell: (one) => nameOf(one.recordedBy) },
    {
      key: "open",
      title: "Still to be checked",
      cell: (one) => (one.openTrainIds.length === 0 ? "none" : one.openTrainIds.map(trainName).join(", ")),
    },
    {
      key: "acts",
      title: "Actions",
      cell: (one) => (
        <TouchedButton subject={{ kind: "event", id: one.id }} about={`event of ${one.happenedOn}`} />
      ),
    },
  ];
  return (
    <Panel
      title="Events"
      lead="Serviced, knocked, a reticle taken out: its trains are then to be checked before use."
      actions={adding ? null : <Button onClick={() => setAdding(true)}>Record an event</Button>}
    >
      <div className={styles.stack}>
        {adding ? <EventForm microscope={microscope} onDone={() => setAdding(false)} /> : null}
        <CallNotice calls={[events]} waiting="Reading the events …" />
        {events.data ? (
          <DataTable
            caption={`Events of ${microscope.name}`}
            captionHidden
            columns={columns}
            rows={events.data}
            rowKey={(one) => one.id}
            empty="Nothing has happened to it yet."
          />
        ) : null}
      </div>
    </Panel>
  );
}

/** The whole stand and its parts, as choices. */
function subjectsOf(microscope: Microscope): readonly { value: string; words: string }[] {
  return [
    { value: `microscope ${microscope.id}`, words: `the whole of ${microscope.name}` },
    ...objectivesOnTurret(microscope.objectives).map((one) => ({
      value: `objective ${one.id}`,
      words: `objective ${objectiveWords(one)} in position ${one.position}`,
    })),
    ...microscope.eyepieces.map((one) => ({
      value: `eyepiece ${one.id}`,
      words: `eyepiece ${one.name} with its reticle`,
    })),
  ];
}

function EventForm({ microscope, onDone }: { microscope: Microscope; onDone: () => void }) {
  const client = useClient();
  const inputOf = (typed: { kind: string; subject: string; happenedOn: string; words: string }) => {
    const [kind, id] = typed.subject.split(" ");
    return {
      kind: typed.kind as EquipmentEvent["kind"],
      subject: { kind: kind as EventSubject["kind"], id: id ?? "" },
      happenedOn: typed.happenedOn,
      words: typed.words,
    };
  };
  const form = useForm({
    id: `event-${microscope.id}`,
    what: "the event you began to record",
    initial: {
      kind: EVENT_KINDS[0] as string,
      subject: `microscope ${microscope.id}`,
      happenedOn: today(),
      words: "",
    },
    root: "event",
    check: (typed) => problemsBySchema(NewEquipmentEvent, inputOf(typed)),
    send: (typed, requestId) => client("events.record", { requestId, event: inputOf(typed) }),
    onSaved: onDone,
  });
  return (
    <FormFrame form={form} label="Record an event" submit="Record it" onCancel={onDone}>
      <FieldGrid>
        <SelectField
          {...form.bind("kind", "What happened")}
          autoFocus
          choices={EVENT_KINDS.filter((kind) => !isLoan(kind)).map((kind) => ({ value: kind, words: kind }))}
        />
        <SelectField {...form.bind("subject", "To what")} choices={subjectsOf(microscope)} />
        <DateField {...form.bind("happenedOn", "On")} />
        <TextField {...form.bind("words", "In words")} hint="“Stage knocked against the bench by a chair.”" />
      </FieldGrid>
    </FormFrame>
  );
}
