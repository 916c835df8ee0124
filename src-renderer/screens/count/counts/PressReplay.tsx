import { useEffect, useMemo, useState } from "react";
import type { Count, CountEvent } from "#core/contract/records/count.ts";
import type { CountCategory } from "#core/contract/records/count-method.ts";
import { type ReplayedCounts, replayEvents } from "#core/counting/inputs/field-counts.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { Button } from "../../../parts/Button.tsx";
import { shownInstant } from "../../../parts/bench-words/instant.ts";
import { usePersonName } from "../../../parts/bench-words/use-person-name.ts";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { Notice } from "../../../parts/Notice.tsx";
import styles from "../CountTab.module.css";
import { objects } from "../words.ts";

/** Most that one call of `counts.events` gives. */
const PAGE = 5000;
/** Of playing: slow enough to follow, quick enough for a field of a hundred. */
const MS_PER_PRESS = 200;

/** The presses of a count followed one by one, from its first event: what stood in the field and in all at each. */
export function PressReplay({ count }: { count: Count }) {
  const client = useClient();
  const [asked, setAsked] = useState(false);
  const [events, setEvents] = useState<readonly CountEvent[] | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  useEffect(() => {
    if (!asked) return;
    let isGone = false;
    const readAll = async (): Promise<void> => {
      const all: CountEvent[] = [];
      for (;;) {
        const reply = await client("counts.events", { countId: count.id, from: all.length + 1, count: PAGE });
        if (isGone) return;
        if (!reply.ok) return setProblem(reply.error.message);
        all.push(...reply.value.events);
        if (all.length >= reply.value.last) return setEvents(all);
      }
    };
    void readAll();
    return () => {
      isGone = true;
    };
  }, [asked, client, count.id]);
  return (
    <Panel
      title="Press by press"
      lead="The stored presses from the first on, with none of the stored sums. Nothing is changed."
    >
      {asked ? null : <Button onClick={() => setAsked(true)}>Follow the presses</Button>}
      {problem === null ? null : <Notice kind="fault" title={problem} live />}
      {asked && events === null && problem === null ? <p>Reading the presses …</p> : null}
      {events?.length === 0 ? <p>Nothing was pressed.</p> : null}
      {events && events.length > 0 ? <Replay events={events} categories={count.categories} /> : null}
    </Panel>
  );
}

function Replay({
  events,
  categories,
}: {
  events: readonly CountEvent[];
  categories: readonly CountCategory[];
}) {
  const [at, setAt] = useState(1);
  const [playing, setPlaying] = useState(false);
  const isAtEnd = at >= events.length;
  useEffect(() => {
    if (!playing || isAtEnd) return;
    const timer = setInterval(() => setAt((now) => Math.min(now + 1, events.length)), MS_PER_PRESS);
    return () => clearInterval(timer);
  }, [playing, isAtEnd, events.length]);
  const replayed = useMemo(() => replayEvents(events.slice(0, at)), [events, at]);
  const event = events[at - 1];
  const nextField = events.findIndex(({ kind }, index) => index >= at && kind === "field");
  return (
    <div className={styles.stack}>
      <label className={styles.replay}>
        Press {at} of {events.length}
        <input
          type="range"
          min={1}
          max={events.length}
          value={at}
          onChange={(change) => {
            setPlaying(false);
            setAt(Number(change.target.value));
          }}
        />
      </label>
      <p className={styles.acts}>
        <Button onClick={() => setPlaying(!playing)} disabled={isAtEnd}>
          {playing && !isAtEnd ? "Pause" : "Play"}
        </Button>
        <Button onClick={() => setAt(nextField + 1)} disabled={nextField < 0}>
          Next field
        </Button>
        <Button onClick={() => setAt(1)} disabled={at === 1}>
          First press
        </Button>
      </p>
      {event ? <EventWords event={event} events={events} categories={categories} /> : null}
      <CountsThen replayed={replayed} categories={categories} />
    </div>
  );
}

/** One event in words: `2026-11-29 09:14 · Maren Holt · field 3: Tilia + 1, taken back at press 40`. */
function EventWords({
  event,
  events,
  categories,
}: {
  event: CountEvent;
  events: readonly CountEvent[];
  categories: readonly CountCategory[];
}) {
  const personName = usePersonName();
  const nameOf = (key: string | null) => categories.find((one) => one.key === key)?.name ?? key ?? "";
  const actOf = ({ kind, field, category, weight, strikes }: CountEvent): string => {
    if (kind === "field") return `field ${field} begins`;
    const struck = events.find(({ sequence }) => sequence === strikes);
    if (kind === "undo") return struck ? `takes back press ${strikes}: ${actOf(struck)}` : "takes back";
    return `field ${field}: ${nameOf(category)} + ${weight}`;
  };
  const later = event.struckBy === null ? "" : `, taken back at press ${event.struckBy}`;
  return (
    <p aria-live="polite">
      {shownInstant(event.at)} · {personName(event.by)} · {actOf(event)}
      {later}
    </p>
  );
}

function CountsThen({
  replayed: { fields, currentField },
  categories,
}: {
  replayed: ReplayedCounts;
  categories: readonly CountCategory[];
}) {
  const inField = (field: number, key: string) => (fields.get(field)?.get(key)?.thousandths ?? 0) / 1000;
  const inAll = (key: string) =>
    [...fields.values()].reduce((sum, field) => sum + (field.get(key)?.thousandths ?? 0), 0) / 1000;
  const columns: readonly Column<CountCategory>[] = [
    { key: "category", title: "category", names: true, words: true, cell: ({ name }) => name },
    {
      key: "field",
      title: `field ${currentField}`,
      number: true,
      cell: ({ key }) => objects(inField(currentField, key)),
    },
    { key: "all", title: "all fields", number: true, cell: ({ key }) => objects(inAll(key)) },
  ];
  return (
    <DataTable
      caption="Objects after this press"
      columns={columns}
      rows={categories}
      rowKey={({ key }) => key}
      empty="No category."
    />
  );
}
