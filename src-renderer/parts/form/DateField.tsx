import { TextField, type TextFieldProps } from "./TextField.tsx";

/** A calendar date typed as 2026-01-31. */
export function DateField(props: Omit<TextFieldProps, "lines" | "kind" | "unit">) {
  return <TextField placeholder="2026-01-31" {...props} kind="date" />;
}
