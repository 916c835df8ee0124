import type { Competence, PracticeCertificate } from "#core/contract/records/competence.ts";
import type { Person } from "#core/contract/records/person.ts";
import type { PracticeAttempt } from "#core/contract/records/practice.ts";
import { competenceOn } from "#core/practice/competence.ts";
import { EXERCISES } from "#core/vocabulary/practice.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { appendTrail } from "../../store/repositories/audit-trail.ts";
import { laboratorySettings } from "../../store/repositories/laboratory-repository.ts";
import { listPeople } from "../../store/repositories/people-repository.ts";
import { openReset } from "../../store/repositories/pin-reset-repository.ts";
import {
  certificateOfAttempt,
  insertPracticeCertificate,
  nextCertificateNumber,
  scoredAttempts,
} from "../../store/repositories/practice-certificate-repository.ts";
import { attemptSha256 } from "../../store/repositories/practice-digest.ts";
import { requirePersonNamed, requirePin } from "../people/require-pin.ts";
import type { Deps } from "../write-context/deps.ts";
import { oncePerRequest } from "../write-context/in-transaction.ts";
import { requireAttempt } from "./require-attempt.ts";

/** Where everybody stands in every exercise, in the order of the people. */
export function competenceOfAll(db: ReadableDb, today: string): Competence[] {
  const { practiceBySignature } = laboratorySettings(db);
  const attempts = Map.groupBy(scoredAttempts(db, null), (one) => `${one.personId} ${one.exercise}`);
  return listPeople(db).flatMap(({ id: personId }) =>
    EXERCISES.map((exercise) => {
      const shown = competenceOn(today, attempts.get(`${personId} ${exercise}`) ?? [], practiceBySignature);
      const certificate = shown.attemptId === null ? null : certificateOfAttempt(db, shown.attemptId);
      return { personId, exercise, ...shown, certificate };
    }),
  );
}

/** @throws Refusal unless the examiner may sign the attempt */
function requireSignable(db: ReadableDb, attempt: PracticeAttempt, examiner: Person): void {
  if (attempt.personId === examiner.id) {
    throw new Refusal("certificate.own", `${examiner.name} made this attempt.`, {
      field: "examinerId",
      hint: "Another person signs as examiner.",
    });
  }
  if (attempt.result?.verdict !== "met") {
    throw new Refusal("attempt.not-met", "Only an attempt that met the criteria is certified.", {
      field: "attemptId",
      hint:
        attempt.endedAt === null ? "Finish the attempt first." : "Practise again, then sign that attempt.",
    });
  }
  if (certificateOfAttempt(db, attempt.id)) {
    throw new Refusal("attempt.signed", "This attempt has been signed already.", { field: "attemptId" });
  }
}

/** Who has shown what in practice, and examiners' signatures under it. No score is a licence. */
export function certificateServices(
  deps: Deps,
): HandlersOf<"practice.competence" | "practice.certificate" | "practice.sign"> {
  const { db, clock } = deps;
  return {
    "practice.competence": () => competenceOfAll(db, clock.today()),
    "practice.certificate": ({ attemptId }) => certificateOfAttempt(db, requireAttempt(db, attemptId).id),

    // The PIN stays out of the remembered request: a digest of it could be searched for.
    "practice.sign": async ({ pin, ...input }) => {
      const attempt = requireAttempt(db, input.attemptId);
      requirePersonNamed(db, input.examinerId, "examinerId");
      const examiner = await requirePin(deps, input.examinerId, pin, "pin");
      return oncePerRequest<PracticeCertificate>(deps, "practice.sign", input, {
        perform(writable) {
          requireSignable(writable, attempt, examiner);
          const reset = openReset(writable, examiner.id);
          const at = clock.now();
          const certificate: PracticeCertificate = {
            id: deps.ids.next(),
            number: nextCertificateNumber(writable),
            attemptId: attempt.id,
            examinerId: examiner.id,
            at,
            words: input.words,
            attemptSha256: attemptSha256(writable, attempt.id),
            ...(reset && { pinReset: { at: reset.at, voucher: reset.voucher } }),
          };
          insertPracticeCertificate(writable, certificate);
          const { id, at: _, examinerId: __, ...detail } = certificate;
          appendTrail(writable, {
            at,
            personId: examiner.id,
            act: "practice.sign",
            subject: "practice_certificate",
            subjectId: id,
            reason: null,
            detail,
          });
          return certificate;
        },
        subjectOf: (certificate) => certificate.attemptId,
        find: certificateOfAttempt,
      });
    },
  };
}
