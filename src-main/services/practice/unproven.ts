import type { UnprovenWork } from "#core/contract/records/competence.ts";
import { LaboratorySettings } from "#core/contract/records/laboratory.ts";
import {
  type AskedPractice,
  missingProofs,
  unprovenWords,
  unprovenWork,
} from "#core/practice/unproven-work.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { trailOf } from "../../store/repositories/audit-trail.ts";
import { listPeople, personInUse } from "../../store/repositories/people-repository.ts";
import { scoredAttempts } from "../../store/repositories/practice-certificate-repository.ts";
import { workDays } from "../../store/repositories/work-days-repository.ts";
import { requireCount } from "../counts/count-lookup.ts";
import { requireSheet } from "../sheets/sheets.ts";
import type { Deps } from "../write-context/deps.ts";

export type WorkKind = "sheet" | "count";

/** What the laboratory has asked for since when, by the trail: a setting says only what it asks for now. */
function askedPractice(db: ReadableDb, work: WorkKind): AskedPractice[] {
  return trailOf(db, "laboratory")
    .filter(({ act }) => act === "laboratory.change")
    .flatMap(({ at, detail }) => {
      const { data } = LaboratorySettings.safeParse(JSON.parse(detail).to);
      if (!data) return [];
      const exercises = work === "sheet" ? data.practiceForSheets : data.practiceForCounts;
      return [{ from: at, exercises, practiceBySignature: data.practiceBySignature }];
    });
}

/** Work without a proof that was asked for. Rows that came with a file were entered under another bench's rules. */
export function unprovenOn(db: ReadableDb, work: WorkKind, id: string): UnprovenWork[] {
  const asked = askedPractice(db, work);
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

export function unprovenServices({ db, clock }: Deps): HandlersOf<"practice.unproven" | "practice.missing"> {
  return {
    "practice.unproven": ({ work, id }) =>
      unprovenOn(db, work, (work === "sheet" ? requireSheet(db, id) : requireCount(db, id)).id),

    "practice.missing": ({ work }) => {
      const person = personInUse(db);
      const asked = askedPractice(db, work);
      if (!person || asked.length === 0) return [];
      return missingProofs(person.id, clock.now(), asked, scoredAttempts(db, person.id));
    },
  };
}
