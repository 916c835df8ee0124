import { useSyncExternalStore } from "react";
import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { quantityDecisions, sizeDecision, wordsOfDecision } from "#core/measurement/method-limits.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { type ConformityDecision, conformityPercent } from "#core/uncertainty/conformity.ts";
import { FLAG_TITLES } from "#core/vocabulary/flag.ts";
import type { GridStore } from "../../grid/grid-store.ts";
import { useLivePart } from "../../live/use-live-part.ts";
import { ResultFigure } from "../../parts/bench-words/ResultFigure.tsx";
import { StateMark } from "../../parts/StateMark.tsx";
import type { FindingsFeed } from "./findings/findings-feed.ts";
import { flagsToTell } from "./findings/flags-to-tell.ts";
import type { SheetFindings } from "./findings/sheet-findings.ts";
import styles from "./MeasureScreen.module.css";
import type { SheetContext } from "./sheet-context.ts";

export interface ResultHeadProps {
  readonly store: GridStore;
  readonly context: SheetContext;
  readonly findings: FindingsFeed;
}

/** The last dimension that was completed, in digits to be read from a metre. */
export function ResultHead({ store, context, findings }: ResultHeadProps) {
  const last = useLivePart(store, (state) => state.lastResult);
  const found = useSyncExternalStore(findings.subscribe, findings.current);
  return (
    <section className={styles.result} aria-label="Last result" aria-live="polite">
      {last ? (
        <Result row={last.row} dimension={last.dimension} context={context} findings={found} />
      ) : (
        <ResultFigure label="Last result" value={null} unit="µm" missing="No result yet in this session" />
      )}
    </section>
  );
}

interface ResultProps {
  readonly row: SpecimenRow;
  readonly dimension: string;
  readonly context: SheetContext;
  readonly findings: SheetFindings;
}

function Result({ row, dimension, context, findings }: ResultProps) {
  const measured = row.measurements.find((one) => one.dimension === dimension);
  const name = context.method.definition.dimensions.find((one) => one.key === dimension)?.name ?? dimension;
  const label = `Row ${row.ordinal}${row.label ? ` · ${row.label}` : ""} · ${name}`;
  const size = measured?.size;
  const decision = sizeDecision(context.method.definition, dimension, size ?? null);
  const quantities = quantityDecisions(row, context.method.definition, (id) => {
    const inForce = context.trains.find((one) => one.inForce?.id === id)?.inForce;
    return inForce?.result ?? null;
  });
  const flags = measured ? flagsToTell(row, measured, findings) : [];
  return (
    <>
      {size ? (
        <ResultFigure
          label={label}
          value={size.shownValue}
          uncertainty={size.shownUncertainty}
          unit="µm"
          coverage={`k = ${decimal(size.coverageFactor).toPrecision(3)}`}
        />
      ) : (
        <ResultFigure label={label} value={measured?.divisions ?? null} unit="div" />
      )}
      {measured?.missing ? (
        <p className={styles.warning}>
          <StateMark state="warn" /> <span>{measured.missing}</span>
        </p>
      ) : null}
      {decision ? <Decision decision={decision} /> : null}
      {quantities.map(({ quantity, decision: decided }) => (
        <Decision
          key={quantity.key}
          of={`${quantity.name} ${quantity.shownValue} ± ${quantity.shownUncertainty}${quantity.unit === "1" ? "" : ` ${quantity.unit}`}: `}
          decision={decided}
        />
      ))}
      {flags.length > 0 ? (
        <p className={styles.warning}>
          <StateMark state="warn" />
          <span>
            <strong>{flags.map((flag) => FLAG_TITLES[flag]).join(", ")}</strong>
          </span>
        </p>
      ) : null}
    </>
  );
}

/** What a limit of the method says of a size, or of the quantity named. */
function Decision({ of = "", decision }: { of?: string; decision: ConformityDecision }) {
  return (
    <p className={decision.conforms ? styles.small : styles.warning}>
      <StateMark state={decision.conforms ? "good" : "warn"} />{" "}
      <span>
        {of}
        {wordsOfDecision(decision)} (probability {conformityPercent(decision.probability)})
      </span>
    </p>
  );
}
