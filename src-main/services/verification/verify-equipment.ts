import type { ReadableDb } from "../../store/connection.ts";
import { listAttachments } from "../../store/repositories/attachment-repository.ts";
import { checksWronglyPassed, listChecks } from "../../store/repositories/check-repository.ts";
import { listEvents } from "../../store/repositories/event-repository.ts";
import { listReplacements, listServiceStates } from "../../store/repositories/service-state-repository.ts";
import { compareWithTrail, factsFromTrail, storedFacts } from "./compare-with-trail.ts";
import type { Differences } from "./differences.ts";
import { numbered } from "./numbered-changes.ts";
import type { TrailIndex } from "./trail-index.ts";

/** In and out of service (ISO/IEC 17025:2017, 6.4.9), change by change. */
export function verifyServiceStates(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const stored = numbered(listServiceStates(db), ({ item }) => item.id);
  const fromTrail = numbered(acts.of("registers.setServiceState"), (line) => line.subjectId);
  compareWithTrail(
    differences,
    storedFacts(
      stored,
      ([key]) => key,
      ([, { item, state, from, reason, at, by }]) => ({
        where: `service state of ${item.kind} ${item.id} from ${from}`,
        fields: { kind: item.kind, state, from, reason, at, by },
      }),
    ),
    factsFromTrail(
      fromTrail.map(([key, line]) => ({ key, ...line })),
      ({ key }) => key,
      ({ subject, subjectId, detail, reason, at, by }) => ({
        where: `service state of ${subject.replace("_", " ")} ${subjectId} from ${detail.from}`,
        fields: { kind: subject.replace("_", " "), state: detail.state, from: detail.from, reason, at, by },
      }),
    ),
  );
}

/** What happened to the equipment, with the trains each event touched. */
export function verifyEvents(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const sorted = (ids: readonly string[] = []): string[] => [...ids].sort();
  compareWithTrail(
    differences,
    storedFacts(
      listEvents(db),
      ({ id }) => id,
      ({ kind, subject, happenedOn, words, unchanged, recordedAt, recordedBy, trainIds }) => ({
        where: `event of ${happenedOn}, ${kind}`,
        fields: {
          kind,
          subject: subject.kind,
          subjectId: subject.id,
          happenedOn,
          words,
          unchanged: unchanged ?? false,
          trainIds: sorted(trainIds),
          recordedAt,
          recordedBy,
        },
      }),
    ),
    factsFromTrail(
      acts.of("events.record"),
      ({ detail }) => detail.eventId,
      ({ subject, subjectId, detail, at, by }) => {
        const { kind, happenedOn, words, unchanged, trainIds } = detail;
        return {
          where: `event of ${happenedOn}, ${kind}`,
          fields: {
            kind,
            subject,
            subjectId,
            happenedOn,
            words,
            unchanged: unchanged ?? false,
            trainIds: sorted(trainIds),
            recordedAt: at,
            recordedBy: by,
          },
        };
      },
    ),
  );
}

/** Which certificate took the place of which. */
export function verifyReplacements(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  compareWithTrail(
    differences,
    storedFacts(
      listReplacements(db),
      (one) => one.certificateId,
      ({ certificateId, ...fields }) => ({ where: `replacement of certificate ${certificateId}`, fields }),
    ),
    factsFromTrail(
      acts.of("certificates.replace"),
      (line) => line.subjectId,
      ({ subjectId, detail, reason, at, by }) => ({
        where: `replacement of certificate ${subjectId}`,
        fields: { replacedBy: detail.replacedBy, reason, at, by },
      }),
    ),
  );
}

/** Who attached a file and who withdrew it; the file itself is compared elsewhere. */
export function verifyAttachmentActs(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  compareWithTrail(
    differences,
    storedFacts(
      listAttachments(db, null),
      ({ id }) => id,
      ({ fileName, addedAt, addedBy, withdrawn }) => ({
        where: `attachment ${fileName}`,
        fields: { addedAt, addedBy, withdrawn },
      }),
    ),
    factsFromTrail(
      acts.of("attachments.finish", "attachments.withdraw"),
      (line) => line.subjectId,
      ({ act, detail, at, by, reason }) => ({
        where: `attachment ${detail.fileName}`,
        fields:
          act === "attachments.finish"
            ? { addedAt: at, addedBy: by, withdrawn: null }
            : { withdrawn: { at, by, reason } },
      }),
    ),
  );
}

/** Who checked a factor and when, who took the check back, and whether it is marked as its result says. */
export function verifyCheckActs(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const where = (id: string, at: string): string => `check ${id} of ${at.slice(0, 10)}`;
  compareWithTrail(
    differences,
    storedFacts(
      listChecks(db, null),
      ({ id }) => id,
      ({ id, checkedAt, checkedBy, withdrawn }) => ({
        where: where(id, checkedAt),
        fields: { checkedAt, checkedBy, withdrawn },
      }),
    ),
    factsFromTrail(
      acts.made("calibration_check", "checks.record", "checks.withdraw"),
      (line) => line.subjectId,
      ({ act, subjectId, at, by, reason, detail }) => {
        if (act === "documents.readIn") {
          const { checkedAt, checkedBy, withdrawn } = detail;
          return { where: where(subjectId, String(checkedAt)), fields: { checkedAt, checkedBy, withdrawn } };
        }
        const recorded = { checkedAt: at, checkedBy: by, withdrawn: null };
        const fields = act === "checks.record" ? recorded : { withdrawn: { at, by, reason } };
        return { where: where(subjectId, at), fields };
      },
    ),
  );
  for (const id of checksWronglyPassed(db)) {
    differences.add(`check ${id}, passed`, "another verdict", "the verdict of its result");
  }
}
