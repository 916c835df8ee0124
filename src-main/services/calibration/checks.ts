import type { CalculationBasis } from "#core/calibration/calculation-basis.ts";
import { checkResultOf } from "#core/calibration/check-result.ts";
import type { ParsedInput } from "#core/contract/calls.ts";
import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { CheckRecord, CheckResult } from "#core/contract/records/check.ts";
import type { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { calibrationInForce } from "../../store/repositories/calibration-repository.ts";
import {
  findCheck,
  insertCheck,
  insertWithdrawal,
  listChecks,
} from "../../store/repositories/check-repository.ts";
import { requireNotReplaced } from "../equipment/certificates.ts";
import { requireCertificate, requireMicrometer } from "../equipment/micrometers.ts";
import { requireTrainById } from "../equipment/require-train.ts";
import { requireInService } from "../equipment/service-states.ts";
import { requireTrainThere } from "../equipment/train-there.ts";
import { followWithdrawal, readingsSinceCheck } from "../sheets/flags-of-check.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnce, type WriteContext } from "../write-context/in-transaction.ts";
import { withFieldPrefix } from "../write-context/typed-input.ts";
import { factorFromTyped } from "./calibration-result.ts";
import { forgetCautionOf } from "./cautions-of-check.ts";
import { suspectsOfCheck } from "./check-suspects.ts";
import { basisFor } from "./repeatability.ts";

/** A check beyond these of the factor in force read another objective or another spacing. Common practice, no source. */
const PLAUSIBLE = { least: "0.4", most: "2.5" };

/**
 * The result of a check from what was typed; the same when it is verified. Conditions are those of the calibration it is
 * held against, but for the temperature.
 * @throws InputError `settings.N.<field>` or `conditions.<key>`; Error when the calibration has no result
 */
export function checkFromTyped(
  typed: Pick<CheckRecord, "settings" | "temperature">,
  calibration: CalibrationRecord,
  micrometer: Pick<StageMicrometer, "scaleLengthUm" | "divisions">,
  certificate: Certificate,
  basis: CalculationBasis,
): CheckResult {
  if (!calibration.result) throw new Error(`calibration ${calibration.id} has no result to check against`);
  const temperature =
    typed.temperature.trim() === "" ? calibration.conditions.temperature : typed.temperature;
  const { estimator, coverage } = calibration;
  const conditions = { ...calibration.conditions, temperature };
  const factor = factorFromTyped(
    { settings: typed.settings, conditions, estimator, coverage },
    micrometer,
    certificate,
    basis,
  );
  return checkResultOf(calibration.result, factor, calibration.certificateId === certificate.id);
}

function requirePlausible({ factor, factorInForce, suspects }: CheckResult): void {
  const ratio = decimal(factor).div(factorInForce);
  if (ratio.greaterThanOrEqualTo(PLAUSIBLE.least) && ratio.lessThanOrEqualTo(PLAUSIBLE.most)) return;
  throw new Refusal(
    "check.implausible",
    `The check gives ${ratio.toPrecision(3)} times the factor in force: that is no drift.`,
    {
      field: "check.settings",
      hint: suspects?.[0]
        ? `${suspects[0].cause}. ${suspects[0].whatToDo}`
        : "Check which objective is in the path and the lines read on the micrometer.",
    },
  );
}

function record(
  deps: Deps,
  { db, at, by, audit }: WriteContext,
  input: ParsedInput<"checks.record">,
): CheckRecord {
  const { trainId, stageMicrometerId, certificateId, settings, temperature, remark } = input.check;
  const train = requireTrainById(db, trainId, "check.trainId");
  const micrometer = requireMicrometer(db, stageMicrometerId, "check.stageMicrometerId");
  const certificate = requireCertificate(micrometer, certificateId, "check.certificateId");
  const item = { kind: "stage micrometer", id: stageMicrometerId } as const;
  requireInService(db, item, deps.clock.today(), "check.stageMicrometerId");
  requireTrainThere(db, train, deps.clock.today(), "check.trainId");
  requireNotReplaced(db, certificateId, "check.certificateId");
  const calibration = calibrationInForce(db, trainId);
  if (!calibration?.result) {
    throw new Refusal(
      "factor.missing",
      "No calibration is in force for that train, so there is nothing to check.",
      {
        field: "check.trainId",
        hint: "Calibrate the train.",
      },
    );
  }
  const found = withFieldPrefix("check", () =>
    checkFromTyped({ settings, temperature }, calibration, micrometer, certificate, basisFor(db, by.id)),
  );
  const suspects = found.passed
    ? []
    : suspectsOfCheck(db, train, found, { settings, micrometer, certificate });
  const result: CheckResult = suspects.length === 0 ? found : { ...found, suspects };
  requirePlausible(result);
  const check: CheckRecord = {
    id: deps.ids.next(),
    trainId,
    calibrationId: calibration.id,
    stageMicrometerId,
    certificateId,
    settings,
    temperature,
    remark,
    result,
    checkedAt: at,
    checkedBy: by.id,
    withdrawn: null,
  };
  insertCheck(db, check);
  const { calibrationId } = check;
  audit({
    act: "checks.record",
    subject: "calibration_check",
    subjectId: check.id,
    detail: { trainId, calibrationId, certificateId, settings, temperature, remark, result },
  });
  return check;
}

function withdraw(ctx: WriteContext, { checkId, reason }: ParsedInput<"checks.withdraw">): CheckRecord {
  const { db, at, by, audit } = ctx;
  const check = findCheck(db, checkId);
  if (!check) {
    throw new Refusal("check.unknown", "That check is not on this bench.", { field: "checkId" });
  }
  if (check.withdrawn) {
    throw new Refusal(
      "check.withdrawn",
      `That check was withdrawn on ${check.withdrawn.at.slice(0, 10)}: ${check.withdrawn.reason}`,
      { field: "checkId" },
    );
  }
  const withdrawn = { at, by: by.id, reason };
  const before = readingsSinceCheck(db, check);
  insertWithdrawal(db, checkId, withdrawn);
  const { trainId, result } = check;
  audit({
    act: "checks.withdraw",
    subject: "calibration_check",
    subjectId: checkId,
    reason,
    detail: { trainId, checkedAt: check.checkedAt, passed: result.passed },
  });
  followWithdrawal(ctx, check, before, reason);
  forgetCautionOf(ctx, check, reason);
  return { ...check, withdrawn };
}

export function checkServices(deps: Deps) {
  return handlers({
    "checks.list": ({ trainId }) => listChecks(deps.db, trainId),

    "checks.record": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        (ctx) => {
          const blank = input.check.settings.findIndex((one) => one.reticleRight.trim() === "");
          if (blank >= 0)
            throw new InputError(`check.settings.${blank}.reticleRight`, "is empty: type a number");
          return record(deps, ctx, input);
        },
        findCheck,
      ),

    "checks.withdraw": (input, call) =>
      inTransactionOnce(deps, call, input, (ctx) => withdraw(ctx, input), findCheck),
  });
}
