import type { BenchOverview } from "#core/contract/records/bench.ts";
import type { SideBySide } from "#core/contract/records/trend.ts";
import { SIDE_BY_SIDE_LINES } from "#core/drawing/side-by-side-picture.ts";
import { commonSpans } from "#core/drawing/small-trend.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useCall } from "../../bridge/use-call.ts";
import { SmallTrend } from "../../charts/SmallTrend.tsx";
import { Button } from "../../parts/Button.tsx";
import { CallNotice } from "../../parts/CallNotice.tsx";
import type { Choice } from "../../parts/form/SelectField.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { PrintButton } from "../../parts/layout/PrintButton.tsx";
import { StateMark } from "../../parts/StateMark.tsx";
import { Unbroken } from "../../parts/Unbroken.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { useSeriesPicture } from "./SeriesPicture.tsx";
import { TrendChooser } from "./TrendChooser.tsx";
import styles from "./Trends.module.css";
import { firstTrain, trainChoices } from "./train-choices.ts";
import { MARK_OF_VERDICT } from "./trend-marks.ts";
import { signed } from "./trend-words.ts";

type View = "microscope" | "people" | "micrometer";

const LABELS: Readonly<Record<View, string>> = {
  microscope: "Microscope",
  people: "Optical train",
  micrometer: "Stage micrometer",
};

/** People are set against the mean of all who calibrated the train. */
const LEADS: Readonly<Record<View, string>> = {
  microscope: "Change from each one’s own mean, the line at 0",
  micrometer: "Change from each one’s own mean, the line at 0",
  people: "Change from the mean of all people, the line at 0",
};

function subjectsOf(
  view: View,
  overview: BenchOverview,
  micrometers: readonly { id: string; name: string; serial: string }[],
) {
  if (view === "people") return { choices: trainChoices(overview), first: firstTrain(overview) };
  const choices: Choice[] =
    view === "microscope"
      ? overview.microscopes.map(({ microscope }) => ({ value: microscope.id, words: microscope.name }))
      : micrometers.map(({ id, name, serial }) => ({ value: id, words: `${name} (${serial})` }));
  return { choices, first: choices[0]?.value ?? null };
}

/** Several histories on the same axes, and what they say together. */
export function SideBySideView({ view, subjectId }: { view: View; subjectId: string | null }) {
  const navigation = useNavigation();
  const overview = useCall("bench.overview", {});
  const micrometers = useCall("micrometers.list", {});
  if (!overview.data || !micrometers.data) {
    return <CallNotice calls={[overview, micrometers]} waiting="Reading the bench …" />;
  }
  const { choices, first } = subjectsOf(view, overview.data, micrometers.data);
  const shown = subjectId ?? first;
  if (shown === null) return <p>Nothing of this kind is registered yet.</p>;
  return (
    <>
      <TrendChooser
        id={`trends-${view}`}
        label={LABELS[view]}
        value={shown}
        choices={choices}
        onChoose={(chosen) => navigation.go({ screen: "trends", part: view, subjectId: chosen })}
      />
      <Together key={`${view} ${shown}`} view={view} id={shown} />
    </>
  );
}

function Together({ view, id }: { view: View; id: string }) {
  const together = useCall("trends.sideBySide", { view, id });
  const picture = useSeriesPicture(view, id);
  if (!together.data) return <CallNotice calls={[together]} waiting="Reading the histories …" />;
  const { title, series, findings } = together.data;
  return (
    <>
      <Panel
        title="Summary"
        actions={
          <>
            {series.length === 0 ? null : picture.button}
            <PrintButton words="Print" />
          </>
        }
      >
        {picture.notice}
        <ul className={styles.rules}>
          {findings.map(({ words }) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      </Panel>
      <Panel title={title} lead={`${LEADS[view]}, with U, on the same axes.`}>
        {series.length === 0 ? (
          <p>No calibration yet.</p>
        ) : (
          <SeriesCards series={series} openable={view !== "people"} line={SIDE_BY_SIDE_LINES[view]} />
        )}
      </Panel>
      <SeriesTable title={title} series={series} />
    </>
  );
}

function SeriesCards({
  series,
  openable,
  line,
}: {
  series: SideBySide["series"];
  openable: boolean;
  line: string;
}) {
  const navigation = useNavigation();
  const spans = commonSpans(series);
  return (
    <ul className={styles.series}>
      {series.map((one) => (
        <li key={one.key} className={styles.card}>
          <h3>{one.title}</h3>
          {one.verdict ? (
            <p className={styles.verdict}>
              <StateMark state={MARK_OF_VERDICT[one.verdict.kind]} />
              <strong>{one.verdict.kind}</strong>
              {openable ? (
                <Button
                  look="quiet"
                  aria-label={`History of ${one.title}`}
                  onClick={() => navigation.go({ screen: "trends", part: "train", subjectId: one.trainId })}
                >
                  History
                </Button>
              ) : null}
            </p>
          ) : null}
          {one.verdict ? (
            <p className={styles.why}>
              <Unbroken text={one.verdict.why} />
            </p>
          ) : null}
          <SmallTrend series={one} spans={spans} line={line} />
        </li>
      ))}
    </ul>
  );
}

interface SeriesLine {
  readonly key: string;
  readonly title: string;
  readonly point: SideBySide["series"][number]["points"][number];
}

const COLUMNS: readonly Column<SeriesLine>[] = [
  { key: "title", title: "Series", names: true, cell: (one) => one.title },
  { key: "date", title: "Date", unbroken: true, cell: (one) => one.point.date },
  { key: "percent", title: "Change, %", number: true, cell: (one) => signed(one.point.percent, 2) },
  { key: "u", title: "U, %", number: true, cell: (one) => Number(one.point.percentUncertainty).toFixed(2) },
  { key: "shown", title: "Factor", number: true, cell: (one) => one.point.shown },
  { key: "person", title: "Person", words: true, cell: (one) => one.point.person },
  { key: "micrometer", title: "Micrometer", cell: (one) => one.point.micrometer },
];
const MOST_LINES = 300;

function SeriesTable({ title, series }: { title: string; series: SideBySide["series"] }) {
  const all = series.flatMap((one) =>
    one.points.map(
      (point): SeriesLine => ({ key: `${one.key} ${point.calibrationId}`, title: one.title, point }),
    ),
  );
  const lines = all.slice(-MOST_LINES);
  const cut = all.length > lines.length ? `, the last ${MOST_LINES} of ${all.length} lines` : "";
  return (
    <Panel title="Table of values" lead={`${countedNoun(all.length, "calibration")}${cut}`}>
      <DataTable
        caption={`Calibrations, ${title}`}
        captionHidden
        columns={COLUMNS}
        rows={lines}
        rowKey={(one) => one.key}
        empty="No calibration yet."
      />
    </Panel>
  );
}
