import type { createYielder } from "../../long-work/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { trailOf } from "../../store/repositories/audit-trail.ts";
import { listReadIns, readInAmendmentsSha256 } from "../../store/repositories/read-in-repository.ts";
import { sliceSha256 } from "../../store/repositories/reevaluated-results.ts";
import type { Differences } from "./differences.ts";
import { checkRecord } from "./verify-calibrations.ts";

/** What came with a sheet from a file and is on no other record: its amendments and replaced results. */
function verifySheetReadIn(db: ReadableDb, sheetId: string, where: string, differences: Differences): void {
  const line = trailOf(db, sheetId).find((one) => one.act === "documents.readIn");
  if (!line) {
    differences.add(`${where}, trail`, "no line", "a line that it was read in");
    return;
  }
  const { amendments, superseded } = JSON.parse(line.detail);
  const fromTrail = `as told by trail line ${line.sequence}`;
  differences.compare(
    `${where}, amendments, ${fromTrail}`,
    readInAmendmentsSha256(db, sheetId),
    amendments.sha256,
  );
  if (superseded) {
    differences.compare(
      `${where}, replaced results, ${fromTrail}`,
      sliceSha256(db, superseded),
      superseded.sha256,
    );
  }
}

/** Compares what a bench was read from with what the trail was told then. */
export async function verifyReadIns(
  db: ReadableDb,
  differences: Differences,
  yieldToEvents: ReturnType<typeof createYielder>,
): Promise<void> {
  for (const readIn of listReadIns(db)) {
    const where = `read in from ${readIn.fileName}`;
    checkRecord(where, differences, () => {
      const fromTrail = trailOf(db, readIn.id)[0];
      const { fileName, sha256, dataSha256 } = readIn;
      const stored = { fileName, sha256, dataSha256, readBy: readIn.readBy, readAt: readIn.readAt };
      const detail = fromTrail ? JSON.parse(fromTrail.detail) : {};
      differences.compare(`${where}, as told by the trail`, stored, {
        fileName: detail.fileName,
        sha256: detail.sha256,
        dataSha256: detail.dataSha256,
        readBy: fromTrail?.personId,
        readAt: fromTrail?.at,
      });
    });
    for (const { id, number } of readIn.sheets) {
      const here = `${where}, sheet ${number}`;
      checkRecord(here, differences, () => verifySheetReadIn(db, id, here, differences));
      await yieldToEvents();
    }
  }
}
