import { PROPOSED_PRACTICE_CRITERIA } from "#core/contract/records/practice.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { listAttempts, practiceCriteria } from "../../store/repositories/practice-repository.ts";
import { scoreAttempt } from "../practice/score-attempt.ts";
import { compareWithTold, factsBy, type StoredFact, toldBy } from "./compare-told.ts";
import type { Differences } from "./differences.ts";
import type { ToldAct, ToldActs } from "./told-acts.ts";

function toldFields({ act, at, by, detail }: ToldAct): StoredFact["fields"] {
  if (act === "practice.begin") {
    const { exercise, version, seed, criteria } = detail;
    return { exercise, version, seed, criteria, personId: by, begunAt: at, endedAt: null };
  }
  if (act === "practice.answer" && !detail.result) return {};
  return { endedAt: at };
}

/** Practice attempts, answers and criteria as the trail tells them; each result anew from its answers. */
export function verifyPractice(db: ReadableDb, acts: ToldActs, differences: Differences): void {
  const attempts = listAttempts(db, null);
  const where = (id: string): string => `practice attempt ${id}`;
  compareWithTold(
    differences,
    factsBy(
      attempts,
      ({ id }) => id,
      ({ id, answers: _, result: __, ...fields }) => ({ where: where(id), fields }),
    ),
    toldBy(
      acts.of("practice.begin", "practice.answer", "practice.giveUp"),
      ({ subjectId }) => subjectId,
      (line) => ({ where: where(line.subjectId), fields: toldFields(line) }),
    ),
  );
  const answerWhere = (id: string, ordinal: unknown): string => `${where(id)}, answer ${String(ordinal)}`;
  compareWithTold(
    differences,
    factsBy(
      attempts.flatMap(({ id, answers }) => answers.map((answer) => ({ id, answer }))),
      ({ id, answer }) => answerWhere(id, answer.ordinal),
      ({ id, answer: { ordinal, ...fields } }) => ({ where: answerWhere(id, ordinal), fields }),
    ),
    toldBy(
      acts.of("practice.answer"),
      ({ subjectId, detail }) => answerWhere(subjectId, detail.ordinal),
      ({ subjectId, detail, at }) => ({
        where: answerWhere(subjectId, detail.ordinal),
        fields: { typed: detail.typed, at },
      }),
    ),
  );
  const told = new Map(
    acts
      .of("practice.answer")
      .filter(({ detail }) => detail.result)
      .map(({ subjectId, detail }) => [subjectId, detail.result]),
  );
  for (const attempt of attempts) {
    differences.compare(`${where(attempt.id)}, result as told`, attempt.result, told.get(attempt.id) ?? null);
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
