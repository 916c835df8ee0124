import { useEffect } from "react";

/** Where a page wants the focus first: one element of it carries this. */
export const FIRST_FOCUS = "data-first-focus";
/** Longer than any page takes to come; typing after that is meant for something else, ms. */
const PATIENCE = 5_000;

/**
 * Gives the focus to the element that the page says, as soon as it is there, and puts into it what was typed while the page
 * was still coming. Never takes the focus from a control that somebody has gone to. `place` names the page.
 */
export function useFirstFocus(place: string): void {
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked anew at each place
  useEffect(() => {
    const main = document.getElementById("main");
    return main ? waitFor(main) : undefined;
  }, [place]);
}

function waitFor(main: HTMLElement): () => void {
  const keys: KeyboardEvent[] = [];
  /** What nobody has answered: a page without a field, as the pad of a count, takes its keys itself. */
  const typed = (): string =>
    keys
      .filter(({ defaultPrevented }) => !defaultPrevented)
      .map(({ key }) => key)
      .join("");
  /** Nothing that takes keys: the screen itself, or words that were given the focus for lack of a control. */
  const isFree = (focus: Element | null): boolean =>
    focus === null ||
    focus === document.body ||
    (focus.matches("[tabindex='-1']") && !focus.matches("button, input"));
  const onKeyDown = (event: KeyboardEvent): void => {
    const isPlain = event.key.length === 1 && !event.ctrlKey && !event.altKey && !event.metaKey;
    if (isPlain && isFree(document.activeElement)) keys.push(event);
  };
  const look = (): void => {
    const wanted = main.querySelector<HTMLElement>(`[${FIRST_FOCUS}]`);
    const focus = document.activeElement;
    if (wanted && (isFree(focus) || focus === wanted)) {
      wanted.focus({ preventScroll: focus === wanted });
      // A dialog was asked for: what was typed before was meant for the page.
      if (!wanted.closest("dialog")) typeInto(wanted, typed().trimStart());
      stop();
    } else if (!isFree(focus) && main.contains(focus)) stop();
  };
  const observer = new MutationObserver(look);
  const timer = setTimeout(stop, PATIENCE);
  function stop(): void {
    observer.disconnect();
    clearTimeout(timer);
    document.removeEventListener("keydown", onKeyDown);
    document.removeEventListener("pointerdown", stop, true);
  }
  document.addEventListener("keydown", onKeyDown);
  // Somebody who points has begun: what follows from it, as a choice that takes keys, keeps them.
  document.addEventListener("pointerdown", stop, true);
  observer.observe(main, { childList: true, subtree: true });
  look();
  return stop;
}

function typeInto(field: Element, text: string): void {
  if (text === "" || !(field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement)) return;
  const end = field.value.length;
  field.setRangeText(text, end, end, "end");
  field.dispatchEvent(new InputEvent("input", { bubbles: true, inputType: "insertText", data: text }));
}
