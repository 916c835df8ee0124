import { memo, useState } from "react";
import type { TrainTrend, TrendCheck, TrendEvent, TrendPoint } from "#core/contract/records/trend.ts";
import { eventLetter } from "#core/drawing/trend-model.ts";
import { Button } from "../../parts/Button.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import styles from "./Trends.module.css";
import { agreementWords, levelWords, percentFrom, rulesOf } from "./trend-words.ts";

const PAGE = 50;

/** The chart as a table, newest first, a page at a time. */
export const PointTable = memo(function PointTable({ trend, name }: { trend: TrainTrend; name: string }) {
  const [page, setPage] = useState(0);
  const { points, reference } = trend;
  const newest = points.toReversed();
  const pages = Math.max(1, Math.ceil(points.length / PAGE));
  const columns: readonly Column<TrendPoint>[] = [
    { key: "date", title: "Date", names: true, unbroken: true, cell: (one) => one.date },
    {
      key: "factor",
      title: "Factor ± U, µm/div",
      number: true,
      cell: (one) => `${one.shownFactor} ± ${one.shownUncertainty}`,
    },
    { key: "percent", title: "Change, %", number: true, cell: (one) => percentFrom(one.factor, reference) },
    { key: "person", title: "Person", words: true, cell: (one) => one.person },
    {
      key: "micrometer",
      title: "Micrometer, certificate",
      cell: (one) => `${one.micrometer}, ${one.certificate}`,
    },
    { key: "en", title: "E_n to the one before", cell: agreementWords },
    { key: "level", title: "Against the limits", cell: levelWords },
    { key: "rules", title: "Rules", cell: (one) => rulesOf(one, points) || "–" },
  ];
  return (
    <Panel
      title="Table of values"
      lead={`${points.length} ${points.length === 1 ? "calibration" : "calibrations"}, newest first`}
      actions={
        pages > 1 ? (
          <>
            <Button disabled={page === 0} onClick={() => setPage(page - 1)}>
              Newer
            </Button>
            <span>
              {page + 1} of {pages}
            </span>
            <Button disabled={page === pages - 1} onClick={() => setPage(page + 1)}>
              Older
            </Button>
          </>
        ) : undefined
      }
    >
      <DataTable
        caption={`Calibrations of ${name}`}
        captionHidden
        columns={columns}
        rows={newest.slice(page * PAGE, (page + 1) * PAGE)}
        rowKey={(one) => one.calibrationId}
        empty="No calibration yet."
      />
    </Panel>
  );
});

const EVENTS: readonly Column<TrendEvent & { readonly letter: string }>[] = [
  { key: "letter", title: "On the chart", names: true, cell: (one) => one.letter },
  { key: "date", title: "Date", unbroken: true, cell: (one) => one.date },
  { key: "words", title: "What happened", cell: (one) => one.words },
  { key: "breaks", title: "New baseline", cell: (one) => (one.breaks ? "yes" : "no") },
];

const checkWords = ({ passed, withdrawn }: TrendCheck): string =>
  withdrawn === null ? (passed ? "passed" : "failed") : `withdrawn: ${withdrawn}`;

const CHECKS: readonly Column<TrendCheck>[] = [
  { key: "date", title: "Date", names: true, unbroken: true, cell: (one) => one.date },
  { key: "factor", title: "Factor found, µm/div", number: true, cell: (one) => one.shownFactor },
  { key: "passed", title: "Against the factor in force", cell: checkWords },
  { key: "person", title: "Person", words: true, cell: (one) => one.person },
];

/** Events, quick checks and changes of level; nothing where there is none. */
export function EventTable({ trend }: { trend: TrainTrend }) {
  const { events, checks, steps } = trend;
  if (events.length + checks.length + steps.length === 0) return null;
  return (
    <Panel title="Events and checks">
      <div className={styles.stack}>
        {steps.length > 0 ? (
          <ul className={styles.rules}>
            {steps.map(({ after, before, percent, event }) => (
              <li key={after}>
                Level {Number(percent) > 0 ? "up" : "down"} by {Math.abs(Number(percent)).toFixed(2)} %
                between {after} and {before}
                {event ? `, at ${event}` : "; no event is recorded"}.
              </li>
            ))}
          </ul>
        ) : null}
        {events.length > 0 ? (
          <DataTable
            caption="Events"
            columns={EVENTS}
            rows={events.map((event, at) => ({ ...event, letter: eventLetter(at) }))}
            rowKey={(one) => one.letter}
            empty="No event."
          />
        ) : null}
        {checks.length > 0 ? (
          <DataTable
            caption="Quick checks"
            columns={CHECKS}
            rows={checks}
            rowKey={(one) => one.checkId}
            empty="No check."
          />
        ) : null}
      </div>
    </Panel>
  );
}
