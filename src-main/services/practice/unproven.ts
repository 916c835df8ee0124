import type { UnprovenWork } from "#core/contract/records/competence.ts";
import {
  type AskedPractice,
  askedOfWork,
  missingProofs,
  unprovenWords,
  unprovenWork,
} from "#core/practice/unproven-work.ts";
import type { ExerciseName } from "#core/vocabulary/practice.ts";
import { handlers } from "../../dispatch/handlers.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { eventsOf, trailOf } from "../../store/repositories/audit-trail.ts";
import { listPeople, personInUse } from "../../store/repositories/people-repository.ts";
import { scoredAttempts } from "../../store/repositories/practice-certificate-repository.ts";
import { workDays } from "../../store/repositories/work-days-repository.ts";
import { requireCount } from "../counts/count-lookup.ts";
import { requireCountMethodById } from "../methods/count-methods.ts";
import { requireMethod } from "../methods/methods.ts";
import { requireSheet } from "../sheets/sheets.ts";
import type { Deps } from "../write-context/deps.ts";

export type WorkKind = "sheet" | "count";

/** What the method of a sheet or count asks for. @throws Refusal `sheet.unknown`, `count.unknown` */
function askedByMethod(db: ReadableDb, work: WorkKind, id: string): readonly ExerciseName[] {
  const { definition } =
    work === "sheet"
      ? requireMethod(db, requireSheet(db, id).methodId, "id")
      : requireCountMethodById(db, requireCount(db, id).countMethodId, "id");
  return definition.practice ?? [];
}

/**
 * What is asked for since when: by the method, and by the laboratory as the trail tells it, since a setting says only
 * what it asks for now.
 */
function askedPractice(db: ReadableDb, work: WorkKind, id: string): AskedPractice[] {
  const byLaboratory = eventsOf(db, "laboratory")
    .filter((event) => event.act === "laboratory.change")
    .map(({ at, detail: { to } }) => ({
      from: at,
      exercises: work === "sheet" ? to.practiceForSheets : to.practiceForCounts,
      practiceBySignature: to.practiceBySignature,
    }));
  return askedOfWork(askedByMethod(db, work, id), byLaboratory);
}

/** Work without a proof that was asked for. Rows that came with a file were entered under another bench's rules. */
export function unprovenOn(db: ReadableDb, work: WorkKind, id: string): UnprovenWork[] {
  const asked = askedPractice(db, work, id);
  const since = asked.find(({ exercises }) => exercises.length > 0)?.from;
  if (since === undefined) return [];
  const readIn = trailOf(db, id).find(({ act }) => act === "documents.readIn")?.at ?? "";
  const [after = since] = [readIn, since].toSorted().reverse();
  return unprovenWork(workDays(db, work, id, after), asked, scoredAttempts(db, null));
}

/** The same in sentences, for paper and workbook. */
export function unprovenLines(db: ReadableDb, work: WorkKind, id: string): string[] {
  const names = new Map(listPeople(db).map((one) => [one.id, one.name]));
  return unprovenOn(db, work, id).map((one) => unprovenWords(one, names.get(one.personId) ?? one.personId));
}

export function unprovenServices({ db, clock }: Deps) {
  return handlers({
    "practice.unproven": ({ work, id }) => unprovenOn(db, work, id),

    "practice.missing": ({ work, id }) => {
      const person = personInUse(db);
      const asked = askedPractice(db, work, id);
      if (!person || asked.every(({ exercises }) => exercises.length === 0)) return [];
      return missingProofs(person.id, clock.now(), asked, scoredAttempts(db, person.id));
    },
  });
}
