import { trueMinus } from "#core/quantity/printed-number.ts";
import styles from "./ResultFigure.module.css";

export interface ResultFigureProps {
  readonly label: string;
  /** As rounded for paper; null: there is no result, `missing` says why. */
  readonly value: string | null;
  readonly uncertainty?: string | null | undefined;
  readonly unit: string;
  readonly coverage?: string | undefined;
  readonly missing?: string | undefined;
  readonly size?: "large" | "usual";
}

/** A result to be read from a metre: value ± U with its unit, in big digits. */
export function ResultFigure(props: ResultFigureProps) {
  const { label, value, uncertainty, unit, coverage, missing, size = "usual" } = props;
  return (
    <dl className={styles.figure} data-size={size}>
      <dt className={styles.label}>{label}</dt>
      {value === null ? (
        <dd className={styles.missing}>{missing ?? "no result yet"}</dd>
      ) : (
        <dd className={styles.value}>
          {trueMinus(value)}
          {uncertainty ? <span className={styles.uncertainty}> ± {uncertainty}</span> : null}
          <span className={styles.unit}> {unit}</span>
          {coverage ? <span className={styles.coverage}> {coverage}</span> : null}
        </dd>
      )}
    </dl>
  );
}
