import styles from "../Field.module.css";
import { FieldFrame } from "./FieldFrame.tsx";
import { describedBy } from "./field-props.ts";

export interface PinFieldProps {
  readonly id: string;
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly error?: string | null;
  readonly hint?: string;
}

/** A PIN: never shown, and never kept with what else is typed into a form. */
export function PinField(props: PinFieldProps) {
  const { id, value, onChange, error, hint } = props;
  return (
    <FieldFrame {...props}>
      <input
        id={id}
        type="password"
        autoComplete="off"
        className={styles.control}
        value={value}
        aria-invalid={error ? true : undefined}
        aria-describedby={describedBy(id, hint, error)}
        onChange={(event) => onChange(event.target.value)}
      />
    </FieldFrame>
  );
}
