import type { ReactNode } from "react";
import styles from "../Field.module.css";
import { sentence } from "./FieldFrame.tsx";
import { describedBy, type FieldProps } from "./field-props.ts";

export interface ChoiceFieldProps extends Omit<FieldProps, "autoFocus" | "optional"> {
  readonly choices: readonly { readonly value: string; readonly words: ReactNode }[];
}

/** One of a few values, each explained in its own words: radio buttons under a question. */
export function ChoiceField({
  id,
  label,
  value,
  onChange,
  error,
  hint,
  choices,
  disabled,
}: ChoiceFieldProps) {
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
        {choices.map((choice) => (
          <label key={choice.value} className={styles.choice}>
            <input
              type="radio"
              name={id}
              value={choice.value}
              checked={value === choice.value}
              onChange={() => onChange(choice.value)}
            />
            <span>{choice.words}</span>
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
