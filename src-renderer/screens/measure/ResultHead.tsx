import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { FLAG_TITLES } from "#core/vocabulary/flag.ts";
import type { GridStore } from "../../grid/grid-store.ts";
import { useGridPart } from "../../grid/use-grid-part.ts";
import { ResultFigure } from "../../parts/bench-words/ResultFigure.tsx";
import { StateMark } from "../../parts/StateMark.tsx";
import styles from "./MeasureScreen.module.css";
import type { SheetContext } from "./sheet-context.ts";

/** The last dimension that was completed, in digits to be read from a metre. */
export function ResultHead({ store, context }: { store: GridStore; context: SheetContext }) {
  const last = useGridPart(store, (state) => state.lastResult);
  return (
    <section className={styles.result} aria-label="Last result" aria-live="polite">
      {last ? (
        <Result row={last.row} dimension={last.dimension} context={context} />
      ) : (
        <ResultFigure label="Last result" value={null} unit="µm" missing="none yet on this visit" />
      )}
    </section>
  );
}

function Result({ row, dimension, context }: { row: SpecimenRow; dimension: string; context: SheetContext }) {
  const measured = row.measurements.find((one) => one.dimension === dimension);
  const name = context.method.definition.dimensions.find((one) => one.key === dimension)?.name ?? dimension;
  const label = `Row ${row.ordinal}${row.label ? ` · ${row.label}` : ""} · ${name}`;
  const size = measured?.size;
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
      {measured && measured.flags.length > 0 ? (
        <p className={styles.warning}>
          <StateMark state="warn" />
          <span>
            <strong>{measured.flags.map((flag) => FLAG_TITLES[flag]).join(", ")}</strong>
          </span>
        </p>
      ) : null}
    </>
  );
}
