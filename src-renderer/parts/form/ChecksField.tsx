import styles from "../Field.module.css";
import { sentence } from "./FieldFrame.tsx";
import { describedBy, type FieldProps } from "./field-props.ts";

export interface ChecksFieldProps extends Omit<FieldProps, "autoFocus" | "optional"> {
  readonly choices: readonly { readonly value: string; readonly words: string }[];
}

/** Any number of a few values: check boxes under a question. Its value names those checked, in their order, by spaces. */
export function ChecksField({
  id,
  label,
  value,
  onChange,
  error,
  hint,
  choices,
  disabled,
}: ChecksFieldProps) {
  const checked = new Set(value.split(" "));
  const turned = (turn: string): string =>
    choices
      .map((choice) => choice.value)
      .filter((one) => checked.has(one) !== (one === turn))
      .join(" ");
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
              type="checkbox"
              checked={checked.has(choice.value)}
              onChange={() => onChange(turned(choice.value))}
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
