import type { workCalls } from "#core/contract/calls/work.ts";
import type { WorkProgress } from "#core/contract/records/work.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { Following } from "../../long-work/following.ts";

/** A stop can overtake the call it is meant for; so many are kept for calls that have not come yet. */
const MOST_EARLY_STOPS = 100;

interface Running {
  readonly stop: AbortController;
  progress: WorkProgress | null;
}

/** Long calls under way, each by its request id: followed and stopped by calls of their own. */
export interface LongCalls {
  /**
   * @param stopped what the person reads when it was stopped
   * @throws Refusal `work.stopped`, and whatever `work` throws
   */
  follow<T>(
    requestId: string | undefined,
    stopped: { readonly message: string; readonly hint: string },
    work: (following: Following) => Promise<T>,
  ): Promise<T>;
  readonly handlers: HandlersOf<keyof typeof workCalls>;
}

export function createLongCalls(): LongCalls {
  const running = new Map<string, Running>();
  const stoppedEarly = new Set<string>();
  return {
    async follow(requestId, { message, hint }, work) {
      const run: Running = { stop: new AbortController(), progress: null };
      if (requestId !== undefined) running.set(requestId, run);
      const { signal } = run.stop;
      if (requestId !== undefined && stoppedEarly.delete(requestId)) run.stop.abort();
      try {
        signal.throwIfAborted();
        return await work({
          signal,
          tell: (progress) => {
            run.progress = progress;
          },
        });
      } catch (error) {
        if (signal.aborted) throw new Refusal("work.stopped", message, { hint });
        throw error;
      } finally {
        if (requestId !== undefined) running.delete(requestId);
      }
    },
    handlers: {
      "work.progress": ({ requestId }) => running.get(requestId)?.progress ?? null,
      "work.stop": ({ requestId }) => {
        const run = running.get(requestId);
        if (run) run.stop.abort();
        else stoppedEarly.add(requestId);
        if (stoppedEarly.size > MOST_EARLY_STOPS) stoppedEarly.delete([...stoppedEarly][0] ?? "");
        return {};
      },
    },
  };
}
