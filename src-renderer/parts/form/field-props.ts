/** What every entry field takes; `form.bind(path, label)` gives all of it. */
export interface FieldProps {
  readonly id: string;
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  /** What is wrong with the value, in words that read after the label. */
  readonly error?: string | null | undefined;
  readonly hint?: string | undefined;
  /** Where the field or its proposal comes from; behind an i below it. */
  readonly source?: string | undefined;
  /** Says beside the label that the field may stay empty: “(optional)”, or in the words given. */
  readonly optional?: boolean | string | undefined;
  readonly disabled?: boolean | undefined;
  readonly autoFocus?: boolean | undefined;
}

/** Ids of the texts that describe a field, for `aria-describedby`. */
export function describedBy(id: string, hint: unknown, error: unknown): string | undefined {
  const ids = [hint ? `${id}-hint` : "", error ? `${id}-error` : ""].filter((one) => one !== "");
  return ids.length > 0 ? ids.join(" ") : undefined;
}
