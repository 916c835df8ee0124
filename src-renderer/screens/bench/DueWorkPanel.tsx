import { useState } from "react";
import type { DueItem } from "#core/contract/records/due-work.ts";
import type { StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { StateMark } from "../../parts/StateMark.tsx";
import { Unbroken } from "../../parts/Unbroken.tsx";
import type { Location } from "../../window/location.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import styles from "./DueWork.module.css";
import { daysWords, dueWords, placeOfDue, whatWords } from "./due-words.ts";

/** What is overdue and what falls due, with the reason for each date. */
export function DueWorkPanel({ micrometers }: { micrometers: readonly StageMicrometer[] }) {
  const navigation = useNavigation();
  const [within, setWithin] = useState<30 | 90>(30);
  const due = useCall("due.list", { withinDays: within });
  const columns: readonly Column<DueItem>[] = [
    {
      key: "days",
      title: "When",
      unbroken: true,
      cell: (one) => (
        <span className={styles.when}>
          <StateMark state={one.daysLeft < 0 ? "bad" : "warn"} />
          {daysWords(one.daysLeft)}
        </span>
      ),
    },
    { key: "what", title: "What", names: true, cell: (one) => whatWords(one) },
    { key: "due", title: "Due", unbroken: true, cell: (one) => one.dueOn },
    {
      key: "interval",
      title: "Interval / days",
      number: true,
      cell: (one) => one.intervalDays ?? "–",
    },
    { key: "reason", title: "Why this date", cell: (one) => <Unbroken text={one.reason} /> },
    {
      key: "acts",
      title: "Actions",
      unbroken: true,
      cell: (one) => {
        const go: Location = placeOfDue(one, micrometers);
        return (
          <Button look="quiet" aria-label={`${dueWords(one)}: ${one.what}`} onClick={() => navigation.go(go)}>
            {dueWords(one)}
          </Button>
        );
      },
    },
  ];
  const counts = due.data?.counts;
  return (
    <Panel
      title="Due work"
      lead={
        counts
          ? `${counts.overdue} overdue · ${counts.within30} within 30 days · ${counts.within90} within 90 days`
          : undefined
      }
      actions={
        <Button onClick={() => setWithin(within === 30 ? 90 : 30)}>
          {within === 30 ? "Look 90 days ahead" : "Look 30 days ahead"}
        </Button>
      }
    >
      <CallNotice calls={[due]} waiting="Looking what is due …" />
      {due.data ? (
        <DataTable
          caption={`Overdue, and due within ${within} days`}
          captionHidden
          columns={columns}
          rows={due.data.items}
          rowKey={(one) => `${one.kind} ${one.id} ${one.trainId ?? ""}`}
          empty={`Nothing is overdue, and nothing falls due within ${within} days.`}
        />
      ) : null}
    </Panel>
  );
}
