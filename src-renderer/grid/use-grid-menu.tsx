import { type MouseEvent, type ReactNode, type RefObject, useCallback, useRef, useState } from "react";
import { flushSync } from "react-dom";
import { ActMenu, isMenuKey, type MenuAct, type MenuPlace } from "../parts/menu/ActMenu.tsx";
import type { GridState } from "./grid-state.ts";
import type { GridStore } from "./grid-store.ts";
import type { KeyFacts } from "./key-facts.ts";

/** The acts of the cell of the cursor; `press` does what a key does in the grid. */
export type GridActs = (
  state: GridState,
  press: (key: Partial<KeyFacts> & Pick<KeyFacts, "key">) => void,
) => readonly (readonly MenuAct[])[];

export interface GridMenuUse {
  readonly store: GridStore;
  readonly scroller: RefObject<HTMLElement | null>;
  readonly acts: GridActs | undefined;
  readonly focusActive: () => void;
  readonly press: (facts: KeyFacts) => void;
}

const NOTHING_HELD: KeyFacts = {
  key: "",
  code: "",
  ctrl: false,
  alt: false,
  shift: false,
  meta: false,
  numLock: true,
  composing: false,
};

/**
 * A menu of what can be done at the cursor. It stands beside the grid, so that an open editor stays open behind it; every
 * act of it is a key of the grid or a command.
 */
export function useGridMenu({ store, scroller, acts, focusActive, press }: GridMenuUse): {
  readonly takesMenuKey: (facts: KeyFacts) => boolean;
  readonly onContextMenu: (event: MouseEvent) => void;
  readonly menu: ReactNode;
} {
  const [at, setAt] = useState<MenuPlace | null>(null);
  const latest = useRef(press);
  latest.current = press;
  const takesMenuKey = useCallback(
    ({ key, shift }: KeyFacts): boolean => {
      const cell = scroller.current?.querySelector("[data-active-cell]")?.getBoundingClientRect();
      if (!acts || !cell || !isMenuKey({ key, shiftKey: shift })) return false;
      setAt({ x: cell.left, y: cell.bottom });
      return true;
    },
    [acts, scroller],
  );
  const onContextMenu = (event: MouseEvent): void => {
    // In an open editor the pointer's menu is that of the text.
    if (!acts || event.target instanceof HTMLInputElement) return;
    event.preventDefault();
    setAt({ x: event.clientX, y: event.clientY });
  };
  const close = (focusBack: boolean): void => {
    flushSync(() => setAt(null));
    if (focusBack) focusActive();
  };
  const menu =
    at && acts ? (
      <ActMenu
        label={`Row ${store.state().cursor.row + 1}`}
        at={at}
        groups={acts(store.state(), (key) => latest.current({ ...NOTHING_HELD, ...key }))}
        onClose={close}
      />
    ) : null;
  return { takesMenuKey, onContextMenu, menu };
}
