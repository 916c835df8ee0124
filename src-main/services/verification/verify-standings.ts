import type { ReadableDb } from "../../store/connection.ts";
import { listStandings } from "../../store/repositories/person-standing-repository.ts";
import { compareWithTrail, factsFromTrail, storedFacts } from "./compare-with-trail.ts";
import type { Differences } from "./differences.ts";
import { numbered } from "./numbered-changes.ts";
import type { TrailIndex } from "./trail-index.ts";

/** Who was set aside and who came back, change by change. */
export function verifyStandings(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const stored = numbered(listStandings(db), ({ personId }) => personId);
  const fromTrail = numbered(acts.of("people.setStanding"), ({ subjectId }) => subjectId);
  const where = (personId: string): string => `standing of person ${personId}`;
  compareWithTrail(
    differences,
    storedFacts(
      stored,
      ([key]) => key,
      ([, { personId, standing, reason, at, by }]) => ({
        where: where(personId),
        fields: { standing, reason, at, by },
      }),
    ),
    factsFromTrail(
      fromTrail.map(([key, line]) => ({ key, ...line })),
      ({ key }) => key,
      ({ subjectId, detail, reason, at, by }) => ({
        where: where(subjectId),
        fields: { standing: detail.standing, reason, at, by },
      }),
    ),
  );
}
