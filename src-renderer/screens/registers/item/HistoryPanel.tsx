import { useState } from "react";
import type { CallInput } from "#core/contract/calls.ts";
import type { TrailLine } from "#core/contract/records/trail.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { actWords } from "../../../parts/bench-words/act-words.ts";
import { shownInstant } from "../../../parts/bench-words/instant.ts";
import { usePersonName } from "../../../parts/bench-words/use-person-name.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import styles from "../Registers.module.css";

type Item = CallInput<"registers.history">;

/** What the audit trail tells of a registered thing; read when it is opened. */
export function HistoryPanel({ item, name }: { item: Item; name: string }) {
  const [isOpen, setOpen] = useState(false);
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)} data-screen-only>
      <summary className={styles.summary}>History of {name}</summary>
      {isOpen ? <History item={item} name={name} /> : null}
    </details>
  );
}

function History({ item, name }: { item: Item; name: string }) {
  const nameOf = usePersonName();
  const history = useCall("registers.history", item);
  const columns: readonly Column<TrailLine>[] = [
    { key: "line", title: "Line", names: true, number: true, cell: (one) => one.sequence },
    { key: "at", title: "When", unbroken: true, cell: (one) => shownInstant(one.at) },
    { key: "who", title: "Who", words: true, cell: (one) => nameOf(one.personId) },
    { key: "what", title: "What", cell: (one) => actWords(one.act) },
    { key: "why", title: "Reason", cell: (one) => one.reason ?? "–" },
  ];
  return (
    <>
      <CallNotice calls={[history]} waiting="Reading the trail …" />
      {history.data ? (
        <DataTable
          caption={`Audit trail of ${name}, newest first`}
          captionHidden
          columns={columns}
          rows={history.data.lines}
          rowKey={(one) => String(one.sequence)}
          empty="The trail tells nothing of it."
        />
      ) : null}
    </>
  );
}
