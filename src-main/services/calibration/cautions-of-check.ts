import type { CheckRecord } from "#core/contract/records/check.ts";
import { listChecks } from "../../store/repositories/check-repository.ts";
import { openCountsOfTrain, updateCount } from "../../store/repositories/count-repository.ts";
import { wordsOfFailedCheck } from "../equipment/train-fitness.ts";
import type { WriteContext } from "../write-context/in-transaction.ts";

/**
 * Takes from the counts that are not closed what they say of a failed check that counts no longer. A closed count keeps the
 * results it was closed with. Nothing where another check of that day failed too, for then the words stay true.
 */
export function forgetCautionOf({ db, audit }: WriteContext, check: CheckRecord, reason: string): void {
  const words = wordsOfFailedCheck(check.checkedAt);
  const stays = listChecks(db, check.trainId).some(
    (one) => !one.result.passed && one.withdrawn === null && wordsOfFailedCheck(one.checkedAt) === words,
  );
  if (check.result.passed || stays) return;
  for (const count of openCountsOfTrain(db, check.trainId)) {
    const trainCautions = count.trainCautions.filter((one) => !one.endsWith(words));
    if (trainCautions.length === count.trainCautions.length) continue;
    updateCount(db, { ...count, trainCautions });
    const detail = { checkId: check.id, trainCautions };
    audit({
      act: "counts.cautionsFollowed",
      subject: "count",
      subjectId: count.id,
      reason,
      detail,
    });
  }
}
