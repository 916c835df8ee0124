import type { Microscope, OpticalTrain } from "#core/contract/records/microscope.ts";
import type { SideBySide } from "#core/contract/records/trend.ts";
import { trainName } from "#core/optics/train-name.ts";
import { type DecimalText, readDecimal, textOfDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { localDate } from "../../ports/local-date.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { calibrationsOfTrain } from "../../store/repositories/calibration-repository.ts";
import { listChecks } from "../../store/repositories/check-repository.ts";
import { findMicrometer } from "../../store/repositories/micrometer-repository.ts";
import { findMicroscope, listMicroscopes } from "../../store/repositories/microscope-repository.ts";
import { listPeople } from "../../store/repositories/people-repository.ts";
import { findTrain, trainsOfMicroscope } from "../../store/repositories/train-repository.ts";
import {
  findTolerance,
  insertTolerance,
  type StoredTolerance,
} from "../../store/repositories/trend-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnce } from "../write-context/in-transaction.ts";
import { factorsOnDay } from "./factor-on-day.ts";
import { type TrendContext, toleranceInUse, trendContext, trendHistory } from "./trend-history.ts";
import { trendRecord } from "./trend-record.ts";
import {
  type NamedHistory,
  peopleFindings,
  peopleSeries,
  stepFindings,
  trainSeries,
} from "./trend-side-by-side.ts";

type Calls =
  | "trends.train"
  | "trends.verdicts"
  | "trends.sideBySide"
  | "trends.onDay"
  | "trends.setTolerance";

export function requireTrendTrain(db: ReadableDb, trainId: string): OpticalTrain {
  const train = findTrain(db, trainId);
  if (train) return train;
  throw new Refusal("train.unknown", "That optical train is not on this bench.", { field: "trainId" });
}

/** From a person's id to the name. */
export function namesOfPeople(db: ReadableDb): (personId: string) => string {
  const names = new Map(listPeople(db).map(({ id, name }) => [id, name]));
  return (personId) => names.get(personId) ?? personId;
}

interface PlacedTrain {
  readonly train: OpticalTrain;
  readonly microscope: Microscope;
}

function allTrains(db: ReadableDb): PlacedTrain[] {
  return listMicroscopes(db).flatMap((microscope) =>
    trainsOfMicroscope(db, microscope.id).map((train) => ({ train, microscope })),
  );
}

function named(context: TrendContext, { train, microscope }: PlacedTrain): NamedHistory {
  return { trend: trendHistory(context, train), title: trainName(train, microscope), microscope };
}

function microscopeView(context: TrendContext, id: string, nameOf: (id: string) => string): SideBySide {
  const microscope = findMicroscope(context.db, id);
  if (!microscope) {
    throw new Refusal("microscope.unknown", "That microscope is not on this bench.", { field: "id" });
  }
  const all = trainsOfMicroscope(context.db, id).map((train) => named(context, { train, microscope }));
  return {
    title: `All objectives of ${microscope.name}`,
    series: all.flatMap((one) => trainSeries(one, nameOf)),
    findings: stepFindings(all),
  };
}

function peopleView(context: TrendContext, id: string, nameOf: (id: string) => string): SideBySide {
  const train = findTrain(context.db, id);
  const microscope = train && findMicroscope(context.db, train.microscopeId);
  if (!train || !microscope) {
    throw new Refusal("train.unknown", "That optical train is not on this bench.", { field: "id" });
  }
  const one = named(context, { train, microscope });
  return {
    title: `${one.title} by person`,
    series: peopleSeries(one, nameOf),
    findings: peopleFindings(one, listChecks(context.db, id), nameOf),
  };
}

function micrometerView(context: TrendContext, id: string, nameOf: (id: string) => string): SideBySide {
  const micrometer = findMicrometer(context.db, id);
  if (!micrometer) {
    throw new Refusal("micrometer.unknown", "That stage micrometer is not on this bench.", { field: "id" });
  }
  const all = allTrains(context.db)
    .map((placed) => named(context, placed))
    .filter(({ trend }) => trend.calibrations.some((one) => one.reference.micrometerId === id));
  return {
    title: `Trains calibrated with ${micrometer.name} (${micrometer.serial})`,
    series: all.flatMap((one) => trainSeries(one, nameOf)),
    findings: stepFindings(all),
  };
}

export const SIDE_BY_SIDE_OF = {
  microscope: microscopeView,
  people: peopleView,
  micrometer: micrometerView,
} as const;

/** Above this a tolerance allows anything; a train so far off is refused when it is calibrated. */
const MOST_PERCENT = 50;

function tolerancePercent(typed: string): DecimalText {
  const field = "tolerance.percent";
  const { value } = readDecimal(field, typed);
  if (!value.greaterThan(0)) throw new InputError(field, "must be greater than 0");
  if (value.greaterThan(MOST_PERCENT)) throw new InputError(field, `must be at most ${MOST_PERCENT} %`);
  return textOfDecimal(value);
}

export function trendServices(deps: Deps): HandlersOf<Calls> {
  const context = (): TrendContext => trendContext(deps.db, deps.clock.today());
  return {
    "trends.train": ({ trainId }) => {
      const train = requireTrendTrain(deps.db, trainId);
      const now = context();
      return trendRecord(now, trendHistory(now, train), namesOfPeople(deps.db), localDate);
    },

    "trends.verdicts": () => {
      const now = context();
      return allTrains(deps.db).map(({ train }) => ({
        trainId: train.id,
        verdict: trendHistory(now, train).verdict,
      }));
    },

    "trends.sideBySide": ({ view, id }) => SIDE_BY_SIDE_OF[view](context(), id, namesOfPeople(deps.db)),

    "trends.onDay": ({ day, trainId }) => {
      if (trainId !== null) requireTrendTrain(deps.db, trainId);
      const names = { references: context().references, nameOf: namesOfPeople(deps.db) };
      return allTrains(deps.db)
        .filter(({ train }) => trainId === null || train.id === trainId)
        .map(({ train, microscope }) => ({
          trainId: train.id,
          train: trainName(train, microscope),
          factors: factorsOnDay(calibrationsOfTrain(deps.db, train.id), day, names),
        }));
    },

    "trends.setTolerance": (input) => {
      inTransactionOnce(
        deps,
        "trends.setTolerance",
        input,
        ({ db, at, by, audit }): StoredTolerance => {
          const percent = tolerancePercent(input.tolerance.percent);
          const { reason, rule } = input.tolerance;
          const before = toleranceInUse(db).percent;
          const decided = { id: deps.ids.next(), percent, rule, reason, at, by: by.id };
          insertTolerance(db, decided);
          audit({
            act: "trends.setTolerance",
            subject: "tolerance",
            subjectId: decided.id,
            reason,
            detail: { from: before, to: percent, rule },
          });
          return decided;
        },
        findTolerance,
      );
      return toleranceInUse(deps.db);
    },
  };
}
