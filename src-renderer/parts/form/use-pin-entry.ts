import { useState } from "react";

export interface PinEntry {
  readonly field: { readonly value: string; readonly onChange: (value: string) => void };
  /** The PIN as typed; the field is empty from then on, so that it is typed anew after a refusal. */
  readonly take: () => string;
}

/** A PIN outside the values of a form, which are kept over reloads. */
export function usePinEntry(): PinEntry {
  const [value, setValue] = useState("");
  return {
    field: { value, onChange: setValue },
    take: () => {
      setValue("");
      return value;
    },
  };
}
