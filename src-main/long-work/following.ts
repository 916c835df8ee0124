import type { WorkProgress } from "#core/contract/records/work.ts";

/** Who watches a long piece of work, and may stop it. */
export interface Following {
  readonly signal: AbortSignal;
  tell(progress: WorkProgress): void;
}

export const UNFOLLOWED: Following = { signal: new AbortController().signal, tell: () => undefined };
