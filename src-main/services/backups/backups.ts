import type { BackupFile } from "#core/contract/records/trail.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { listBackups, makeBackup } from "../../store/bench-file/backup.ts";
import { failureKind } from "../../store/bench-file/store-failure.ts";
import type { Deps } from "../write-context/deps.ts";

/** Backups asked for in this session, by request: a repetition must not make a second copy. */
const MOST_REMEMBERED = 100;

function unwritable(deps: Deps, error: unknown): unknown {
  const kind = failureKind(error);
  if (kind === null) return error;
  return new Refusal("file.unwritable", `The backup could not be written to ${deps.paths.backupFolder}.`, {
    hint: kind === "disk-full" ? "Make room on that disk." : "Check that the folder can be written.",
  });
}

export function backupServices(deps: Deps): HandlersOf<"backups.list" | "backups.make"> {
  const asked = new Map<string, Promise<BackupFile>>();
  return {
    "backups.list": () => listBackups(deps.paths.backupFolder),

    "backups.make": async ({ requestId }) => {
      const before = asked.get(requestId);
      if (before) return before;
      const making = makeBackup(
        deps.db,
        deps.paths.backupFolder,
        deps.clock.now(),
        "on request",
        deps.checkCopy,
      );
      asked.set(requestId, making);
      if (asked.size > MOST_REMEMBERED) asked.delete(asked.keys().next().value ?? "");
      try {
        return await making;
      } catch (error) {
        asked.delete(requestId);
        throw unwritable(deps, error);
      }
    },
  };
}
