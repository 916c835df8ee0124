import type { ReadableDb } from "../../store/connection.ts";
import { listOverdueUses } from "../../store/repositories/overdue-use-repository.ts";
import { compareWithTrail, factsFromTrail, storedFacts } from "./compare-with-trail.ts";
import type { Differences } from "./differences.ts";
import type { TrailIndex } from "./trail-index.ts";

/** Who used what past its due date, and why. */
export function verifyOverdueUses(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const where = (work: string, workId: string): string => `overdue use for ${work} ${workId}`;
  compareWithTrail(
    differences,
    storedFacts(
      listOverdueUses(db),
      ({ id }) => id,
      ({ id: _, ...fields }) => ({ where: where(fields.work, fields.workId), fields }),
    ),
    factsFromTrail(
      acts.made("overdue_use", "overdueUses.record"),
      ({ subjectId }) => subjectId,
      (line) => {
        const { work, workId, calibrationId, calibrationDueOn, certificateDueOn } = line.detail;
        const dates = { work, workId, calibrationId, calibrationDueOn, certificateDueOn };
        // From a file they were told of with who and why; on this bench the line itself says so.
        const { reason, at, by } = line.act === "documents.readIn" ? line.detail : line;
        return { where: where(work, workId), fields: { ...dates, reason, at, by } };
      },
    ),
  );
}
