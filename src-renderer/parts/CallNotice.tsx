import type { CallError } from "#core/contract/reply.ts";
import { Button } from "./Button.tsx";
import styles from "./CallNotice.module.css";
import { Notice } from "./Notice.tsx";

export interface CallNoticeProps {
  readonly calls: readonly {
    readonly data: unknown;
    readonly error: CallError | undefined;
    readonly reload: () => void;
  }[];
  /** Words while the first answer is awaited. */
  readonly waiting: string;
}

/** Says that an answer is awaited, or why it was refused and how to ask again. */
export function CallNotice({ calls, waiting }: CallNoticeProps) {
  const refused = calls.find((call) => call.error);
  if (refused?.error) {
    return (
      <Notice kind="fault" live title={refused.error.message} hint={refused.error.hint}>
        <p>
          <Button onClick={refused.reload}>Ask again</Button>
        </p>
      </Notice>
    );
  }
  return calls.some((call) => call.data === undefined) ? (
    <p className={styles.waiting} role="status">
      {waiting}
    </p>
  ) : null;
}
