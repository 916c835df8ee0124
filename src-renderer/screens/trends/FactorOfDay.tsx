import { useState } from "react";
import { CalendarDate } from "#core/contract/records/primitives.ts";
import type { FactorOnDay } from "#core/contract/records/trend.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { shownDay } from "../../parts/bench-words/instant.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { DateField } from "../../parts/form/DateField.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Unbroken } from "../../parts/Unbroken.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import styles from "./Trends.module.css";

/** A date that is typed to its end: while it is not, nothing is asked. */
function typedDay(text: string): { readonly day: string | null; readonly error: string | null } {
  const trimmed = text.trim();
  if (trimmed.length < 10) return { day: null, error: null };
  const parsed = CalendarDate.safeParse(trimmed);
  return parsed.success
    ? { day: parsed.data, error: null }
    : { day: null, error: "is not a date: write it as 2026-01-31" };
}

/** Which factor was on the bench on a given day, and what it rested on: a date typed is the question. */
export function FactorOfDay() {
  const [typed, setTyped] = useState("");
  const { day, error } = typedDay(typed);
  return (
    <div className={styles.day}>
      <div className={styles.chooser}>
        <DateField
          id="trends-day"
          label="On which day?"
          value={typed}
          onChange={setTyped}
          error={error}
          hint="Shown as soon as the date is complete."
          autoFocus
        />
      </div>
      {day ? <Answer day={day} /> : null}
    </div>
  );
}

type Line = FactorOnDay["factors"][number] & { readonly trainId: string; readonly train: string };

function Answer({ day }: { day: string }) {
  const navigation = useNavigation();
  const answer = useCall("trends.onDay", { day, trainId: null });
  if (!answer.data) return <CallNotice calls={[answer]} waiting="Looking up the day …" />;
  const lines = answer.data.flatMap(({ trainId, train, factors }): Line[] =>
    factors.map((factor) => ({ ...factor, trainId, train })),
  );
  const without = answer.data.filter(({ factors }) => factors.length === 0).map(({ train }) => train);
  const columns: readonly Column<Line>[] = [
    { key: "train", title: "Train", names: true, cell: (one) => one.train },
    {
      key: "factor",
      title: "Factor ± U, µm/div",
      number: true,
      cell: (one) => `${one.shownFactor} ± ${one.shownUncertainty}`,
    },
    { key: "k", title: "k", number: true, cell: (one) => Number(one.coverageFactor).toFixed(2) },
    {
      key: "from",
      title: "In force",
      cell: (one) => (
        <Unbroken text={`${shownDay(one.from)} to ${one.until ? shownDay(one.until) : "now"}`} />
      ),
    },
    { key: "person", title: "Person", words: true, cell: (one) => one.person },
    {
      key: "certificate",
      title: "Certificate behind it",
      cell: (one) => `${one.certificate}, ${one.laboratory}, for ${one.micrometer}`,
    },
    { key: "cautions", title: "Mind", cell: (one) => <Unbroken text={one.cautions.join(" ") || "–"} /> },
    {
      key: "look",
      title: "Actions",
      cell: (one) => (
        <Button
          look="quiet"
          aria-label={`Show the calibration of ${one.train}`}
          onClick={() =>
            navigation.go({ screen: "records", tab: "calibrations", recordId: one.calibrationId })
          }
        >
          Show
        </Button>
      ),
    },
  ];
  return (
    <Panel title={`On the bench on ${day}`}>
      <div className={styles.stack}>
        <DataTable
          caption={`Factors in force on ${day}`}
          captionHidden
          columns={columns}
          rows={lines}
          rowKey={(one) => one.calibrationId}
          empty="No factor was in force on that day: readings of that day stayed divisions."
        />
        {without.length > 0 && lines.length > 0 ? (
          <p className={styles.none}>Without a factor on that day: {without.join("; ")}.</p>
        ) : null}
      </div>
    </Panel>
  );
}
