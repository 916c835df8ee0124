import { defaultRangeExtractor, type Range, useVirtualizer } from "@tanstack/react-virtual";
import { type RefObject, useCallback, useEffect, useLayoutEffect } from "react";
import { useLivePart } from "../live/use-live-part.ts";
import { rowCount } from "./grid-state.ts";
import type { GridStore } from "./grid-store.ts";

/** How close the rows stand. */
export type GridDensity = "normal" | "compact";

interface GridHeights {
  readonly row: number;
  /** Both heading rows with their line. */
  readonly head: number;
}

/** Fixed heights, so that nothing is measured: px. */
export const GRID_HEIGHTS: Readonly<Record<GridDensity, GridHeights>> = {
  normal: { row: 34, head: 56 },
  compact: { row: 26, head: 46 },
};

const countRows = rowCount;

/**
 * The virtualiser goes through all its items whenever their number changes. It is told a number rounded up, so that a
 * new row of a long sheet costs no more than one of a short sheet; rows beyond the real number are left out below.
 */
const COUNT_STEP = 1024;

/**
 * The rows on screen. The row of the cursor is always among them: while it is mounted it has the focus, so no key is
 * lost when it has been scrolled away.
 */
export function useRowWindow(
  store: GridStore,
  scroller: RefObject<HTMLElement | null>,
  { row: rowHeight, head: headHeight }: GridHeights,
) {
  "use no memo";
  const count = useLivePart(store, countRows);
  const active = useLivePart(
    store,
    useCallback((state) => state.cursor.row, []),
  );
  const rangeExtractor = useCallback(
    (range: Range): number[] => {
      const rows = defaultRangeExtractor(range).filter((row) => row < count);
      if (active >= count || rows.includes(active)) return rows;
      return [...rows, active].sort((a, b) => a - b);
    },
    [active, count],
  );
  const window = useVirtualizer({
    count: Math.ceil(count / COUNT_STEP) * COUNT_STEP,
    getScrollElement: () => scroller.current,
    estimateSize: () => rowHeight,
    overscan: 6,
    scrollMargin: headHeight,
    rangeExtractor,
    useFlushSync: false,
  });

  const first = Math.min(window.range?.startIndex ?? 0, count - 1);
  const last = Math.min(window.range?.endIndex ?? 0, count - 1);
  useEffect(() => {
    const step = Math.max(1, last - first - 1);
    store.dispatch({ type: "viewport", first, last, step });
  }, [store, first, last]);

  /** Scrolls as little as needed to bring a row into sight. */
  const reveal = useCallback(
    (row: number) => {
      const box = scroller.current;
      if (!box) return;
      const top = row * rowHeight;
      const seen = box.clientHeight - headHeight;
      if (top < box.scrollTop) box.scrollTop = top;
      else if (top + rowHeight > box.scrollTop + seen) box.scrollTop = top + rowHeight - seen;
    },
    [scroller, rowHeight, headHeight],
  );
  useKeptInSight(scroller, store, reveal, { row: rowHeight, head: headHeight });
  // `count` too: a row that has just been added is only then there to scroll to.
  // biome-ignore lint/correctness/useExhaustiveDependencies: see above
  useLayoutEffect(() => reveal(active), [reveal, active, count]);

  return { rows: window.getVirtualItems(), height: count * rowHeight, count, reveal };
}

/** When the grid becomes lower, the row of the cursor stays in sight if it was; whoever looks elsewhere stays there. */
function useKeptInSight(
  scroller: RefObject<HTMLElement | null>,
  store: GridStore,
  reveal: (row: number) => void,
  { row: rowHeight, head: headHeight }: GridHeights,
): void {
  useEffect(() => {
    const box = scroller.current;
    if (!box) return undefined;
    let height = box.clientHeight;
    const observer = new ResizeObserver(() => {
      const { row } = store.state().cursor;
      const bottom = (row + 1) * rowHeight - box.scrollTop;
      const wasSeen = bottom > 0 && bottom <= height - headHeight + 1;
      height = box.clientHeight;
      if (wasSeen) reveal(row);
    });
    observer.observe(box);
    return () => observer.disconnect();
  }, [scroller, store, reveal, rowHeight, headHeight]);
}
