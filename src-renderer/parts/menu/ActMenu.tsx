import { type KeyboardEvent, useLayoutEffect, useRef } from "react";
import { KeyLayer } from "../../window/use-command.tsx";
import { KeyHint } from "../KeyHint.tsx";
import styles from "./ActMenu.module.css";

/** One act of a menu, with the key that does it without the menu. */
export interface MenuAct {
  readonly words: string;
  /** As people read it: `Ctrl+Enter`. */
  readonly keys: string;
  readonly run: () => void;
  /** It can't be done here; it is shown all the same, so that the menu keeps its order. */
  readonly disabled?: boolean;
}

/** Where a menu is opened, CSS px from the corner of the window. */
export interface MenuPlace {
  readonly x: number;
  readonly y: number;
}

export interface ActMenuProps {
  /** What the acts are done with: “Row 12”. */
  readonly label: string;
  readonly at: MenuPlace;
  /** Acts that belong together stand between two lines. */
  readonly groups: readonly (readonly MenuAct[])[];
  /** True: by Escape, Tab or an act, so that the focus goes back to where the menu was opened. */
  readonly onClose: (focusBack: boolean) => void;
}

/** True for the two keys that open a menu. */
export function isMenuKey({ key, shiftKey }: Pick<KeyboardEvent, "key" | "shiftKey">): boolean {
  return key === "ContextMenu" || (key === "F10" && shiftKey);
}

const MARGIN = 4;

/**
 * A menu of acts by the menu pattern of the WAI-ARIA Authoring Practices (w3c/aria-practices, menu pattern): arrows and
 * letters go from act to act, Enter does one, Escape gives the focus back.
 */
export function ActMenu({ label, at, groups, onClose }: ActMenuProps) {
  const list = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const menu = list.current;
    if (!menu) return;
    menu.showPopover();
    const { width, height } = menu.getBoundingClientRect();
    menu.style.left = `${Math.max(MARGIN, Math.min(at.x, window.innerWidth - width - MARGIN))}px`;
    menu.style.top = `${Math.max(MARGIN, Math.min(at.y, window.innerHeight - height - MARGIN))}px`;
    itemsOf(menu)[0]?.focus();
  }, [at]);
  const choose = (act: MenuAct): void => {
    if (act.disabled) return;
    onClose(true);
    act.run();
  };
  const answerKey = (event: KeyboardEvent<HTMLElement>): void => {
    // No key goes on to what lies under the menu.
    event.stopPropagation();
    event.preventDefault();
    const items = itemsOf(event.currentTarget);
    const current = items.indexOf(document.activeElement as HTMLElement);
    if (event.key === "Escape" || event.key === "Tab" || isMenuKey(event)) onClose(true);
    else if (event.key === "Enter" || event.key === " ") items[current]?.click();
    else nextItem(event.key, items, current)?.focus();
  };
  return (
    <KeyLayer>
      <div
        ref={list}
        role="menu"
        tabIndex={-1}
        popover="manual"
        aria-label={label}
        className={styles.menu}
        onKeyDown={answerKey}
        onContextMenu={(event) => event.preventDefault()}
        onBlur={({ currentTarget, relatedTarget }) => {
          if (!currentTarget.contains(relatedTarget)) onClose(false);
        }}
      >
        {groups.map((acts) => (
          // biome-ignore lint/a11y/useSemanticElements: a group of a menu
          <div key={acts[0]?.words} role="group" className={styles.group}>
            {acts.map((act) => (
              // biome-ignore lint/a11y/useKeyWithClickEvents: the menu hears the keys of its acts
              <div
                key={act.words}
                role="menuitem"
                tabIndex={-1}
                aria-disabled={act.disabled || undefined}
                className={styles.act}
                onMouseMove={({ currentTarget }) => currentTarget.focus()}
                onClick={() => choose(act)}
              >
                <span>{act.words}</span>
                <KeyHint chord={act.keys} />
              </div>
            ))}
          </div>
        ))}
      </div>
    </KeyLayer>
  );
}

const itemsOf = (menu: Element): readonly HTMLElement[] => [
  ...menu.querySelectorAll<HTMLElement>("[role=menuitem]"),
];

function nextItem(key: string, items: readonly HTMLElement[], current: number): HTMLElement | undefined {
  if (key === "ArrowDown") return items[(current + 1) % items.length];
  if (key === "ArrowUp") return items.at(current - 1);
  if (key === "Home") return items[0];
  if (key === "End") return items.at(-1);
  if (key.length !== 1) return undefined;
  const begins = ({ textContent }: HTMLElement): boolean =>
    textContent?.toLowerCase().startsWith(key.toLowerCase()) ?? false;
  return items.slice(current + 1).find(begins) ?? items.find(begins);
}
