import { TextField, type TextFieldProps } from "./TextField.tsx";

/** A calendar date typed as 2026-01-31, or as 20260131, which is set apart as soon as it is complete. */
export function DateField({ onChange, ...props }: Omit<TextFieldProps, "lines" | "kind" | "unit">) {
  return (
    <TextField
      placeholder="2026-01-31"
      {...props}
      kind="date"
      onChange={(typed) => onChange(typed.replace(/^(\d{4})(\d{2})(\d{2})$/, "$1-$2-$3"))}
    />
  );
}
