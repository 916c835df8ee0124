import { useState } from "react";
import type { PracticeClass } from "#core/contract/records/practice-class.ts";
import type { CallError } from "#core/contract/reply.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { newRequestId } from "../../bridge/request-id.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { usePersonName } from "../../parts/bench-words/use-person-name.ts";
import { NumberField } from "../../parts/form/NumberField.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import styles from "./Practice.module.css";

/** The same real material read by everybody at a real microscope; nothing of it is put in force. */
export function SlideReadings({ of }: { of: PracticeClass }) {
  const readings = useCall("practice.slideReadings", { classId: of.id });
  const person = useCall("bench.status", {}).data?.personInUse ?? null;
  const isMember = person !== null && of.memberIds.includes(person.id);
  const taken = readings.data?.filter(({ personId }) => personId === person?.id).length ?? 0;
  const whole = of.intervals * of.repeats;
  return (
    <Panel title="Practice with real material" lead={`${of.slide}. Nothing of it is put in force.`}>
      <div data-screen-only>
        {readings.data && isMember && taken < whole ? (
          <NextReading
            key={`${person.id} ${taken}`}
            of={of}
            name={person.name}
            interval={(taken % of.intervals) + 1}
            repeat={Math.floor(taken / of.intervals) + 1}
          />
        ) : null}
        {isMember && taken === whole ? <p role="status">{person.name} has taken every reading.</p> : null}
        {person !== null && !isMember ? (
          <p>{person.name} is not on the list. Change the person at the bench (F4) to the one who reads.</p>
        ) : null}
      </div>
      <Progress of={of} />
    </Panel>
  );
}

function Progress({ of }: { of: PracticeClass }) {
  const readings = useCall("practice.slideReadings", { classId: of.id }).data ?? [];
  const personName = usePersonName();
  return (
    <p>
      {of.memberIds
        .map((id) => {
          const taken = readings.filter(({ personId }) => personId === id).length;
          return `${personName(id)} ${taken} of ${of.intervals * of.repeats}`;
        })
        .join(" · ")}
    </p>
  );
}

function NextReading({
  of,
  name,
  interval,
  repeat,
}: {
  of: PracticeClass;
  name: string;
  interval: number;
  repeat: number;
}) {
  const client = useClient();
  const [left, setLeft] = useState("");
  const [right, setRight] = useState("");
  const [problem, setProblem] = useState<CallError | null>(null);
  const [requestId] = useState(newRequestId);
  const take = async (): Promise<void> => {
    const reply = await client("practice.readSlide", {
      requestId: problem === null ? requestId : newRequestId(),
      classId: of.id,
      interval,
      repeat,
      left,
      right,
    });
    if (!reply.ok) setProblem(reply.error);
  };
  const problemAt = (field: string): string | undefined =>
    problem?.field === field ? problem.message : undefined;
  return (
    <form
      className={styles.answer}
      onSubmit={(event) => {
        event.preventDefault();
        void take();
      }}
    >
      <p role="status">
        {name}: interval {interval} of {of.intervals}, time {repeat} of {of.repeats}
      </p>
      <NumberField
        id="slide-left"
        label="Left end"
        unit="div"
        autoFocus
        value={left}
        onChange={setLeft}
        error={problemAt("left")}
      />
      <NumberField
        id="slide-right"
        label="Right end"
        unit="div"
        value={right}
        onChange={setRight}
        error={problemAt("right")}
      />
      <Button look="main" type="submit">
        Take the reading
      </Button>
      {problem && problem.field !== "left" && problem.field !== "right" ? (
        <RefusalNotice error={problem} />
      ) : null}
    </form>
  );
}
