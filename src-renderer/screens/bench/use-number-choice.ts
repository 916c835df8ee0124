import { type RefObject, useEffect, useRef } from "react";
import type { Location } from "../../window/location.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import { useCommand } from "../../window/use-command.tsx";

/**
 * Lets the number keys start the things of a list. The keys work while the focus is in the screen that holds the
 * list, so that a digit typed elsewhere is never taken (WCAG 2.2, 2.1.4); the list takes the focus when it appears.
 */
export function useNumberChoice(
  places: readonly Location[],
  first: number,
): RefObject<HTMLOListElement | null> {
  const list = useRef<HTMLOListElement>(null);
  const navigation = useNavigation();
  useCommand("bench.choose", (chord) => {
    const focus = document.activeElement;
    const main = list.current?.closest("main");
    if (focus !== document.body && !main?.contains(focus)) return false;
    const place = places[Number(chord) - 1];
    if (!place) return false;
    navigation.go(place);
    return true;
  });
  const given = useRef<Element | null>(null);
  useEffect(() => {
    const focus = document.activeElement;
    // The focus follows the first job while nobody has moved it.
    if (focus !== document.body && focus?.tagName !== "H1" && focus !== given.current) return;
    const button = list.current?.querySelectorAll("button")[first] ?? null;
    button?.focus({ preventScroll: true });
    given.current = button;
  }, [first]);
  return list;
}
