import { useCallback, useMemo, useRef, useState } from "react";
import type { TrainTrend, TrendViewChoice } from "#core/contract/records/trend.ts";
import { trendModel } from "#core/drawing/trend-model.ts";
import { trendSummary } from "#core/drawing/trend-summary.ts";
import { equalsProbability } from "#core/quantity/probability-words.ts";
import { dateOfDay } from "#core/trends/civil-day.ts";
import type { TrendUnit } from "#core/vocabulary/trend-unit.ts";
import { useCall } from "../../bridge/use-call.ts";
import { TrendChart } from "../../charts/TrendChart.tsx";
import { TrendLegend } from "../../charts/TrendLegend.tsx";
import { Button } from "../../parts/Button.tsx";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { PrintButton } from "../../parts/layout/PrintButton.tsx";
import { StateMark } from "../../parts/StateMark.tsx";
import { Unbroken } from "../../parts/Unbroken.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { ownSettings } from "../../window/own-settings.ts";
import { IntervalPanel } from "./IntervalPanel.tsx";
import { TrendChooser } from "./TrendChooser.tsx";
import { useTrendExports } from "./TrendExports.tsx";
import styles from "./Trends.module.css";
import { EventTable, PointTable } from "./TrendTables.tsx";
import { firstTrain, trainChoices } from "./train-choices.ts";
import { MARK_OF_VERDICT } from "./trend-marks.ts";
import { pointWords, signed, startOfSentence } from "./trend-words.ts";

/** The history of one train; `trainId` null: of the first that has one. */
export function OneTrain({ trainId }: { trainId: string | null }) {
  const navigation = useNavigation();
  const overview = useCall("bench.overview", {});
  if (!overview.data) return <CallNotice calls={[overview]} waiting="Reading the bench …" />;
  const shown = trainId ?? firstTrain(overview.data);
  const choices = trainChoices(overview.data);
  if (shown === null) return <p>No microscope is registered yet: there is no history to show.</p>;
  const name = choices.find(({ value }) => value === shown)?.words ?? "train";
  return (
    <>
      <TrendChooser
        id="trend-train"
        label="Optical train"
        value={shown}
        choices={choices}
        onChoose={(subjectId) => navigation.go({ screen: "trends", part: "train", subjectId })}
      />
      <TrainHistory key={shown} trainId={shown} name={name} />
    </>
  );
}

function TrainHistory({ trainId, name }: { trainId: string; name: string }) {
  const history = useCall("trends.train", { trainId });
  if (!history.data) return <CallNotice calls={[history]} waiting="Reading the history …" />;
  return (
    <>
      <CallNotice calls={[history]} waiting="" />
      <ChartPanel trend={history.data} name={name} />
      <IntervalPanel trend={history.data} />
      <PointTable trend={history.data} name={name} />
      <EventTable trend={history.data} />
    </>
  );
}

function ChartPanel({ trend, name }: { trend: TrainTrend; name: string }) {
  const navigation = useNavigation();
  const [unit, setUnit] = useState<TrendUnit>("factor");
  const [withTolerance, setWithTolerance] = useState(false);
  const model = useMemo(() => trendModel(trend, unit), [trend, unit]);
  const { verdict } = trend;
  // Not a state: what is in view is asked for when something is saved, and changes with every key.
  const seen = useRef<TrendViewChoice["days"]>(null);
  const onSeen = useCallback((from: number, to: number) => {
    seen.current = { from: dateOfDay(from), to: dateOfDay(to + 1) };
  }, []);
  const saving = useTrendExports(trend.trainId, () => {
    const { decimalSign, dateForm } = ownSettings();
    return { unit, withTolerance, days: seen.current, notation: { decimalSign, dateForm } };
  });
  return (
    <Panel
      title="Factor over time"
      actions={
        <>
          <Button
            aria-pressed={unit === "percent"}
            onClick={() => setUnit(unit === "percent" ? "factor" : "percent")}
          >
            {unit === "percent" ? "Show µm/div" : "Show per cent"}
          </Button>
          <Button aria-pressed={withTolerance} onClick={() => setWithTolerance(!withTolerance)}>
            {withTolerance ? "Fit to the values" : "Fit to the tolerance"}
          </Button>
          <PrintButton words="Print" />
          {saving.buttons}
        </>
      }
    >
      <div className={styles.stack}>
        {saving.notice}
        <p className={styles.verdict}>
          <StateMark state={MARK_OF_VERDICT[verdict.kind]} />
          <strong>{verdict.kind}</strong>
          <span>
            <Unbroken text={verdict.why} />
          </span>
        </p>
        {trend.conformity ? (
          <p className={styles.verdict}>
            <StateMark state={trend.conformity.conforms ? "good" : "bad"} />
            <span>
              <Unbroken text={trend.conformity.words} />
            </span>
          </p>
        ) : null}
        {trend.points.length === 0 ? (
          <p>The chart begins with the first calibration put in force.</p>
        ) : (
          <>
            <TrendChart
              model={model}
              title={`Factor of ${name} over time`}
              summary={trendSummary(trend)}
              withTolerance={withTolerance}
              onSeen={onSeen}
              pointWords={(place) => pointWords(trend, place)}
              onOpen={(place) =>
                navigation.go({
                  screen: "records",
                  tab: "calibrations",
                  recordId: trend.points[place]?.calibrationId ?? null,
                })
              }
            />
            <p className={styles.keys}>
              <kbd>←</kbd> <kbd>→</kbd> point to point · <kbd>+</kbd> <kbd>−</kbd> zoom · <kbd>Shift</kbd>{" "}
              <kbd>←</kbd> <kbd>→</kbd> move along · <kbd>0</kbd> whole · <kbd>Enter</kbd> the calibration
            </p>
            <TrendLegend model={model} />
            <LimitWords trend={trend} />
          </>
        )}
      </div>
    </Panel>
  );
}

/** Where the limits come from, honest about few points, and what the line says. */
function LimitWords({ trend }: { trend: TrainTrend }) {
  const { drift, reference, nominalFactor, tolerance } = trend;
  const off = reference === null ? null : signed((Number(nominalFactor) / Number(reference) - 1) * 100, 2);
  return (
    <ul className={styles.rules}>
      {trend.baselines.map((baseline) => (
        <li key={baseline.from}>
          From <span className={styles.date}>{baseline.from}</span>
          {baseline.begunBy ? `, after ${baseline.begunBy}` : ""}. {startOfSentence(baseline.rule)}.
        </li>
      ))}
      {drift ? (
        <li>
          {drift.established ? "Drift line." : drift.words} Slope {signed(drift.percentPerYear, 2)} % a year,
          95 % interval {signed(drift.interval.lower, 2)} to {signed(drift.interval.upper, 2)} %, p{" "}
          {equalsProbability(drift.p)}
          {drift.rankP === null ? "" : `, by ranks p ${equalsProbability(drift.rankP)}`}.
        </li>
      ) : null}
      <li>
        Tolerance ± {tolerance.percent} % of the baseline’s first factor. {tolerance.origin}
        {off === null ? "" : ` The nominal factor lies ${off} % from the first.`}
      </li>
    </ul>
  );
}
