import type { BackupFile } from "#core/contract/records/trail.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { condenseOlder, makeBackup } from "../../store/bench-file/backup.ts";
import { listBackups } from "../../store/bench-file/backup-list.ts";
import { failureKind } from "../../store/bench-file/store-failure.ts";
import { noteHead } from "../records/trail-signing.ts";
import type { Deps } from "../write-context/deps.ts";
import type { LongCalls } from "../write-context/long-calls.ts";

const STOPPED = {
  message: "The backup was stopped: no copy was kept.",
  hint: "The bench and the backups made before are as they were.",
};

/** Backups asked for in this session, by request: a repetition must not make a second copy. */
const MOST_REMEMBERED = 100;

function unwritable(deps: Deps, error: unknown): unknown {
  const kind = failureKind(error);
  if (kind === null) return error;
  return new Refusal("file.unwritable", `The backup could not be written to ${deps.paths.backupFolder}.`, {
    hint: kind === "disk-full" ? "Make room on that disk." : "Check that the folder can be written.",
  });
}

export function backupServices(deps: Deps, longCalls: LongCalls) {
  const asked = new Map<string, Promise<BackupFile>>();
  return handlers({
    "backups.list": () => listBackups(deps.paths.backupFolder),

    "backups.make": async ({ requestId }) => {
      const before = asked.get(requestId);
      if (before) return before;
      const { db, paths, clock, copyWork } = deps;
      const making = longCalls.follow(requestId, STOPPED, async (following) => {
        const folder = paths.backupFolder;
        const made = await makeBackup(db, folder, clock.now(), "on request", copyWork, following);
        await condenseOlder(paths, made.fileName, copyWork, following);
        return made;
      });
      asked.set(requestId, making);
      if (asked.size > MOST_REMEMBERED) asked.delete(asked.keys().next().value ?? "");
      try {
        const made = await making;
        await noteHead(deps, db);
        return made;
      } catch (error) {
        asked.delete(requestId);
        throw unwritable(deps, error);
      }
    },
  });
}
