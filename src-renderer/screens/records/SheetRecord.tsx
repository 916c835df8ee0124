import { useState } from "react";
import type { Measurement, SpecimenRow } from "#core/contract/records/sheet.ts";
import { readingsOf } from "#core/measurement/readings.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { readingWords } from "../../parts/bench-words/chain-words.ts";
import { shownInstant } from "../../parts/bench-words/instant.ts";
import { useDimensionName } from "../../parts/bench-words/use-dimension-name.ts";
import { usePersonName } from "../../parts/bench-words/use-person-name.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { OverdueUses } from "../../parts/calibration/OverdueNotice.tsx";
import { CorrectionForm } from "../../parts/form/CorrectionForm.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Facts } from "../../parts/layout/Facts.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { useRoving } from "../../parts/layout/use-roving.ts";
import { UnprovenNotice } from "../../parts/people/UnprovenNotice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import styles from "./RecordsTab.module.css";
import { SignOffPanel } from "./SignOffPanel.tsx";

const PAGE = 100;

interface ResultLine {
  readonly row: SpecimenRow;
  readonly measurement: Measurement;
  /** Place in the list shown. */
  readonly index: number;
}

/** One sheet as a record: its state and signatures, and every result with the way back from it. */
export function SheetRecord({ sheetId }: { sheetId: string }) {
  const navigation = useNavigation();
  const nameOf = usePersonName();
  const opened = useCall("sheets.get", { sheetId });
  const [page, setPage] = useState(0);
  const rows = useCall("rows.page", { sheetId, from: page * PAGE + 1, count: PAGE });
  const sheet = opened.data?.sheet;
  const dimensionName = useDimensionName(sheet?.methodId);
  const lines = (rows.data?.rows ?? [])
    .flatMap((row) => row.measurements.map((measurement) => ({ row, measurement })))
    .map((line, index): ResultLine => ({ ...line, index }));
  const roving = useRoving(lines.length);
  const columns: readonly Column<ResultLine>[] = [
    { key: "row", title: "Row", names: true, number: true, cell: ({ row }) => row.ordinal },
    { key: "label", title: "Label", cell: ({ row }) => row.label || "–" },
    { key: "dimension", title: "Dimension", cell: ({ measurement }) => dimensionName(measurement.dimension) },
    {
      key: "read",
      title: "As typed",
      unbroken: true,
      cell: ({ measurement }) => readingsOf(measurement).map(readingWords).join("; "),
    },
    {
      key: "size",
      title: "Size ± U, µm",
      number: true,
      cell: ({ measurement: { size } }) =>
        size ? `${size.shownValue} ± ${size.shownUncertainty}` : "no size",
    },
    {
      key: "struck",
      title: "Remark",
      cell: ({ row, measurement }) =>
        row.struck ? `struck: ${row.struck.reason}` : (measurement.missing ?? (row.note || "–")),
    },
    {
      key: "acts",
      title: <span data-screen-only>Look</span>,
      unbroken: true,
      cell: ({ row, measurement: { dimension }, index }) => (
        <Button
          look="quiet"
          {...roving(index)}
          aria-label={`Trace back: row ${row.ordinal}, ${dimensionName(dimension)}`}
          onClick={() =>
            navigation.go({ screen: "trace", result: { rowId: row.id, dimension }, subject: null })
          }
        >
          Trace back
        </Button>
      ),
    },
  ];
  const pages = Math.ceil((rows.data?.total ?? 0) / PAGE);
  return (
    <>
      <CallNotice calls={[opened, rows]} waiting="Reading the sheet …" />
      {sheet ? (
        <>
          <Panel
            title={`Sheet ${sheet.number}`}
            lead={sheet.sample}
            actions={
              <>
                <Button onClick={() => navigation.go({ screen: "records", tab: "sheets", recordId: null })}>
                  All sheets
                </Button>
                <Button onClick={() => navigation.go({ screen: "measure", sheetId })}>Open in Measure</Button>
              </>
            }
          >
            <Facts
              facts={[
                ["Customer", sheet.customer ?? ""],
                ["Containers pooled", sheet.containers ?? ""],
                ["Volume tested", sheet.volume === undefined ? "" : `${sheet.volume} mL`],
                ["Part looked at", sheet.portion === undefined ? "" : `${sheet.portion} %`],
                ["Opened", `${shownInstant(sheet.openedAt)}, ${nameOf(sheet.openedBy)}`],
                ["Rows", `${sheet.rowCount}, ${sheet.struckCount} of them struck`],
                ["Note", sheet.note],
              ]}
            />
            <UnprovenNotice work="sheet" id={sheetId} />
            <OverdueUses work="sheet" workId={sheetId} />
            <CorrectionForm subject={{ kind: "sheet", id: sheetId }} words={sheet} />
          </Panel>
          <SignOffPanel sheetId={sheetId} number={sheet.number} />
          <Panel title="Results" lead="↑ and ↓ step through the rows.">
            <DataTable
              caption={`Results of ${sheet.number}`}
              captionHidden
              columns={columns}
              rows={lines}
              rowKey={({ row, measurement }) => `${row.id} ${measurement.dimension}`}
              empty="Nothing has been read yet."
            />
            {pages > 1 ? (
              <div className={styles.pages}>
                <Button disabled={page === 0} onClick={() => setPage(page - 1)}>
                  Rows before
                </Button>
                <span>
                  Page {page + 1} of {pages}
                </span>
                <Button disabled={page + 1 >= pages} onClick={() => setPage(page + 1)}>
                  More rows
                </Button>
              </div>
            ) : null}
          </Panel>
        </>
      ) : null}
    </>
  );
}
