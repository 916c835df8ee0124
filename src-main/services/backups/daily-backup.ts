import { makeBackup } from "../../store/bench-file/backup.ts";
import { newestThat } from "../../store/bench-file/backup-list.ts";
import { noteTrailHead } from "../../store/bench-file/trail-anchor.ts";
import { trailHeadOf } from "../../store/repositories/audit-trail.ts";
import type { Deps } from "../write-context/deps.ts";

export interface DailyBackup {
  /** Called with every write: on the first of a day, copies the bench as earlier days left it. */
  atWrite(): Promise<void>;
  /** Called before closing: copies the day's work, when there was any. */
  atClose(): Promise<void>;
}

/** Copies made without asking. A copy that fails becomes a notice and stops nobody; the next day tries again. */
export function createDailyBackup(
  deps: Pick<Deps, "snapshot" | "clock" | "paths" | "changes" | "copyWork">,
  notice: (line: string) => void,
): DailyBackup {
  const { clock, paths } = deps;
  const day = (): string => clock.now().slice(0, 10);
  const newest = newestThat(paths.backupFolder, ({ why }) => why === "daily");
  // A bench that has no copy yet has no earlier days either.
  let copiedOn = newest ? newest.madeAt.slice(0, 10) : day();
  let written = false;

  async function copy(): Promise<void> {
    copiedOn = day();
    written = false;
    try {
      // Taken before the write that asked for it: a copy of the bench's own connection would take that write in.
      const { db, close } = deps.snapshot();
      try {
        await makeBackup(db, paths.backupFolder, clock.now(), "daily", deps.copyWork);
        noteTrailHead(paths, trailHeadOf(db), clock.now());
      } finally {
        close();
      }
      deps.changes.note(["backups"]);
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      notice(`The daily backup could not be made (${why}). Make one under Records when that is mended.`);
      deps.changes.note(["notices"]);
    }
  }

  return {
    async atWrite() {
      if (copiedOn !== day()) await copy();
      written = true;
    },
    async atClose() {
      if (written) await copy();
    },
  };
}
