import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { stat } from "node:fs/promises";
import { basename } from "node:path";
import type { BackupCheck } from "#core/contract/calls/bench-files.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { Following } from "../../long-work/following.ts";
import { backupNow, checkBackup } from "../../store/bench-file/backup-check.ts";
import { backupFileName } from "../../store/bench-file/backup-file-name.ts";
import { BenchUnopenable } from "../../store/bench-file/bench-unopenable.ts";
import { writeHandOver } from "../../store/bench-file/hand-over.ts";
import { failureKind } from "../../store/bench-file/store-failure.ts";
import { listAttachments } from "../../store/repositories/attachment-repository.ts";
import { headOfTrail } from "../../store/repositories/audit-trail.ts";
import { requireContent } from "../equipment/attachments.ts";
import type { Deps } from "../write-context/deps.ts";
import { mapWriteErrors, placeFor } from "../write-context/export-place.ts";
import { requirePerson } from "../write-context/in-transaction.ts";
import type { LongCalls } from "../write-context/long-calls.ts";

const STOPPED = {
  message: "Looking inside was stopped.",
  hint: "The backup and the bench are as they were.",
};

async function sha256OfFile(path: string): Promise<string> {
  const hash = createHash("sha256");
  for await (const chunk of createReadStream(path)) hash.update(chunk as Buffer);
  return hash.digest("hex");
}

function unusable(fileName: string, why: string): Refusal {
  return new Refusal("backup.unusable", `The backup ${fileName} cannot be used: ${why}`, {
    field: "fileName",
    hint: "Choose another backup. The bench is as it was.",
  });
}

/** Opens a copy of the backup as this program would. @throws Refusal `backup.unknown`, `backup.unusable` */
async function checked(deps: Deps, asked: string, following?: Following): Promise<BackupCheck> {
  const fileName = backupNow(deps.paths, asked);
  if (fileName === null) {
    throw new Refusal("backup.unknown", "There is no backup of that name in the backups folder.", {
      field: "fileName",
    });
  }
  try {
    return await checkBackup(deps, fileName, following);
  } catch (error) {
    if (following?.signal.aborted) throw error;
    if (error instanceof BenchUnopenable) throw unusable(fileName, error.message);
    const kind = failureKind(error);
    if (kind === null) throw error;
    if (kind === "damaged") throw unusable(fileName, "it is damaged.");
    throw new Refusal(
      "file.unwritable",
      "The backup could not be tried out: a copy of it could not be written.",
      {
        hint: "Make room on the disk of the bench, about twice the size of the backup. The bench is as it was.",
      },
    );
  }
}

async function setInPlace(deps: Deps, restored: Parameters<Deps["restore"]>[0]): Promise<string> {
  try {
    return basename(await deps.restore(restored));
  } catch (error) {
    if (error instanceof BenchUnopenable) throw unusable(restored.fileName, error.message);
    if (failureKind(error) === null) throw error;
    throw new Refusal("file.unwritable", "The backup could not be set in the place of the bench.", {
      hint: "Make room on the disk of the bench and try again. The bench is as it was.",
    });
  }
}

export function benchFileServices(deps: Deps, longCalls: LongCalls) {
  return handlers({
    "backups.check": ({ fileName, requestId }) =>
      longCalls.follow(requestId, STOPPED, (following) => checked(deps, fileName, following)),

    "backups.restore": async ({ fileName, reason }) => {
      const by = requirePerson(deps.db);
      const restored = await checked(deps, fileName);
      const { madeAt } = restored;
      const keptAside = await setInPlace(deps, { fileName: restored.fileName, madeAt, by: by.name, reason });
      const words = `The backup of ${restored.madeAt.slice(0, 16).replace("T", " ")} UTC is in use now. The bench as it was is kept as ${keptAside}.`;
      return { restored, keptAside, words };
    },

    "backups.handOver": async () => {
      const attachments = listAttachments(deps.db, null).filter((one) => one.withdrawn === null);
      for (const attachment of attachments) requireContent(deps, attachment);
      const stem = basename(backupFileName(deps.clock.now(), "hand-over", headOfTrail(deps.db)), ".sqlite");
      const path = await mapWriteErrors(deps.paths.exportFolder, () => placeFor(deps, stem, ".sqlite"));
      if (path === null) return null;
      const hashes = attachments.map((one) => one.sha256);
      await mapWriteErrors(path, () =>
        writeHandOver(deps.db, deps.paths.databaseFile, hashes, path, deps.copyWork),
      );
      const fileName = basename(path);
      return {
        fileName,
        path,
        bytes: (await stat(path)).size,
        dataSha256: await sha256OfFile(path),
        download: deps.downloadAddress(fileName),
      };
    },
  });
}
