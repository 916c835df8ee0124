import { type ReactNode, useEffect, useRef } from "react";
import { useWindowTitle } from "../../window/use-window-title.ts";
import styles from "./ScreenFrame.module.css";

export interface ScreenFrameProps {
  readonly title: string;
  readonly lead?: ReactNode;
  /** The lead stands beside the title: where the height is needed for work. */
  readonly leadBeside?: boolean;
  readonly actions?: ReactNode;
  /** Parts of the screen, as `PartTabs`. */
  readonly tabs?: ReactNode;
  readonly children: ReactNode;
}

/** A whole screen: its name, what can be done at its head, its content. */
export function ScreenFrame({ title, lead, leadBeside = false, actions, tabs, children }: ScreenFrameProps) {
  const heading = useRef<HTMLHeadingElement>(null);
  useWindowTitle(title);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another title is another screen
  useEffect(() => {
    // A field of the screen that asked for the focus keeps it.
    const main = heading.current?.closest("main");
    if (!main?.contains(document.activeElement) || document.activeElement === main) heading.current?.focus();
  }, [title]);
  return (
    <div className={styles.screen}>
      <header className={styles.head}>
        <div className={leadBeside ? styles.oneLine : undefined}>
          <h1 ref={heading} tabIndex={-1}>
            {title}
          </h1>
          {lead ? <p className={styles.lead}>{lead}</p> : null}
        </div>
        {tabs}
        {actions ? <div className={styles.actions}>{actions}</div> : null}
      </header>
      {children}
    </div>
  );
}
