import { type RefObject, useEffect } from "react";
import type { GridStore } from "./grid-store.ts";

/** How often a drag beyond an edge goes on by a row, ms; further away it goes on by more. */
const STEP_MS = 50;
const PX_A_ROW_MORE = 40;

/** A drag that leaves the rows at their upper or lower edge goes on selecting, and the rows scroll along. */
export function useDragScroll(
  store: GridStore,
  scroller: RefObject<HTMLElement | null>,
  headHeight: number,
): void {
  useEffect(() => {
    const box = scroller.current;
    if (!box) return undefined;
    let timer: ReturnType<typeof setInterval> | undefined;
    let y = 0;
    const move = (event: MouseEvent): void => {
      y = event.clientY;
      if (event.buttons !== 1) stop();
    };
    const goOn = (): void => {
      const { top, bottom } = box.getBoundingClientRect();
      const above = top + headHeight - y;
      const beyond = Math.max(above, y - bottom);
      if (beyond <= 0 || store.state().editing !== null) return;
      const by = above > 0 ? "up" : "down";
      for (let rows = 1 + Math.floor(beyond / PX_A_ROW_MORE); rows > 0; rows -= 1) {
        store.dispatch({ type: "extend", by });
      }
    };
    const stop = (): void => {
      clearInterval(timer);
      timer = undefined;
      document.removeEventListener("mousemove", move);
      document.removeEventListener("mouseup", stop);
    };
    const press = (event: MouseEvent): void => {
      const isOnRow = event.target instanceof Element && event.target.closest("[data-row]") !== null;
      if (event.button !== 0 || !isOnRow || timer !== undefined) return;
      y = event.clientY;
      timer = setInterval(goOn, STEP_MS);
      document.addEventListener("mousemove", move);
      document.addEventListener("mouseup", stop);
    };
    box.addEventListener("mousedown", press);
    return () => {
      box.removeEventListener("mousedown", press);
      stop();
    };
  }, [store, scroller, headHeight]);
}
