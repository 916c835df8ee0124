import { defaultTypedConditions } from "#core/calibration/default-conditions.ts";
import type { CalibrationRecord, FactorRecord } from "#core/contract/records/calibration.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import {
  calibrationInForce,
  calibrationSummaries,
  calibrationsOfTrain,
  countCalibrations,
  endCalibration,
  findCalibration,
  findOpenDraft,
  freezeInForce,
  insertDraft,
  listCalibrations,
  updateDraft,
} from "../../store/repositories/calibration-repository.ts";
import { findMicroscope } from "../../store/repositories/microscope-repository.ts";
import { findTrain } from "../../store/repositories/train-repository.ts";
import { requireNotReplaced } from "../equipment/certificates.ts";
import { requireCertificate, requireMicrometer } from "../equipment/micrometers.ts";
import { requireTrainById } from "../equipment/require-train.ts";
import { requireInService } from "../equipment/service-states.ts";
import { requireTrainThere } from "../equipment/train-there.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransaction, inTransactionOnce, type WriteContext } from "../write-context/in-transaction.ts";
import { keepAssessment } from "./assessments.ts";
import { factorFromTyped } from "./calibration-result.ts";
import { requirePlausible } from "./plausible-factor.ts";
import { basisOfDraft } from "./repeatability.ts";
import { requireCalibration } from "./require-calibration.ts";

function requireDraft(db: ReadableDb, id: string): CalibrationRecord {
  const calibration = requireCalibration(db, id);
  if (calibration.state === "draft") return calibration;
  throw new Refusal(
    "calibration.closed",
    `That calibration is ${calibration.state} and keeps what it holds.`,
    {
      field: "calibrationId",
      hint: "Begin a new calibration of the train.",
    },
  );
}

function computed(db: ReadableDb, draft: CalibrationRecord, workingPlaces: number | null): FactorRecord {
  const micrometer = requireMicrometer(db, draft.stageMicrometerId, "calibrationId");
  const certificate = requireCertificate(micrometer, draft.certificateId, "calibrationId");
  try {
    const working = workingPlaces === null ? undefined : { places: workingPlaces };
    const basis = basisOfDraft(db, draft);
    return factorFromTyped({ ...draft, result: { working } }, micrometer, certificate, basis);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    if (error.field === "places") {
      throw new InputError("workingPlaces", "leaves nothing of the factor: keep more digits");
    }
    throw new Refusal("calibration.incomplete", `${error.field} ${error.reason}.`, {
      field: error.field,
      hint: "Complete or correct that entry; the draft is kept as it is.",
    });
  }
}

function supersede({ db, at, by, audit }: WriteContext, before: CalibrationRecord, reason: string): void {
  const endReason = `Superseded by a new calibration: ${reason}`;
  endCalibration(db, before.id, { state: "superseded", at, by: by.id, reason: endReason });
  audit({
    act: "calibrations.supersede",
    subject: "calibration",
    subjectId: before.id,
    reason: endReason,
    detail: { from: before.state, to: "superseded" },
  });
}

export function calibrationServices(deps: Deps) {
  return handlers({
    "calibrations.list": ({ trainId }) =>
      trainId === null ? listCalibrations(deps.db) : calibrationsOfTrain(deps.db, trainId),

    "calibrations.summaries": ({ state, from, count, search }) => ({
      total: countCalibrations(deps.db, state, search),
      calibrations: calibrationSummaries(deps.db, state, from, count, search),
    }),

    "calibrations.get": ({ calibrationId }) => requireCalibration(deps.db, calibrationId),

    "calibrations.begin": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        ({ db, at, by, audit }) => {
          const { trainId, stageMicrometerId, certificateId } = input.calibration;
          const train = requireTrainById(db, trainId, "calibration.trainId");
          const micrometer = requireMicrometer(db, stageMicrometerId, "calibration.stageMicrometerId");
          requireCertificate(micrometer, certificateId, "calibration.certificateId");
          requireNotReplaced(db, certificateId, "calibration.certificateId");
          const item = { kind: "stage micrometer", id: stageMicrometerId } as const;
          requireInService(db, item, deps.clock.today(), "calibration.stageMicrometerId");
          const open = findOpenDraft(db, input.calibration);
          if (open) return open;
          requireTrainThere(db, train, deps.clock.today(), "calibration.trainId");
          const draft: CalibrationRecord = {
            id: deps.ids.next(),
            trainId,
            stageMicrometerId,
            certificateId,
            personId: by.id,
            state: "draft",
            startedAt: at,
            settings: [],
            conditions: defaultTypedConditions(micrometer.expansion, micrometer.expansionHalfWidth),
            estimator: "origin-regression",
            coverage: "t95",
            remark: "",
            result: null,
            dueOn: null,
            inForceAt: null,
            inForceBy: null,
            endedAt: null,
            endedBy: null,
            endReason: null,
          };
          insertDraft(db, draft);
          audit({
            act: "calibrations.begin",
            subject: "calibration",
            subjectId: draft.id,
            detail: input.calibration,
          });
          return draft;
        },
        findCalibration,
      ),

    // Saved with every entry; the trail keeps what was put in force, not each step towards it.
    "calibrations.keepDraft": (typed) =>
      inTransaction(deps, ({ db }) => {
        requireDraft(db, typed.calibrationId);
        updateDraft(db, { id: typed.calibrationId, ...typed });
        return requireCalibration(db, typed.calibrationId);
      }),

    "calibrations.putInForce": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        (ctx) => {
          const { db, at, by, audit } = ctx;
          const draft = requireDraft(db, input.calibrationId);
          if (input.dueOn < deps.clock.today()) {
            throw new InputError(
              "dueOn",
              "has passed already: choose the date by which the train is to be calibrated again",
            );
          }
          requireNotReplaced(db, draft.certificateId, "calibrationId");
          const result = computed(db, draft, input.workingPlaces);
          const train = findTrain(db, draft.trainId);
          const microscope = train && findMicroscope(db, train.microscopeId);
          if (!microscope) throw new Error(`train ${draft.trainId} of a calibration is missing`);
          requirePlausible(result, train, microscope);
          const before = calibrationInForce(db, draft.trainId);
          if (before) supersede(ctx, before, input.reason);
          freezeInForce(db, { id: draft.id, result, dueOn: input.dueOn, inForceAt: at, inForceBy: by.id });
          const { settings, conditions, estimator, coverage, remark } = draft;
          const assessment = keepAssessment(ctx, requireCalibration(db, draft.id), input.reason);
          audit({
            act: "calibrations.putInForce",
            subject: "calibration",
            subjectId: draft.id,
            reason: input.reason,
            detail: {
              settings,
              conditions,
              estimator,
              coverage,
              remark,
              dueOn: input.dueOn,
              factor: result.factor,
              expandedUncertainty: result.expandedUncertainty,
              pooled: result.pooled,
              assessment,
              ...(result.working ? { working: result.working } : {}),
              supersedes: before?.id ?? null,
            },
          });
          return requireCalibration(db, draft.id);
        },
        findCalibration,
      ),

    "calibrations.withdraw": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        ({ db, at, by, audit }) => {
          const calibration = requireCalibration(db, input.calibrationId);
          if (calibration.state === "withdrawn") {
            throw new Refusal("calibration.closed", "That calibration has been withdrawn already.", {
              field: "calibrationId",
            });
          }
          endCalibration(db, calibration.id, { state: "withdrawn", at, by: by.id, reason: input.reason });
          audit({
            act: "calibrations.withdraw",
            subject: "calibration",
            subjectId: calibration.id,
            reason: input.reason,
            detail: { from: calibration.state, to: "withdrawn" },
          });
          return requireCalibration(db, calibration.id);
        },
        findCalibration,
      ),
  });
}
