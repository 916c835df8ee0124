import type { ReactNode } from "react";
import type { CalibrationResult } from "#core/calibration/calibration.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { formatToPlaces, reportWithUncertainty, roundToSignificant } from "#core/quantity/rounding.ts";
import { ResultFigure } from "../../parts/bench-words/ResultFigure.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import styles from "./CalibrateScreen.module.css";
import type { CalibrationContext, CalibrationPreview } from "./calibration-preview.ts";

/** The factor as it stands, with what it is compared with. */
export function FactorPanel({
  context,
  preview,
  children,
}: {
  context: CalibrationContext;
  preview: CalibrationPreview;
  /** What is decided on it. */
  children: ReactNode;
}) {
  const { result } = preview;
  const counted = preview.rows.filter((row) => row !== null).length;
  return (
    <Panel title="Factor" lead={`From ${countedNoun(counted, "setting")}.`}>
      {result ? (
        <>
          <Figure result={result} />
          <Facts result={result} context={context} />
        </>
      ) : (
        <ResultFigure
          label="Factor"
          value={null}
          unit="µm/div"
          missing="The first complete setting gives a factor."
        />
      )}
      {children}
    </Panel>
  );
}

function Figure({ result }: { result: CalibrationResult }) {
  const { uncertainty } = result;
  const shown = reportWithUncertainty(result.factor, uncertainty.expanded);
  const freedom = uncertainty.degreesOfFreedom;
  return (
    <div aria-live="polite" className={styles.factor}>
      <ResultFigure
        label="Factor"
        value={shown.value}
        uncertainty={shown.uncertainty}
        unit="µm/div"
        coverage={`k = ${uncertainty.coverageFactor.toPrecision(3)}`}
      />
      <p className={styles.soft}>
        effective degrees of freedom {freedom ? formatToPlaces(freedom, 1) : "without limit"}
      </p>
    </div>
  );
}

function Facts({ result, context }: { result: CalibrationResult; context: CalibrationContext }) {
  const nominal = decimal(context.train.nominalFactor);
  const deviation = result.factor.div(nominal).minus(1).times(100);
  const earlier = context.earlier?.result;
  const change = earlier && result.factor.div(decimal(earlier.factor)).minus(1).times(100);
  const six = (value: typeof nominal): string => roundToSignificant(value, 6).toFixed();
  return (
    <>
      <dl className={styles.facts}>
        <dt>from nominal, {six(nominal)}</dt>
        <dd>{signed(formatToPlaces(deviation, 2))} %</dd>
        {earlier && change ? (
          <>
            <dt>from before, {earlier.shownFactor}</dt>
            <dd>{signed(formatToPlaces(change, 2))} %</dd>
          </>
        ) : null}
      </dl>
      <details>
        <summary className={styles.summary}>More figures</summary>
        <dl className={styles.facts}>
          <dt>mean of ratios</dt>
          <dd>{six(result.meanOfRatios)} µm/div</dd>
          <dt>s of the ratios</dt>
          <dd>
            {result.relativeDeviation
              ? `${formatToPlaces(result.relativeDeviation.times(100), 3)} %`
              : "one setting only"}
          </dd>
          <dt>s of the readings about the fit</dt>
          <dd>{formatToPlaces(result.residualDeviation, 3)} div</dd>
          <dt>longest span</dt>
          <dd>{result.span.toFixed()} div</dd>
        </dl>
      </details>
    </>
  );
}

const signed = (text: string): string => (text.startsWith("-") ? `−${text.slice(1)}` : `+${text}`);
