import { useState } from "react";
import type { ForwardTrace, TouchedCalibration, TouchedSheet } from "#core/contract/records/trace.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { Button } from "../../parts/Button.tsx";
import { shownDay } from "../../parts/bench-words/instant.ts";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { PaperFoot } from "../../parts/layout/PaperFoot.tsx";
import { PrintButton } from "../../parts/layout/PrintButton.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { Unbroken } from "../../parts/Unbroken.tsx";
import type { Scope } from "./forward-scope.ts";
import { changeWords, countWords } from "./forward-words.ts";
import { LetterPanel } from "./LetterPanel.tsx";
import { ReevaluationForm } from "./ReevaluationForm.tsx";
import { SheetRows } from "./SheetRows.tsx";
import { TouchedCounts } from "./TouchedCounts.tsx";
import styles from "./Trace.module.css";

const CALIBRATIONS: readonly Column<TouchedCalibration>[] = [
  { key: "train", title: "Calibration of", names: true, cell: (one) => one.trainName },
  { key: "day", title: "Of", unbroken: true, cell: (one) => shownDay(one.startedAt) },
  { key: "state", title: "State", cell: (one) => one.state },
  {
    key: "old",
    title: "Factor ± U, µm/div",
    number: true,
    cell: (one) => `${one.shownFactor} ± ${one.shownUncertainty}`,
  },
  {
    key: "new",
    title: "In its place",
    number: true,
    cell: (one) =>
      one.replacement ? `${one.replacement.shownFactor} ± ${one.replacement.shownUncertainty}` : "–",
  },
  {
    key: "change",
    title: "Change",
    number: true,
    cell: (one) => (one.replacement ? changeWords(one.replacement.relativeChange) : "–"),
  },
  { key: "results", title: "Results", number: true, cell: (one) => one.results },
  { key: "problem", title: "Remark", cell: (one) => one.problem ?? "–" },
];

/** One day, or from the first to the last. */
function daysWords({ firstAt, lastAt }: TouchedSheet): string {
  const [first, last] = [shownDay(firstAt), shownDay(lastAt)];
  return first === last ? first : `${first} to ${last}`;
}

/** What a subject touched: calibrations, sheets, rows; and what can be done about it. */
export function ForwardResult({ forward, scope }: { forward: ForwardTrace; scope: Scope }) {
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const [open, setOpen] = useState<string | null>(null);
  const { sheets, replacementName } = forward;
  const used = forward.calibrations.filter((one) => one.results > 0);
  const unused = forward.calibrations.filter((one) => one.results === 0);
  const chosen = sheets.filter((one) => !left.has(one.sheet.id));
  const shown = sheets.find((one) => one.sheet.id === open);
  const toggle = (id: string): void => {
    const next = new Set(left);
    if (!next.delete(id)) next.add(id);
    setLeft(next);
  };
  const columns: readonly Column<TouchedSheet>[] = [
    ...(replacementName === null
      ? []
      : [
          {
            key: "take",
            title: "Take",
            cell: (one: TouchedSheet) => (
              <input
                type="checkbox"
                aria-label={`Take sheet ${one.sheet.number}`}
                checked={!left.has(one.sheet.id)}
                onChange={() => toggle(one.sheet.id)}
              />
            ),
          },
        ]),
    { key: "number", title: "Sheet", names: true, unbroken: true, cell: (one) => one.sheet.number },
    { key: "sample", title: "Sample", cell: (one) => one.sheet.sample },
    { key: "state", title: "State", cell: (one) => one.signOff },
    {
      key: "days",
      title: "Measured",
      cell: (one) => <Unbroken text={daysWords(one)} />,
    },
    { key: "rows", title: "Rows", number: true, cell: (one) => one.rows },
    { key: "results", title: "Results", number: true, cell: (one) => one.results },
    {
      key: "change",
      title: "Largest change",
      number: true,
      cell: (one) => (one.largestRelativeChange === null ? "–" : changeWords(one.largestRelativeChange)),
    },
    {
      key: "acts",
      title: <span data-screen-only>Look</span>,
      cell: (one) => (
        <Button
          look="quiet"
          aria-label={`Rows of ${one.sheet.number}`}
          aria-expanded={open === one.sheet.id}
          onClick={() => setOpen(open === one.sheet.id ? null : one.sheet.id)}
        >
          Rows
        </Button>
      ),
    },
  ];
  return (
    <>
      <Panel
        title={`Touched by ${forward.subjectName}`}
        lead={replacementName === null ? undefined : `With ${replacementName} in its place.`}
        actions={<PrintButton />}
      >
        <div className={styles.stack}>
          <Notice kind={forward.counts.signedSheets > 0 ? "care" : "note"} title={countWords(forward)}>
            <p>
              {scope.from ?? "From the beginning"} to {scope.to ?? "today"}; struck rows are left out.
            </p>
          </Notice>
          <DataTable
            caption="Sheets it reaches"
            columns={columns}
            rows={sheets}
            rowKey={(one) => one.sheet.id}
            empty="No result of these days rests on it."
            current={open}
          />
          <DataTable
            caption="Calibrations behind these results"
            columns={CALIBRATIONS}
            rows={used}
            rowKey={(one) => one.calibrationId}
            empty="None."
          />
          {unused.length > 0 ? (
            <details data-screen-only>
              <summary className={styles.summary}>
                {countedNoun(unused.length, "more calibration")} it reaches, without a result of these days
              </summary>
              <DataTable
                caption="Calibrations without a result of these days"
                captionHidden
                columns={CALIBRATIONS}
                rows={unused}
                rowKey={(one) => one.calibrationId}
                empty="None."
              />
            </details>
          ) : null}
        </div>
      </Panel>
      {shown ? <SheetRows key={shown.sheet.id} scope={scope} touched={shown} /> : null}
      <TouchedCounts scope={scope} />
      {sheets.length > 0 ? <LetterPanel scope={scope} /> : null}
      {sheets.length > 0 && scope.replacement ? (
        <ReevaluationForm
          scope={scope}
          forward={forward}
          chosen={chosen}
          isAll={chosen.length === sheets.length}
        />
      ) : null}
      <PaperFoot asOf={forward.asOf} />
    </>
  );
}
