import type { WorkProgress } from "#core/contract/records/work.ts";
import { UNFOLLOWED } from "../../long-work/following.ts";
import { type CopyWork, urgent } from "../../ports/copy-work.ts";
import { condenseOlder, makeBackup } from "../../store/bench-file/backup.ts";
import { newestThat } from "../../store/bench-file/backup-list.ts";
import { noteHead } from "../records/trail-signing.ts";
import type { Deps } from "../write-context/deps.ts";

export interface DailyBackup {
  /**
   * Called with every write: on the first of a day, copies the bench as earlier days left it. @returns what the write
   * waits for, so that the copy does not hold it; null: nothing
   */
  atWrite(): Promise<void> | null;
  /** Called before closing: copies the day's work, when there was any. */
  atClose(): Promise<void>;
}

/** So long the first write of a day waits at most for its copy to begin: no copy may hold an entry up. */
const MOST_BEFORE_WRITING_MS = 3_000;

/** So long the program stays open at most to make older copies small: a person waits for it to close. */
const MOST_BEFORE_CLOSING_MS = 3_000;

/** Copies made without asking. A copy that fails becomes a notice and stops nobody; the next day tries again. */
export function createDailyBackup(
  deps: Pick<Deps, "db" | "clock" | "paths" | "signer" | "changes" | "copyWork" | "background">,
  notice: (line: string) => void,
): DailyBackup {
  const { db, clock, paths } = deps;
  const day = (): string => clock.now().slice(0, 10);
  const newest = newestThat(paths.backupFolder, ({ why }) => why === "daily");
  // A bench that has no copy yet has no earlier days either.
  let copiedOn = newest ? newest.madeAt.slice(0, 10) : day();
  let written = false;
  let beginning: Promise<void> | null = null;

  /** @param begun told once what is written from now on is not in the copy; and when it fails */
  async function copy(work: CopyWork, begun: () => void = () => undefined): Promise<string | null> {
    copiedOn = day();
    written = false;
    try {
      const tell = ({ done, parts }: WorkProgress): void => {
        if (done > 0 || parts === 0) begun();
      };
      const following = { ...UNFOLLOWED, tell };
      const made = await makeBackup(db, paths.backupFolder, clock.now(), "daily", work, following);
      await noteHead(deps, db);
      return made.fileName;
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      notice(`The daily backup could not be made (${why}). Make one under Records when that is mended.`);
      deps.changes.note(["notices"]);
      return null;
    } finally {
      begun();
      deps.changes.note(["backups"]);
    }
  }

  /** Makes earlier copies small; what is stopped goes on with the next copy. */
  const condense = (made: string, signal: AbortSignal): Promise<void> =>
    condenseOlder(paths, made, deps.copyWork, { ...UNFOLLOWED, signal });

  return {
    atWrite() {
      if (copiedOn !== day()) {
        const { promise, resolve } = Promise.withResolvers<void>();
        const late = setTimeout(resolve, MOST_BEFORE_WRITING_MS);
        beginning = promise.then(() => {
          clearTimeout(late);
          beginning = null;
        });
        deps.background(async (closing) => {
          const made = await copy(deps.copyWork, resolve);
          if (made !== null) await condense(made, closing);
        });
      }
      written = true;
      return beginning;
    },
    async atClose() {
      const made = written ? await copy(urgent(deps.copyWork)) : null;
      if (made !== null) await condense(made, AbortSignal.timeout(MOST_BEFORE_CLOSING_MS));
    },
  };
}
