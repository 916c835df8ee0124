import {
  type CSSProperties,
  type FocusEvent,
  type KeyboardEvent,
  useCallback,
  useLayoutEffect,
  useRef,
} from "react";
import { flushSync } from "react-dom";
import { dragOverCell, pressOnCell } from "./cell-mouse.ts";
import type { ColumnLayout, ColumnWidths } from "./column-widths.ts";
import styles from "./EntryGrid.module.css";
import { EntryRow } from "./EntryRow.tsx";
import { GridHead } from "./GridHead.tsx";
import { answerKey } from "./grid-keys.ts";
import type { GridModel } from "./grid-model.ts";
import type { GridStore } from "./grid-store.ts";
import { type KeyFacts, keyFacts } from "./key-facts.ts";
import { useCellFocus } from "./use-cell-focus.ts";
import { useColumnWidths } from "./use-column-widths.ts";
import { useDragScroll } from "./use-drag-scroll.ts";
import { type GridActs, useGridMenu } from "./use-grid-menu.tsx";
import { GRID_HEIGHTS, type GridDensity, useRowWindow } from "./use-row-window.ts";

/** The entry grid: roles and keys of the WAI-ARIA data grid, rows drawn as they come into sight. */
export function EntryGrid({
  store,
  model,
  widths,
  onWidth,
  takesKey,
  acts,
  density = "normal",
}: {
  store: GridStore;
  model: GridModel;
  widths: ColumnWidths;
  /** A column was made wider or narrower, rem; null: it is to have its usual width. */
  onWidth: (key: string, width: number | null) => void;
  /** Asked before the grid; true: the key was an answer to something else and ends there. */
  takesKey?: (facts: KeyFacts) => boolean;
  /** What the menu of a cell offers; without it there is none. */
  acts?: GridActs;
  /** Another density needs another grid: give it a key of its own. */
  density?: GridDensity;
}) {
  const scroller = useRef<HTMLDivElement>(null);
  const heights = GRID_HEIGHTS[density];
  const { rows, height, count, reveal } = useRowWindow(store, scroller, heights);
  const focusActive = useCellFocus(store, scroller);
  const { layout, takesWidthKey, said } = useColumnWidths(store, model, { widths, onWidth });

  /** @returns true: the key ends here */
  const pressed = useCallback(
    (facts: KeyFacts): boolean => {
      if (takesKey?.(facts) || takesWidthKey(facts)) return true;
      const answer = answerKey(store.state(), facts);
      if (!answer) return false;
      const { action } = answer;
      // Drawn at once where the same key is to land in the editor that the action opens.
      if (action && (answer.native || answer.insert)) flushSync(() => store.dispatch(action));
      else if (action) store.dispatch(action);
      reveal(store.state().cursor.row);
      if (answer.insert) insertText(answer.insert);
      return !answer.native;
    },
    [store, reveal, takesKey, takesWidthKey],
  );
  const { takesMenuKey, onContextMenu, menu } = useGridMenu({
    store,
    scroller,
    acts,
    focusActive,
    press: pressed,
  });
  const press = useCallback(
    (event: globalThis.KeyboardEvent): void => {
      const facts = keyFacts(event);
      if (takesMenuKey(facts) || pressed(facts)) event.preventDefault();
    },
    [takesMenuKey, pressed],
  );
  useStrayKeys(press, focusActive);
  useDragScroll(store, scroller, heights.head);

  return (
    <>
      <div
        ref={scroller}
        className={styles.scroller}
        style={gridStyle(layout, heights)}
        data-density={density}
      >
        <table
          // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: its keys are those of a grid
          role="grid"
          aria-label={model.label}
          aria-rowcount={count + 2}
          aria-colcount={model.columns.length}
          aria-multiselectable
          className={styles.grid}
          style={{ minInlineSize: `${layout.total}rem`, blockSize: heights.head + height }}
          onKeyDown={(event: KeyboardEvent) => press(event.nativeEvent)}
          onMouseDown={(event) => pressOnCell(event, store, focusActive)}
          onMouseMove={(event) => dragOverCell(event, store)}
          onContextMenu={onContextMenu}
          onDoubleClick={() => store.dispatch({ type: "open" })}
          onBlur={(event) => leaveGrid(event, store)}
        >
          <GridHead model={model} widths={widths} onWidth={onWidth} />
          <tbody className={styles.rows}>
            {rows.map((row) => (
              <EntryRow
                key={row.index}
                store={store}
                model={model}
                index={row.index}
                top={row.start - heights.head}
              />
            ))}
          </tbody>
        </table>
        <p aria-live="polite" className={styles.hidden}>
          {said}
        </p>
      </div>
      {menu}
    </>
  );
}

/** Where columns and rows stand is said once, for headings and rows alike: a width that changes draws no row again. */
function gridStyle(
  { template, first, second }: ColumnLayout,
  { row, head }: { readonly row: number; readonly head: number },
): CSSProperties {
  return {
    "--columns": template,
    "--first": `${first}rem`,
    "--second": `${second}rem`,
    "--row": `${row}px`,
    "--head": `${head}px`,
  } as CSSProperties;
}

function insertText(text: string): void {
  const editor = document.activeElement;
  if (!(editor instanceof HTMLInputElement)) return;
  const { selectionStart, selectionEnd, value } = editor;
  editor.setRangeText(text, selectionStart ?? value.length, selectionEnd ?? value.length, "end");
  editor.dispatchEvent(new InputEvent("input", { bubbles: true, inputType: "insertText", data: text }));
}

/** Elements that have a use for keys of their own. */
const TAKES_KEYS = "input, textarea, select, button, a[href], summary, dialog, dialog *, [contenteditable]";

/** Text stays half-typed when the focus goes to another control; a click beside it all leaves the editor open. */
function leaveGrid({ currentTarget }: FocusEvent, store: GridStore): void {
  const turretBefore = store.state().turret;
  setTimeout(() => {
    const holder = document.activeElement;
    const isGone = holder?.matches(TAKES_KEYS) === true && !currentTarget.contains(holder);
    // The very press that took the focus away may have asked for a turret position.
    const isAsked = store.state().turret !== turretBefore;
    if (isGone && !isAsked && document.hasFocus()) store.dispatch({ type: "blurred" });
  }, 0);
}

/** A character that no control has asked for is the grid's, so that none is lost after a click beside it. */
function useStrayKeys(press: (event: globalThis.KeyboardEvent) => void, focusActive: () => void): void {
  // Before the grid is seen: the first key that somebody types at its sight counts.
  useLayoutEffect(() => {
    const onKeyDown = (event: globalThis.KeyboardEvent): void => {
      const { target, key } = event;
      const isCharacter = key.length === 1 || key === "Enter";
      if (!isCharacter || event.defaultPrevented || !(target instanceof Element)) return;
      if (
        target.matches(TAKES_KEYS) ||
        target.closest("[role=grid]") ||
        document.querySelector("dialog[open]")
      )
        return;
      focusActive();
      press(event);
    };
    document.addEventListener("keydown", onKeyDown);
    return () => document.removeEventListener("keydown", onKeyDown);
  }, [press, focusActive]);
}
