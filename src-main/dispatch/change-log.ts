import type { ChangePoint } from "#core/contract/records/bench.ts";
import { TAGS, type Tag } from "#core/contract/tags.ts";

/** What has changed since the program started, for windows that did not do it themselves. */
export interface ChangeLog {
  note(tags: readonly Tag[]): void;
  /** Everything when `since` is of another run of the program. */
  since(since: ChangePoint | null): { readonly now: ChangePoint; readonly changed: Tag[] };
}

/** @param run names this run of the program */
export function createChangeLog(run: string): ChangeLog {
  let count = 0;
  const last = new Map<Tag, number>();
  return {
    note(tags) {
      if (tags.length > 0) count += 1;
      for (const tag of tags) last.set(tag, count);
    },
    since(since) {
      const known = since === null ? count : since.run === run ? since.count : -1;
      return { now: { run, count }, changed: TAGS.filter((tag) => (last.get(tag) ?? 0) > known) };
    },
  };
}
