import { TextField, type TextFieldProps } from "./TextField.tsx";

/** A number as typed: a text input, so that `40.0` stays `40.0` and nothing is corrected behind the person's back. */
export function NumberField(props: Omit<TextFieldProps, "lines" | "kind">) {
  return <TextField {...props} kind="number" />;
}
