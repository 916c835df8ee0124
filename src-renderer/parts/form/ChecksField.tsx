import { type ChoicesFieldProps, ChoicesFrame } from "./ChoicesFrame.tsx";

/** Any number of a few values: check boxes under a question. Its value names those checked, in their order, by spaces. */
export function ChecksField({ value, onChange, ...frame }: ChoicesFieldProps) {
  const checked = new Set(value.split(" "));
  const turned = (turn: string): string =>
    frame.choices
      .map((choice) => choice.value)
      .filter((one) => checked.has(one) !== (one === turn))
      .join(" ");
  return (
    <ChoicesFrame
      {...frame}
      input={(one) => ({
        type: "checkbox",
        checked: checked.has(one),
        onChange: () => onChange(turned(one)),
      })}
    />
  );
}
