import type { createYielder } from "../../long-work/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { eventsOf } from "../../store/repositories/audit-trail.ts";
import { listReadIns, readInAmendmentsSha256 } from "../../store/repositories/read-in-repository.ts";
import { sliceSha256 } from "../../store/repositories/reevaluated-results.ts";
import type { Differences } from "./differences.ts";
import { checkRecord } from "./verify-calibrations.ts";

/** What came with a sheet from a file and is on no other record: its amendments and replaced results. */
function verifySheetReadIn(db: ReadableDb, sheetId: string, where: string, differences: Differences): void {
  const line = eventsOf(db, sheetId).find((one) => one.act === "documents.readIn");
  if (line?.subject !== "sheet") {
    differences.add(`${where}, trail`, "no line", "a line that it was read in");
    return;
  }
  const { amendments, superseded } = line.detail;
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
      const [fromTrail] = eventsOf(db, readIn.id);
      const { fileName, sha256, dataSha256 } = readIn;
      const stored = { fileName, sha256, dataSha256, readBy: readIn.readBy, readAt: readIn.readAt };
      const told = fromTrail?.subject === "read_in" ? fromTrail : null;
      differences.compare(`${where}, as told by the trail`, stored, {
        fileName: told?.detail.fileName,
        sha256: told?.detail.sha256,
        dataSha256: told?.detail.dataSha256,
        readBy: told?.by,
        readAt: told?.at,
      });
    });
    for (const { id, number } of readIn.sheets) {
      const here = `${where}, sheet ${number}`;
      checkRecord(here, differences, () => verifySheetReadIn(db, id, here, differences));
      await yieldToEvents();
    }
  }
}
