import { isSpokenOf, overdueOn, overdueUseWords } from "#core/calibration/overdue-words.ts";
import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type {
  OverdueDates,
  OverdueState,
  OverdueUse,
  OverdueWork,
} from "#core/contract/records/overdue-use.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { calibrationInForce, findCalibration } from "../../store/repositories/calibration-repository.ts";
import { certificateDueOn } from "../../store/repositories/micrometer-repository.ts";
import {
  findOverdueUse,
  insertOverdueUse,
  overdueUsesOf,
} from "../../store/repositories/overdue-use-repository.ts";
import { listPeople } from "../../store/repositories/people-repository.ts";
import { signOffStateOfSheet } from "../../store/repositories/sign-off-repository.ts";
import { findTrainOf } from "../../store/repositories/train-repository.ts";
import { requireCount } from "../counts/count-lookup.ts";
import { requireSheet } from "../sheets/sheets.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnce } from "../write-context/in-transaction.ts";

function datesOf(db: ReadableDb, calibration: CalibrationRecord | null, today: string): OverdueDates | null {
  if (!calibration) return null;
  const certificate = certificateDueOn(db, calibration.certificateId);
  return overdueOn(today, calibration.id, calibration.dueOn, certificate);
}

/** What is past its date in work that goes on; null where nothing is, and for work that is closed. */
const OVERDUE_IN: Readonly<
  Record<OverdueWork["work"], (db: ReadableDb, id: string, today: string) => OverdueDates | null>
> = {
  sheet(db, id, today) {
    const sheet = requireSheet(db, id);
    const train = signOffStateOfSheet(db, id).state === "open" ? findTrainOf(db, sheet) : null;
    return datesOf(db, train && calibrationInForce(db, train.id), today);
  },
  count(db, id, today) {
    const { state, calibrationId } = requireCount(db, id);
    const calibration =
      state === "closed" || calibrationId === null ? null : findCalibration(db, calibrationId);
    return datesOf(db, calibration, today);
  },
  calibration(db, id, today) {
    const calibration = findCalibration(db, id);
    if (!calibration) {
      throw new Refusal("calibration.unknown", "That calibration is not on this bench.", { field: "workId" });
    }
    return calibration.state === "draft" ? datesOf(db, { ...calibration, dueOn: null }, today) : null;
  },
};

function stateOf(db: ReadableDb, work: OverdueWork, today: string): OverdueState {
  const uses = overdueUsesOf(db, work);
  const dates = OVERDUE_IN[work.work](db, work.workId, today);
  return { uses, asked: dates && !isSpokenOf(dates, uses) ? dates : null };
}

/** A calibration as work of its own: what its certificate was past when it was made. */
export const calibrationWork = ({ id }: Pick<CalibrationRecord, "id">): OverdueWork => ({
  work: "calibration",
  workId: id,
});

/** What was used knowingly past its date, in sentences for paper and workbook. */
export function overdueLines(db: ReadableDb, works: readonly OverdueWork[]): string[] {
  const uses = works.flatMap((work) => overdueUsesOf(db, work));
  if (uses.length === 0) return [];
  const names = new Map(listPeople(db).map((one) => [one.id, one.name]));
  return uses.map((use) => overdueUseWords(use, names.get(use.by) ?? use.by));
}

export function overdueUseServices(deps: Deps) {
  return handlers({
    "overdueUses.of": (work) => stateOf(deps.db, work, deps.clock.today()),

    "overdueUses.record": (input, call) =>
      inTransactionOnce<OverdueUse>(
        deps,
        call,
        input,
        ({ db, at, by, audit }) => {
          const { work, workId, reason } = input;
          const { asked } = stateOf(db, { work, workId }, deps.clock.today());
          if (!asked) {
            throw new Refusal("overdue.nothing", "Nothing that is overdue is waiting for a reason here.", {
              field: "workId",
              hint: "Somebody may have said why a moment ago: look at what is shown beside the work.",
            });
          }
          const use: OverdueUse = { id: deps.ids.next(), work, workId, ...asked, reason, at, by: by.id };
          insertOverdueUse(db, use);
          audit({
            act: "overdueUses.record",
            subject: "overdue_use",
            subjectId: use.id,
            reason,
            detail: { work, workId, ...asked },
          });
          return use;
        },
        findOverdueUse,
      ),
  });
}
