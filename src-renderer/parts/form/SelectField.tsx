import styles from "../Field.module.css";
import { FieldFrame } from "./FieldFrame.tsx";
import { describedBy, type FieldProps } from "./field-props.ts";

export interface Choice {
  readonly value: string;
  readonly words: string;
}

export interface SelectFieldProps extends FieldProps {
  readonly choices: readonly Choice[];
  /** The words are shown as they are, in nobody's notation. */
  readonly asWritten?: boolean;
  /** Words of an empty first choice; without it the first real choice stands. */
  readonly none?: string | undefined;
}

/** One of a few values. */
export function SelectField(props: SelectFieldProps) {
  const { id, value, onChange, error, hint, choices, none, disabled, asWritten } = props;
  return (
    <FieldFrame {...props}>
      <select
        id={id}
        value={value}
        disabled={disabled}
        // biome-ignore lint/a11y/noAutofocus: a form opened by a key starts at its first field
        autoFocus={props.autoFocus}
        data-first-focus={props.autoFocus}
        aria-invalid={error ? true : undefined}
        aria-describedby={describedBy(id, hint, error)}
        className={styles.control}
        onChange={(event) => onChange(event.target.value)}
      >
        {none === undefined ? null : <option value="">{none}</option>}
        {choices.map((choice) => (
          <option
            key={choice.value}
            value={choice.value}
            {...(asWritten ? { "data-as-written": "" } : undefined)}
          >
            {choice.words}
          </option>
        ))}
      </select>
    </FieldFrame>
  );
}
