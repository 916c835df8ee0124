import type { Microscope, OpticalTrain } from "#core/contract/records/microscope.ts";
import type { SideBySide } from "#core/contract/records/trend.ts";
import { trainName } from "#core/optics/train-name.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { localDate } from "../../ports/local-date.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { calibrationsOfTrain } from "../../store/repositories/calibration-repository.ts";
import { listChecks } from "../../store/repositories/check-repository.ts";
import { listMicroscopes } from "../../store/repositories/microscope-repository.ts";
import { listPeople } from "../../store/repositories/people-repository.ts";
import { trainsOfMicroscope } from "../../store/repositories/train-repository.ts";
import {
  findTolerance,
  insertTolerance,
  type StoredTolerance,
} from "../../store/repositories/trend-repository.ts";
import { requireMicrometer } from "../equipment/micrometers.ts";
import { requireMicroscope, requireTrainById } from "../equipment/require-train.ts";
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
  const microscope = requireMicroscope(context.db, id, "id");
  const all = trainsOfMicroscope(context.db, id).map((train) => named(context, { train, microscope }));
  return {
    title: `All objectives of ${microscope.name}`,
    series: all.flatMap((one) => trainSeries(one, nameOf)),
    findings: stepFindings(all),
  };
}

function peopleView(context: TrendContext, id: string, nameOf: (id: string) => string): SideBySide {
  const train = requireTrainById(context.db, id, "id");
  const microscope = requireMicroscope(context.db, train.microscopeId, "id");
  const one = named(context, { train, microscope });
  return {
    title: `${one.title} by person`,
    series: peopleSeries(one, nameOf),
    findings: peopleFindings(one, listChecks(context.db, id), nameOf),
  };
}

function micrometerView(context: TrendContext, id: string, nameOf: (id: string) => string): SideBySide {
  const micrometer = requireMicrometer(context.db, id, "id");
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

export function trendServices(deps: Deps) {
  const context = (): TrendContext => trendContext(deps.db, deps.clock.today());
  return handlers({
    "trends.train": ({ trainId }) => {
      const train = requireTrainById(deps.db, trainId, "trainId");
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
      if (trainId !== null) requireTrainById(deps.db, trainId, "trainId");
      const names = { references: context().references, nameOf: namesOfPeople(deps.db) };
      return allTrains(deps.db)
        .filter(({ train }) => trainId === null || train.id === trainId)
        .map(({ train, microscope }) => ({
          trainId: train.id,
          train: trainName(train, microscope),
          factors: factorsOnDay(calibrationsOfTrain(deps.db, train.id), day, names),
        }));
    },

    "trends.setTolerance": (input, call) => {
      inTransactionOnce(
        deps,
        call,
        input,
        ({ db, at, by, audit }): StoredTolerance => {
          const { percent, reason, rule } = input.tolerance;
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
  });
}
