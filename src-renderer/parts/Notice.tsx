import type { ReactNode } from "react";
import { classNames } from "./layout/class-names.ts";
import styles from "./Notice.module.css";
import { StateMark } from "./StateMark.tsx";

export interface NoticeProps {
  readonly kind?: "note" | "done" | "care" | "fault";
  readonly title?: string;
  /** What to do next. */
  readonly hint?: string | undefined;
  /** Announces itself when it appears. */
  readonly live?: boolean;
  readonly children?: ReactNode;
}

const MARKS = { note: "none", done: "good", care: "warn", fault: "bad" } as const;

/** Something the person should know, with its sign, words and next step. */
export function Notice({ kind = "note", title, hint, live = false, children }: NoticeProps) {
  return (
    <div
      className={classNames(styles.notice, styles[kind])}
      role={live ? (kind === "fault" ? "alert" : "status") : undefined}
    >
      <StateMark state={MARKS[kind]} />
      <div className={styles.words}>
        {title ? <p className={styles.title}>{title}</p> : null}
        {children}
        {hint ? <p className={styles.hint}>{hint}</p> : null}
      </div>
    </div>
  );
}
