import type { ReactNode } from "react";
import styles from "../Field.module.css";
import type { FieldProps } from "./field-props.ts";

type FrameProps = Pick<FieldProps, "id" | "label" | "hint" | "source" | "error" | "optional"> & {
  readonly children: ReactNode;
};

/** Label above, control, what is wrong, hint, where it comes from behind an i: the same order for every field. */
export function FieldFrame({ id, label, hint, source, error, optional, children }: FrameProps) {
  return (
    <div className={styles.field}>
      <label className={styles.label} htmlFor={id}>
        {label}
        {optional ? (
          <span className={styles.optional}> ({optional === true ? "optional" : optional})</span>
        ) : null}
      </label>
      {children}
      {error ? (
        <p className={styles.error} id={`${id}-error`}>
          {sentence(label, error)}
        </p>
      ) : null}
      {hint ? (
        <p className={styles.hint} id={`${id}-hint`}>
          {hint}
        </p>
      ) : null}
      {source ? (
        <details className={styles.source}>
          <summary aria-label={`Source of ${label}`}>i</summary>
          {source}
        </details>
      ) : null}
    </div>
  );
}

/** A reason such as “has no unit” set behind the name of its field; whole sentences stay as they are. */
export function sentence(label: string, reason: string): string {
  return /^\p{Ll}/u.test(reason) ? `${label} ${reason}` : reason;
}
