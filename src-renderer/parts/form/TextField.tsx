import { FIRST_FOCUS } from "../../window/first-focus.ts";
import styles from "../Field.module.css";
import { classNames } from "../layout/class-names.ts";
import { FieldFrame } from "./FieldFrame.tsx";
import { describedBy, type FieldProps } from "./field-props.ts";
import { useOwnNotation } from "./use-own-notation.ts";

export interface TextFieldProps extends FieldProps {
  /** Lines of a longer text; one line without it. */
  readonly lines?: number;
  readonly placeholder?: string | undefined;
  readonly unit?: string | undefined;
  readonly kind?: "text" | "number" | "date";
}

/** One line or several lines of text, kept exactly as typed. */
export function TextField(props: TextFieldProps) {
  const { id, error, hint, lines, placeholder, disabled, unit, kind = "text" } = props;
  const { value, onChange } = useOwnNotation(kind, props);
  const common = {
    id,
    value,
    placeholder,
    disabled,
    autoFocus: props.autoFocus,
    [FIRST_FOCUS]: props.autoFocus,
    "aria-invalid": error ? (true as const) : undefined,
    "aria-describedby": describedBy(id, hint, error),
    autoComplete: "off",
    spellCheck: false,
    className: classNames(styles.control, kind === "number" && styles.number, kind === "date" && styles.date),
  };
  return (
    <FieldFrame {...props}>
      <span className={styles.row}>
        {lines ? (
          <textarea {...common} rows={lines} onChange={(event) => onChange(event.target.value)} />
        ) : (
          <input
            {...common}
            type="text"
            inputMode={kind === "number" ? "decimal" : undefined}
            onChange={(event) => onChange(event.target.value)}
          />
        )}
        {unit ? <span className={styles.unit}>{unit}</span> : null}
      </span>
    </FieldFrame>
  );
}
