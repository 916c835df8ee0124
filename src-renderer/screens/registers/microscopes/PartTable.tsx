import { useState } from "react";
import type { TraceSubject } from "#core/contract/records/trace.ts";
import { Button } from "../../../parts/Button.tsx";
import { TouchedButton } from "../../../parts/bench-words/TouchedButton.tsx";
import { CorrectionForm } from "../../../parts/form/CorrectionForm.tsx";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { AttachmentsPanel } from "../item/AttachmentsPanel.tsx";
import { HistoryPanel } from "../item/HistoryPanel.tsx";
import styles from "../Registers.module.css";

/** A part of a microscope as the register names it, and what one looks forward from to find its results. */
export interface Part {
  readonly kind: "objective" | "eyepiece";
  readonly id: string;
  readonly name: string;
  readonly touched: TraceSubject;
  /** What may be put right in it. */
  readonly words: { readonly name?: string; readonly serial: string };
}

export interface PartTableProps<Row> {
  readonly caption: string;
  readonly columns: readonly Column<Row>[];
  readonly rows: readonly Row[];
  readonly partOf: (row: Row) => Part;
  readonly empty: string;
}

/** The parts of a microscope; of one of them at a time the scans, the photographs and the history stand below. */
export function PartTable<Row>({ caption, columns, rows, partOf, empty }: PartTableProps<Row>) {
  const [shown, setShown] = useState<string | null>(null);
  const part = rows.map(partOf).find((one) => one.id === shown);
  const acts: Column<Row> = {
    key: "acts",
    title: <span data-screen-only>Look</span>,
    cell: (row) => {
      const { id, name } = partOf(row);
      return (
        <Button
          look="quiet"
          aria-label={`${shown === id ? "Close" : "Scans, history of"} ${name}`}
          aria-expanded={shown === id}
          onClick={() => setShown(shown === id ? null : id)}
        >
          {shown === id ? "Close" : "Scans, history"}
        </Button>
      );
    },
  };
  return (
    <div className={styles.stack}>
      <DataTable
        caption={caption}
        captionHidden
        columns={[...columns, acts]}
        rows={rows}
        rowKey={(row) => partOf(row).id}
        empty={empty}
        current={shown}
      />
      {part ? (
        <section key={part.id} className={styles.stack} aria-label={part.name}>
          <div className={styles.line}>
            <h3>{part.name}</h3>
            <TouchedButton subject={part.touched} about={part.name} />
          </div>
          <CorrectionForm subject={{ kind: part.kind, id: part.id }} words={part.words} />
          <AttachmentsPanel subject={{ kind: part.kind, id: part.id }} name={part.name} />
          <HistoryPanel item={{ kind: part.kind, id: part.id }} name={part.name} />
        </section>
      ) : null}
    </div>
  );
}
