import { dateTyped } from "../../window/notation.ts";
import { TextField, type TextFieldProps } from "./TextField.tsx";

/**
 * A calendar date typed as 2026-01-31, or as 20260131, which is set apart as soon as it is complete; and in the form in
 * which the person reads dates.
 */
export function DateField({ onChange, ...props }: Omit<TextFieldProps, "lines" | "kind" | "unit">) {
  return (
    <TextField
      placeholder="2026-01-31"
      {...props}
      kind="date"
      onChange={(typed) => onChange(dateTyped(typed))}
    />
  );
}
