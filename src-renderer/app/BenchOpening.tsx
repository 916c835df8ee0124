import { useEffect, useState } from "react";
import type { WorkProgress } from "#core/contract/records/work.ts";
import { useClient } from "../bridge/bridge-context.tsx";
import { Notice } from "../parts/Notice.tsx";
import styles from "./BenchOpening.module.css";

const ASK_EVERY_MS = 500;

/** What opening is at, asked again and again while it lasts; undefined before the first answer. */
function useOpening(): WorkProgress | null | undefined {
  const client = useClient();
  const [progress, setProgress] = useState<WorkProgress | null>();
  useEffect(() => {
    let asking = true;
    const ask = async (): Promise<void> => {
      const reply = await client("bench.opening", {});
      if (asking && reply.ok) setProgress(reply.value);
    };
    const timer = setInterval(() => void ask(), ASK_EVERY_MS);
    return () => {
      asking = false;
      clearInterval(timer);
    };
  }, [client]);
  return progress;
}

/** Shown until the bench has answered for the first time: a bench of an older version may take minutes to open. */
export function BenchOpening() {
  const progress = useOpening();
  if (progress === undefined) return null;
  if (progress === null) return <p role="status">Opening the bench …</p>;
  const { part, done, parts } = progress;
  const share = parts > 0 && done > 0 ? `, ${Math.floor((100 * done) / parts)} %` : " …";
  return (
    <Notice
      live
      title="This bench is of an older version and is brought up to this one."
      hint="A large bench takes some minutes. It is backed up first, and until all is done it stays as it was, also if the program is ended."
    >
      <p className={styles.part}>
        {part}
        {/* Said by the bar; read aloud twice a second it would drown what is done now. */}
        <span aria-hidden="true">{share}</span>
      </p>
      <progress
        className={styles.progress}
        {...(parts > 0 && done > 0 ? { value: done, max: parts } : {})}
        aria-label="Bringing the bench up to this version"
      />
    </Notice>
  );
}
