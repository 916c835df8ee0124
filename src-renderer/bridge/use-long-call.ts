import { useEffect, useRef, useState } from "react";
import type { WorkProgress } from "#core/contract/records/work.ts";
import { useClient } from "./bridge-context.tsx";
import { newRequestId } from "./request-id.ts";

const LOOK_EVERY_MS = 300;

export interface LongCall {
  readonly busy: boolean;
  /** Null before the first answer. */
  readonly progress: WorkProgress | null;
  /** Makes a call that takes long, under the request id it is followed by. */
  readonly run: <T>(ask: (requestId: string) => Promise<T>) => Promise<T>;
  readonly stop: () => void;
}

/** One long call at a time: how far it is, and the way to stop it. */
export function useLongCall(): LongCall {
  const client = useClient();
  const [requestId, setRequestId] = useState<string | null>(null);
  const [progress, setProgress] = useState<WorkProgress | null>(null);
  const latest = useRef<string | null>(null);
  useEffect(() => {
    if (requestId === null) return undefined;
    const look = async (): Promise<void> => {
      const now = await client("work.progress", { requestId });
      if (now.ok && latest.current === requestId) setProgress(now.value);
    };
    const timer = setInterval(() => void look(), LOOK_EVERY_MS);
    return () => clearInterval(timer);
  }, [client, requestId]);
  return {
    busy: requestId !== null,
    progress,
    async run(ask) {
      const id = newRequestId();
      latest.current = id;
      setProgress(null);
      setRequestId(id);
      try {
        return await ask(id);
      } finally {
        if (latest.current === id) setRequestId(null);
      }
    },
    stop() {
      if (requestId !== null) void client("work.stop", { requestId });
    },
  };
}
