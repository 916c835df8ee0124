import { type KeyboardEvent, type Ref, useRef, useState } from "react";

export interface RovingProps {
  readonly ref: Ref<HTMLButtonElement>;
  readonly tabIndex: 0 | -1;
  readonly onFocus: () => void;
  readonly onKeyDown: (event: KeyboardEvent) => void;
}

const STEPS: Readonly<Record<string, (at: number, count: number) => number>> = {
  ArrowDown: (at) => at + 1,
  ArrowUp: (at) => at - 1,
  PageDown: (at, count) => Math.min(at + 10, count - 1),
  PageUp: (at) => Math.max(at - 10, 0),
  Home: () => 0,
  End: (_at, count) => count - 1,
};

/** One tab stop for the buttons of a long list; arrow keys step from one to the next (WAI-ARIA roving tabindex). */
export function useRoving(count: number): (index: number) => RovingProps {
  const [current, setCurrent] = useState(0);
  const buttons = useRef(new Map<number, HTMLButtonElement>());
  const stop = Math.min(current, Math.max(0, count - 1));
  return (index) => ({
    ref: (element) => {
      if (element) buttons.current.set(index, element);
      else buttons.current.delete(index);
    },
    tabIndex: index === stop ? 0 : -1,
    onFocus: () => setCurrent(index),
    onKeyDown: (event) => {
      const next = buttons.current.get(STEPS[event.key]?.(index, count) ?? -1);
      if (!next) return;
      event.preventDefault();
      next.focus();
    },
  });
}
