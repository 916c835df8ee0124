import type { ReactNode } from "react";
import styles from "./LiveStatus.module.css";
import { type MarkState, StateMark } from "./StateMark.tsx";

export interface LiveStatusProps {
  /** What was last said; a new serial says the same words again. */
  readonly remark: { readonly serial: number; readonly text: string; readonly isDone: boolean } | null;
  /** What the host has not stored yet. */
  readonly waiting: number;
  readonly hostLost: boolean;
  /** What is stored. */
  readonly stored: ReactNode;
  /** Said before it. */
  readonly toLookAt?: string | undefined;
  /** Beside the remark. */
  readonly act?: ReactNode;
  readonly children?: ReactNode;
}

/** The line of a record at work: what its keys last had to say, what is stored and what is not. */
export function LiveStatus({ remark, waiting, hostLost, stored, toLookAt, act, children }: LiveStatusProps) {
  const sign: MarkState = remark?.isDone ? "good" : "warn";
  return (
    <div className={styles.strip} data-alone={children === undefined || undefined}>
      <p className={styles.remark} data-done={remark?.isDone || undefined} role="status">
        {remark ? (
          <span key={remark.serial}>
            <StateMark state={sign} /> {remark.text}
          </span>
        ) : null}
      </p>
      {act}
      {hostLost ? (
        <p className={styles.lost} role="alert">
          <StateMark state="bad" /> The program does not answer. {waiting} not stored yet: nothing is lost, it
          is tried again.
        </p>
      ) : null}
      {children}
      <p className={styles.stored}>
        {toLookAt}
        <span>{waiting > 0 && !hostLost ? `${waiting} on the way · ` : ""}</span>
        {stored}
      </p>
    </div>
  );
}
