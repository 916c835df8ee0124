import { PROPOSED_PRACTICE_CRITERIA } from "#core/contract/records/practice.ts";
import type { ToldEvent } from "#core/contract/trail-events/read-event.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { listPracticeCertificates } from "../../store/repositories/practice-certificate-repository.ts";
import { listClasses, slideReadingsOf } from "../../store/repositories/practice-class-repository.ts";
import { attemptSha256 } from "../../store/repositories/practice-digest.ts";
import { findAttempt, listAttempts, practiceCriteria } from "../../store/repositories/practice-repository.ts";
import { scoreAttempt } from "../practice/score-attempt.ts";
import { compareWithTrail, factsFromTrail, type StoredFact, storedFacts } from "./compare-with-trail.ts";
import type { Differences } from "./differences.ts";
import type { TrailIndex } from "./trail-index.ts";

type AttemptEvent = ToldEvent<"practice.begin" | "practice.answer" | "practice.giveUp">;

function fieldsFromTrail({ act, at, by, detail }: AttemptEvent): StoredFact["fields"] {
  if (act === "practice.begin") return { ...detail, personId: by, begunAt: at, endedAt: null };
  if (act === "practice.answer" && !detail.result) return {};
  return { endedAt: at };
}

/** Practice attempts, answers and criteria as the trail tells them; each result anew from its answers. */
export function verifyPractice(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const attempts = listAttempts(db, null);
  const where = (id: string): string => `practice attempt ${id}`;
  compareWithTrail(
    differences,
    storedFacts(
      attempts,
      ({ id }) => id,
      ({ id, answers: _, result: __, ...fields }) => ({ where: where(id), fields }),
    ),
    factsFromTrail(
      acts.of("practice.begin", "practice.answer", "practice.giveUp"),
      ({ subjectId }) => subjectId,
      (line) => ({ where: where(line.subjectId), fields: fieldsFromTrail(line) }),
    ),
  );
  const answerWhere = (id: string, ordinal: number): string => `${where(id)}, answer ${ordinal}`;
  compareWithTrail(
    differences,
    storedFacts(
      attempts.flatMap(({ id, answers }) => answers.map((answer) => ({ id, answer }))),
      ({ id, answer }) => answerWhere(id, answer.ordinal),
      ({ id, answer: { ordinal, ...fields } }) => ({ where: answerWhere(id, ordinal), fields }),
    ),
    factsFromTrail(
      acts.of("practice.answer"),
      ({ subjectId, detail }) => answerWhere(subjectId, detail.ordinal),
      ({ subjectId, detail, at }) => ({
        where: answerWhere(subjectId, detail.ordinal),
        fields: { typed: detail.typed, at },
      }),
    ),
  );
  const fromTrail = new Map(
    acts
      .of("practice.answer")
      .filter(({ detail }) => detail.result)
      .map(({ subjectId, detail }) => [subjectId, detail.result]),
  );
  for (const attempt of attempts) {
    differences.compare(
      `${where(attempt.id)}, result as told`,
      attempt.result,
      fromTrail.get(attempt.id) ?? null,
    );
    if (attempt.result)
      differences.compare(`${where(attempt.id)}, result`, attempt.result, scoreAttempt(attempt));
  }
  const changed = acts.of("practice.setCriteria").at(-1);
  differences.compare(
    "criteria of practice",
    practiceCriteria(db),
    changed?.detail.to ?? PROPOSED_PRACTICE_CRITERIA,
  );
}

/** Examiners' signatures under attempts as the trail tells them, over the attempts as they stand. */
export function verifyPracticeCertificates(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const certificates = listPracticeCertificates(db);
  const where = (number: number): string => `certificate of practice no. ${number}`;
  compareWithTrail(
    differences,
    storedFacts(
      certificates,
      ({ id }) => id,
      ({ id: _, withdrawn: __, ...fields }) => ({ where: where(fields.number), fields }),
    ),
    factsFromTrail(
      acts.of("practice.sign"),
      ({ subjectId }) => subjectId,
      ({ at, by, detail: { pinReset = null, ...detail } }) => ({
        where: where(detail.number),
        fields: { ...detail, pinReset, at, examinerId: by },
      }),
    ),
  );
  const withdrawalWhere = (number: number): string => `withdrawal of ${where(number)}`;
  compareWithTrail(
    differences,
    storedFacts(
      certificates.filter(({ withdrawn }) => withdrawn !== undefined),
      ({ id }) => id,
      ({ number, withdrawn }) => ({
        where: withdrawalWhere(number),
        fields: { pinReset: null, ...withdrawn },
      }),
    ),
    factsFromTrail(
      acts.of("practice.withdraw"),
      ({ subjectId }) => subjectId,
      ({ at, by, reason, detail: { number, pinReset = null } }) => ({
        where: withdrawalWhere(number),
        fields: { examinerId: by, at, reason, pinReset },
      }),
    ),
  );
  for (const { number, attemptId, examinerId, attemptSha256: signed, withdrawn } of certificates) {
    const attempt = findAttempt(db, attemptId);
    differences.compare(`${where(number)}, attempt signed`, signed, attemptSha256(db, attemptId));
    for (const examiner of [examinerId, withdrawn?.examinerId])
      if (attempt?.personId === examiner)
        differences.add(where(number), "the reader as examiner", "another person");
  }
}

/** Classes, their lists and what they read of real material, as the trail tells them. */
export function verifyPracticeClasses(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const classes = listClasses(db);
  const where = (id: string): string => `class of practice ${id}`;
  compareWithTrail(
    differences,
    storedFacts(
      classes,
      ({ id }) => id,
      ({ id, ...fields }) => ({ where: where(id), fields }),
    ),
    factsFromTrail(
      acts.of("practice.makeClass"),
      ({ subjectId }) => subjectId,
      ({ subjectId, at, by, detail }) => ({
        where: where(subjectId),
        fields: { ...detail, madeAt: at, madeBy: by },
      }),
    ),
  );
  const readingWhere = (id: string, personId: string | null, interval: number, repeat: number): string =>
    `${where(id)}, person ${personId}, interval ${interval}, time ${repeat}`;
  compareWithTrail(
    differences,
    storedFacts(
      classes.flatMap(({ id }) => slideReadingsOf(db, id).map((reading) => ({ id, reading }))),
      ({ id, reading: { personId, interval, repeat } }) => readingWhere(id, personId, interval, repeat),
      ({ id, reading: { personId, interval, repeat, ...fields } }) => ({
        where: readingWhere(id, personId, interval, repeat),
        fields,
      }),
    ),
    factsFromTrail(
      acts.of("practice.readSlide"),
      ({ subjectId, by, detail }) => readingWhere(subjectId, by, detail.interval, detail.repeat),
      ({ subjectId, at, by, detail: { interval, repeat, left, right } }) => ({
        where: readingWhere(subjectId, by, interval, repeat),
        fields: { left, right, at },
      }),
    ),
  );
}
