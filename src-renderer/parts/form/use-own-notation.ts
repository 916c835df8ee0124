import { useState } from "react";
import { dateTyped, inOwnNotation, numberShown, shown } from "../../window/notation.ts";

const DATE = /^\d{4}-\d\d-\d\d$/;

export interface TypedValue {
  readonly value: string;
  readonly onChange: (typed: string) => void;
}

/**
 * A field of a number or a date in the person's notation: what comes from a record is shown so, what is typed into the
 * field stands as it was typed. A date is passed on as the record keeps it, a number as typed: both marks are read.
 */
export function useOwnNotation(
  kind: "text" | "number" | "date" | "choice",
  { value, onChange }: TypedValue,
): TypedValue {
  const [typed, setTyped] = useState<string | null>(null);
  if (!inOwnNotation() || (kind !== "number" && kind !== "date")) return { value, onChange };
  const isNumber = kind === "number";
  return {
    value: isNumber
      ? typed === value
        ? value
        : numberShown(value)
      : DATE.test(value)
        ? shown(value)
        : value,
    onChange: (text) => {
      const told = isNumber ? text : dateTyped(text);
      setTyped(isNumber ? text : null);
      onChange(told);
    },
  };
}
