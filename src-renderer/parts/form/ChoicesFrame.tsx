import type { ComponentProps, ReactNode } from "react";
import styles from "../Field.module.css";
import { sentence } from "./FieldFrame.tsx";
import { describedBy, type FieldProps } from "./field-props.ts";

export interface ChoicesFieldProps extends Omit<FieldProps, "autoFocus" | "optional"> {
  readonly choices: readonly { readonly value: string; readonly words: ReactNode }[];
}

/** A question over a few values, each with its own button or box, hint and problem. */
export function ChoicesFrame({
  id,
  label,
  error,
  hint,
  choices,
  disabled,
  input,
}: Pick<ChoicesFieldProps, "id" | "label" | "error" | "hint" | "choices" | "disabled"> & {
  /** The button or box of a value. */
  input: (value: string) => ComponentProps<"input">;
}) {
  return (
    <fieldset
      id={id}
      className={styles.field}
      disabled={disabled}
      data-invalid={error ? true : undefined}
      aria-describedby={describedBy(id, hint, error)}
    >
      <legend className={styles.label}>{label}</legend>
      {hint ? (
        <p className={styles.hint} id={`${id}-hint`}>
          {hint}
        </p>
      ) : null}
      <div className={styles.choices}>
        {choices.map(({ value, words }) => (
          <label key={value} className={styles.choice}>
            <input {...input(value)} />
            <span>{words}</span>
          </label>
        ))}
      </div>
      {error ? (
        <p className={styles.error} id={`${id}-error`}>
          {sentence(label, error)}
        </p>
      ) : null}
    </fieldset>
  );
}
