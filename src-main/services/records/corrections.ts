import type { Correction, CorrectionSubject } from "#core/contract/records/correction.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { eventsOf } from "../../store/repositories/audit-trail.ts";
import { correctWord, isTakenByAnother, wordOf } from "../../store/repositories/correction-repository.ts";
import { findCount } from "../../store/repositories/count-repository.ts";
import { signOffStateOfSheet } from "../../store/repositories/sign-off-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnceAbout } from "../write-context/in-transaction.ts";

const ACT = "records.correct";

/** What the trail calls each kind. */
const SUBJECT_OF = {
  person: "person",
  microscope: "microscope",
  objective: "objective",
  eyepiece: "eyepiece",
  "stage micrometer": "stage_micrometer",
  sheet: "sheet",
  count: "count",
} as const;

const TAKEN = {
  person: "person.taken",
  microscope: "microscope.taken",
  "stage micrometer": "micrometer.taken",
} as const;

/** What is closed keeps its words until it is reopened: what was signed then is signed anew. */
function requireOpen(db: ReadableDb, { kind, id }: CorrectionSubject): void {
  const hint = "Reopen it with a reason, correct it, and close it again: signatures are asked for anew.";
  if (kind === "sheet" && signOffStateOfSheet(db, id).state !== "open")
    throw new Refusal("sheet.closed", "That sheet is closed.", { field: "correction.value", hint });
  if (kind === "count" && findCount(db, id)?.state === "closed")
    throw new Refusal("count.closed", "That count is closed.", { field: "correction.value", hint });
}

function lastCorrection(db: ReadableDb, subject: CorrectionSubject): Correction | null {
  const event = eventsOf(db, subject.id).findLast(({ act }) => act === ACT);
  if (event?.act !== ACT) return null;
  const { detail, reason, at, by } = event;
  return { subject, ...detail, reason: reason ?? "", at, by: by ?? "" };
}

/** Words of records put right, by an act that keeps the old ones in the trail. */
export function correctionServices(deps: Deps) {
  return handlers({
    "records.correct": (input) =>
      inTransactionOnceAbout<Correction>(deps, ACT, input, {
        perform({ db, at, by, audit }) {
          const { subject, field, value, reason } = input.correction;
          const { kind, id } = subject;
          const before = wordOf(db, subject, field);
          if (before === null)
            throw new Refusal("item.unknown", `That ${kind} is not on this bench.`, {
              field: "correction.subject",
            });
          requireOpen(db, subject);
          if (before === value)
            throw new Refusal("item.unchanged", "It reads so already.", { field: "correction.value" });
          if (isTakenByAnother(db, subject, field, value))
            throw new Refusal(
              TAKEN[kind as keyof typeof TAKEN],
              `Another ${kind} is registered by that name or number.`,
              { field: "correction.value", hint: "Add something that tells the two apart." },
            );
          correctWord(db, subject, field, value);
          audit({
            act: ACT,
            subject: SUBJECT_OF[kind],
            subjectId: id,
            reason,
            detail: { field, before, after: value },
          });
          return { subject, field, before, after: value, reason, at, by: by.id };
        },
        subjectOf: ({ subject }) => subject.id,
        find: (db) => lastCorrection(db, input.correction.subject),
      }),
  });
}
