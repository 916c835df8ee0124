import { type RefObject, useLayoutEffect, useRef, useState } from "react";

/** Width of an element in CSS pixels, kept up to date; `first` until it is measured. */
export function useWidth<E extends HTMLElement>(first: number): readonly [RefObject<E | null>, number] {
  const element = useRef<E>(null);
  const [width, setWidth] = useState(first);
  useLayoutEffect(() => {
    const node = element.current;
    if (!node || typeof ResizeObserver === "undefined") return;
    const measure = (): void => setWidth(Math.max(320, Math.round(node.clientWidth)));
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(node);
    return () => observer.disconnect();
  }, []);
  return [element, width];
}
