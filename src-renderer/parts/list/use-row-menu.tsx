import { type MouseEvent, type ReactNode, useState } from "react";
import { flushSync } from "react-dom";
import { ActMenu, isMenuKey, type MenuAct, type MenuPlace } from "../menu/ActMenu.tsx";

interface Opened {
  readonly opener: HTMLElement;
  readonly at: MenuPlace;
}

/** The menu of a row of a list: its acts with their letters, opened on one of its buttons or anywhere in its line. */
export function useRowMenu(menuOf: (row: number) => { label: string; acts: readonly MenuAct[] } | null): {
  readonly takesMenuKey: (
    event: { readonly key: string; readonly shiftKey: boolean },
    button: HTMLElement,
  ) => boolean;
  readonly onContextMenu: (event: MouseEvent) => void;
  readonly menu: ReactNode;
} {
  const [opened, setOpened] = useState<Opened | null>(null);
  const shown = opened ? menuOf(Number(opened.opener.dataset.act)) : null;
  return {
    takesMenuKey: (event, opener) => {
      if (!isMenuKey(event)) return false;
      const { left, bottom } = opener.getBoundingClientRect();
      setOpened({ opener, at: { x: left, y: bottom } });
      return true;
    },
    onContextMenu: (event) => {
      const line = event.target instanceof Element ? event.target.closest("tbody tr") : null;
      const opener = line?.querySelector<HTMLElement>("[data-act]");
      if (!opener) return;
      event.preventDefault();
      setOpened({ opener, at: { x: event.clientX, y: event.clientY } });
    },
    menu:
      opened && shown ? (
        <ActMenu
          label={shown.label}
          at={opened.at}
          groups={[shown.acts]}
          onClose={(focusBack) => {
            flushSync(() => setOpened(null));
            if (focusBack) opened.opener.focus();
          }}
        />
      ) : null,
  };
}
