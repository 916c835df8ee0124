import { useLayoutEffect, useRef } from "react";

const typesHere = (target: EventTarget | null): boolean =>
  target instanceof HTMLInputElement || target instanceof HTMLTextAreaElement;

/**
 * Digits typed while numbered choices are still being read answer them as soon as they are drawn and have the focus: who
 * knows the numbers by heart does not wait for the list.
 */
export function useDigitsAhead(isWaiting: boolean): void {
  const kept = useRef<string[]>([]);
  useLayoutEffect(() => {
    if (!isWaiting) {
      for (const key of kept.current.splice(0)) {
        const init = { key, bubbles: true, cancelable: true };
        document.activeElement?.dispatchEvent(new KeyboardEvent("keydown", init));
      }
      return undefined;
    }
    const keep = ({ key, ctrlKey, altKey, metaKey, target }: KeyboardEvent): void => {
      if (/^[1-9]$/.test(key) && !ctrlKey && !altKey && !metaKey && !typesHere(target))
        kept.current.push(key);
    };
    document.addEventListener("keydown", keep);
    return () => document.removeEventListener("keydown", keep);
  }, [isWaiting]);
}
