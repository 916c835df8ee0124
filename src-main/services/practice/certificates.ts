import type { Competence, PracticeCertificate } from "#core/contract/records/competence.ts";
import type { Person } from "#core/contract/records/person.ts";
import type { PracticeAttempt } from "#core/contract/records/practice.ts";
import { competenceOn } from "#core/practice/competence.ts";
import { EXERCISES } from "#core/vocabulary/practice.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { appendTrail } from "../../store/repositories/audit-trail.ts";
import { laboratorySettings } from "../../store/repositories/laboratory-repository.ts";
import { listPeople } from "../../store/repositories/people-repository.ts";
import { openReset } from "../../store/repositories/pin-reset-repository.ts";
import {
  certificateOfAttempt,
  insertPracticeCertificate,
  insertPracticeWithdrawal,
  listPracticeCertificates,
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

/** @throws Refusal where the reader would examine themselves */
function requireAnother(attempt: PracticeAttempt, examiner: Person): void {
  if (attempt.personId !== examiner.id) return;
  throw new Refusal("certificate.own", `${examiner.name} made this attempt.`, {
    field: "examinerId",
    hint: "Another person signs as examiner.",
  });
}

/** @throws Refusal unless the examiner may sign the attempt */
function requireSignable(db: ReadableDb, attempt: PracticeAttempt, examiner: Person): void {
  requireAnother(attempt, examiner);
  if (attempt.result?.verdict !== "met") {
    throw new Refusal("attempt.not-met", "Only an attempt that met the criteria is certified.", {
      field: "attemptId",
      hint:
        attempt.endedAt === null ? "Finish the attempt first." : "Practise again, then sign that attempt.",
    });
  }
  const signed = certificateOfAttempt(db, attempt.id);
  if (signed) {
    throw new Refusal("attempt.signed", "This attempt has been signed already.", {
      field: "attemptId",
      ...(signed.withdrawn && {
        hint: "Its certificate was withdrawn: practise again, then sign that attempt.",
      }),
    });
  }
}

/** The certificate that the examiner may take back. @throws Refusal */
function requireWithdrawable(
  db: ReadableDb,
  attempt: PracticeAttempt,
  examiner: Person,
): PracticeCertificate {
  requireAnother(attempt, examiner);
  const certificate = certificateOfAttempt(db, attempt.id);
  if (certificate === null) {
    throw new Refusal("certificate.missing", "No examiner has signed this attempt.", {
      field: "attemptId",
      hint: "There is nothing to withdraw.",
    });
  }
  if (certificate.withdrawn) {
    throw new Refusal(
      "certificate.withdrawn",
      `Certificate no. ${certificate.number} is withdrawn already.`,
      {
        field: "attemptId",
      },
    );
  }
  return certificate;
}

/** The mark of a PIN that was reset and not confirmed yet; nothing where there is nothing to say. */
function resetMark(db: ReadableDb, personId: string): Pick<PracticeCertificate, "pinReset"> {
  const reset = openReset(db, personId);
  return reset ? { pinReset: { at: reset.at, voucher: reset.voucher } } : {};
}

/** Who has shown what in practice, and examiners' signatures under it. No score is a licence. */
export function certificateServices(deps: Deps) {
  const { db, clock } = deps;
  return handlers({
    "practice.competence": () => competenceOfAll(db, clock.today()),
    "practice.certificates": () => listPracticeCertificates(db),

    // The PIN stays out of the remembered request: a digest of it could be searched for.
    "practice.sign": async ({ pin, ...input }) => {
      const attempt = requireAttempt(db, input.attemptId);
      requirePersonNamed(db, input.examinerId, "examinerId");
      const examiner = await requirePin(deps, input.examinerId, pin, "pin");
      return oncePerRequest<PracticeCertificate>(deps, "practice.sign", input, {
        perform(writable) {
          requireSignable(writable, attempt, examiner);
          const at = clock.now();
          const certificate: PracticeCertificate = {
            id: deps.ids.next(),
            number: nextCertificateNumber(writable),
            attemptId: attempt.id,
            examinerId: examiner.id,
            at,
            words: input.words,
            attemptSha256: attemptSha256(writable, attempt.id),
            ...resetMark(writable, examiner.id),
          };
          insertPracticeCertificate(writable, certificate);
          const { id, at: _, examinerId: __, ...detail } = certificate;
          appendTrail(
            writable,
            { act: "practice.sign", subject: "practice_certificate", subjectId: id, detail },
            { at, personId: examiner.id },
          );
          return certificate;
        },
        subjectOf: (certificate) => certificate.attemptId,
        find: certificateOfAttempt,
      });
    },

    "practice.withdraw": async ({ pin, ...input }) => {
      const attempt = requireAttempt(db, input.attemptId);
      requirePersonNamed(db, input.examinerId, "examinerId");
      const examiner = await requirePin(deps, input.examinerId, pin, "pin");
      return oncePerRequest<PracticeCertificate>(deps, "practice.withdraw", input, {
        perform(writable) {
          const certificate = requireWithdrawable(writable, attempt, examiner);
          const at = clock.now();
          const mark = resetMark(writable, examiner.id);
          const withdrawn = { examinerId: examiner.id, at, reason: input.reason, ...mark };
          insertPracticeWithdrawal(writable, certificate.id, withdrawn);
          appendTrail(
            writable,
            {
              act: "practice.withdraw",
              subject: "practice_certificate",
              subjectId: certificate.id,
              reason: input.reason,
              detail: { number: certificate.number, attemptId: attempt.id, ...mark },
            },
            { at, personId: examiner.id },
          );
          return { ...certificate, withdrawn };
        },
        subjectOf: (certificate) => certificate.attemptId,
        find: certificateOfAttempt,
      });
    },
  });
}
