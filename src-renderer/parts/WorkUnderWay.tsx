import type { LongCall } from "../bridge/use-long-call.ts";
import { Button } from "./Button.tsx";
import { Notice } from "./Notice.tsx";
import styles from "./WorkUnderWay.module.css";

/** What is being done now and how far it is, with the way to stop it. `what`: the work, as `Verifying`. */
export function WorkUnderWay({
  what,
  work: { busy, progress, stop },
}: {
  what: string;
  work: Pick<LongCall, "busy" | "progress" | "stop">;
}) {
  if (!busy) return null;
  const { part, done, parts } = progress ?? { part: "", done: 0, parts: 0 };
  const doing = part === "" ? what : `${what}: ${part}`;
  return (
    <Notice
      title={parts > 0 ? `${doing}, ${Math.floor((100 * done) / parts)} %` : `${doing} …`}
      hint="Work can go on meanwhile."
    >
      <div className={styles.line}>
        <progress
          className={styles.progress}
          {...(parts > 0 ? { value: done, max: parts } : {})}
          aria-label={what}
        />
        <Button onClick={stop}>Stop</Button>
      </div>
    </Notice>
  );
}
