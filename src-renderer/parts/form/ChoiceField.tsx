import { type ChoicesFieldProps, ChoicesFrame } from "./ChoicesFrame.tsx";

/** One of a few values, each explained in its own words: radio buttons under a question. */
export function ChoiceField({ value, onChange, ...frame }: ChoicesFieldProps) {
  return (
    <ChoicesFrame
      {...frame}
      input={(one) => ({
        type: "radio",
        name: frame.id,
        value: one,
        checked: value === one,
        onChange: () => onChange(one),
      })}
    />
  );
}
