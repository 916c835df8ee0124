import type { SupersededMeasurement } from "#core/contract/records/sheet.ts";
import type { TraceChain } from "#core/contract/records/trace.ts";
import type { TrailLine } from "#core/contract/records/trail.ts";
import { actWords } from "../../parts/bench-words/act-words.ts";
import { readingsWords } from "../../parts/bench-words/chain-words.ts";
import { shownInstant } from "../../parts/bench-words/instant.ts";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import styles from "./Trace.module.css";

interface ChainHistoryProps {
  readonly chain: Pick<TraceChain, "earlierResults" | "trail">;
  readonly nameOf: (id: string | null) => string;
}

/** What became of this result since it was first read: earlier values, kept, and the lines of the trail. */
export function ChainHistory({ chain, nameOf }: ChainHistoryProps) {
  const earlier: readonly Column<SupersededMeasurement>[] = [
    { key: "until", title: "Until", names: true, unbroken: true, cell: (one) => shownInstant(one.at) },
    { key: "read", title: "As typed", cell: (one) => readingsWords(one.measurement) },
    {
      key: "size",
      title: "Size ± U, µm",
      number: true,
      cell: ({ measurement: { size } }) =>
        size ? `${size.shownValue} ± ${size.shownUncertainty}` : "no size",
    },
    { key: "act", title: "Changed by", cell: (one) => `${nameOf(one.by)}: ${actWords(one.act)}` },
    { key: "why", title: "Reason", cell: (one) => one.reason ?? "–" },
  ];
  return (
    <Panel title="7 · What has happened to this result">
      <div className={styles.stack}>
        <DataTable
          caption="Earlier results, kept"
          columns={earlier}
          rows={chain.earlierResults}
          rowKey={(one) => `${one.at} ${one.act}`}
          empty="The result is as it was first read."
        />
        <TrailOfRow trail={chain.trail} nameOf={nameOf} />
      </div>
    </Panel>
  );
}

interface TrailOfRowProps {
  readonly trail: readonly TrailLine[];
  readonly nameOf: (id: string | null) => string;
}

/** The lines of the trail about one row. */
export function TrailOfRow({ trail, nameOf }: TrailOfRowProps) {
  const lines: readonly Column<TrailLine>[] = [
    { key: "line", title: "Line", names: true, number: true, cell: (one) => one.sequence },
    { key: "at", title: "When", unbroken: true, cell: (one) => shownInstant(one.at) },
    { key: "who", title: "Who", cell: (one) => nameOf(one.personId) },
    { key: "act", title: "What", cell: (one) => actWords(one.act) },
    { key: "why", title: "Reason", cell: (one) => one.reason ?? "–" },
    {
      key: "hash",
      title: "Hash begins",
      cell: (one) => <span className={styles.hash}>{one.hash.slice(0, 12)}</span>,
    },
  ];
  return (
    <DataTable
      caption="Audit trail of this row"
      columns={lines}
      rows={trail}
      rowKey={(one) => String(one.sequence)}
      empty="No line."
    />
  );
}
