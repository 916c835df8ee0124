import { UNFOLLOWED } from "../../long-work/following.ts";
import { condenseOlder, makeBackup } from "../../store/bench-file/backup.ts";
import { newestThat } from "../../store/bench-file/backup-list.ts";
import { noteHead } from "../records/trail-signing.ts";
import type { Deps } from "../write-context/deps.ts";

export interface DailyBackup {
  /** Called with every write: on the first of a day, copies the bench as earlier days left it. */
  atWrite(): Promise<void>;
  /** Called before closing: copies the day's work, when there was any. */
  atClose(): Promise<void>;
}

/** So long the program stays open at most to make older copies small: a person waits for it to close. */
const MOST_BEFORE_CLOSING_MS = 3_000;

/** Copies made without asking. A copy that fails becomes a notice and stops nobody; the next day tries again. */
export function createDailyBackup(
  deps: Pick<Deps, "snapshot" | "clock" | "paths" | "signer" | "changes" | "copyWork" | "background">,
  notice: (line: string) => void,
): DailyBackup {
  const { clock, paths } = deps;
  const day = (): string => clock.now().slice(0, 10);
  const newest = newestThat(paths.backupFolder, ({ why }) => why === "daily");
  // A bench that has no copy yet has no earlier days either.
  let copiedOn = newest ? newest.madeAt.slice(0, 10) : day();
  let written = false;

  async function copy(): Promise<string | null> {
    copiedOn = day();
    written = false;
    try {
      // Taken before the write that asked for it: a copy of the bench's own connection would take that write in.
      const { db, close } = deps.snapshot();
      try {
        const made = await makeBackup(db, paths.backupFolder, clock.now(), "daily", deps.copyWork);
        await noteHead(deps, db);
        return made.fileName;
      } finally {
        close();
        deps.changes.note(["backups"]);
      }
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      notice(`The daily backup could not be made (${why}). Make one under Records when that is mended.`);
      deps.changes.note(["notices"]);
      return null;
    }
  }

  /** Makes earlier copies small; what is stopped goes on with the next copy. */
  const condense = (made: string, signal: AbortSignal): Promise<void> =>
    condenseOlder(paths, made, deps.copyWork, { ...UNFOLLOWED, signal });

  return {
    async atWrite() {
      const made = copiedOn === day() ? null : await copy();
      if (made !== null) deps.background((closing) => condense(made, closing));
      written = true;
    },
    async atClose() {
      const made = written ? await copy() : null;
      if (made !== null) await condense(made, AbortSignal.timeout(MOST_BEFORE_CLOSING_MS));
    },
  };
}
