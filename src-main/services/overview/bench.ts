import type { BenchOverview, TrainStatus } from "#core/contract/records/bench.ts";
import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { OpticalTrain } from "#core/contract/records/microscope.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { calibrationInForce } from "../../store/repositories/calibration-repository.ts";
import { benchCounts } from "../../store/repositories/counts-repository.ts";
import { certificateDueOn } from "../../store/repositories/micrometer-repository.ts";
import { listMicroscopes } from "../../store/repositories/microscope-repository.ts";
import { personInUse } from "../../store/repositories/people-repository.ts";
import { trainsOfMicroscope } from "../../store/repositories/train-repository.ts";
import { isConfirmationWanted } from "../calibration/confirmations.ts";
import { fitnessOfTrain } from "../equipment/train-fitness.ts";
import type { Deps } from "../write-context/deps.ts";

/** A month's notice, so that a calibration can be planned. Common practice, no source. */
const DUE_SOON_DAYS = 30;
const MS_PER_DAY = 86_400_000;

const OVERDUE: ReadonlySet<TrainStatus["state"]> = new Set(["calibration overdue", "certificate overdue"]);

function daysBetween(from: string, to: string): number {
  return Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / MS_PER_DAY);
}

interface Dues {
  readonly calibration: string;
  readonly certificate: string;
}

function stateOf({ calibration, certificate }: Dues, today: string): Pick<TrainStatus, "state" | "why"> {
  if (certificate < today) {
    const also = calibration < today ? `; the calibration itself was due on ${calibration}` : "";
    return {
      state: "certificate overdue",
      why: `The certificate of its stage micrometer was due on ${certificate}${also}.`,
    };
  }
  if (calibration < today) {
    return { state: "calibration overdue", why: `The calibration was due on ${calibration}.` };
  }
  const [next, what] =
    certificate < calibration
      ? [certificate, "certificate of its stage micrometer"]
      : [calibration, "calibration"];
  const days = daysBetween(today, next);
  if (days > DUE_SOON_DAYS) return { state: "ready", why: `Calibrated; the ${what} is due on ${next}.` };
  const within = days === 0 ? "today" : days === 1 ? "tomorrow" : `in ${days} days`;
  return { state: "due soon", why: `The ${what} is due on ${next}, ${within}.` };
}

function statusOf(db: ReadableDb, train: OpticalTrain, today: string): TrainStatus {
  const inForce: CalibrationRecord | null = calibrationInForce(db, train.id);
  const fitness = fitnessOfTrain(db, train, inForce, today);
  if (fitness.state === "out of service") return { train, inForce, ...fitness, state: "out of service" };
  if (!inForce?.dueOn) {
    return {
      train,
      inForce: null,
      state: "not calibrated",
      why: "No calibration is in force: readings stay divisions until there is one.",
      replacedCertificateId: null,
    };
  }
  const certificate = certificateDueOn(db, inForce.certificateId) ?? inForce.dueOn;
  const due = stateOf({ calibration: inForce.dueOn, certificate }, today);
  if (fitness.state !== "usable") {
    const also = OVERDUE.has(due.state) ? ` ${due.why}` : "";
    return { train, inForce, ...fitness, state: fitness.state, why: `${fitness.why}${also}` };
  }
  if (OVERDUE.has(due.state) || !isConfirmationWanted(db, inForce.id)) {
    return { train, inForce, ...due, replacedCertificateId: null };
  }
  return {
    train,
    inForce,
    state: "not confirmed",
    why: "Another person has yet to confirm this calibration.",
    replacedCertificateId: null,
  };
}

function overview({ db, clock }: Deps): BenchOverview {
  const today = clock.today();
  return {
    microscopes: listMicroscopes(db).map((microscope) => ({
      microscope,
      trains: trainsOfMicroscope(db, microscope.id).map((train) => statusOf(db, train, today)),
    })),
    counts: benchCounts(db),
    asOf: clock.now(),
  };
}

export function benchServices(deps: Deps): HandlersOf<"bench.status" | "bench.overview" | "bench.changes"> {
  return {
    "bench.status": () => ({
      program: deps.program,
      databasePath: deps.paths.databaseFile,
      demo: deps.demo,
      personInUse: personInUse(deps.db),
      notices: [...deps.notices],
    }),
    "bench.overview": () => overview(deps),
    "bench.changes": ({ since }) => deps.changes.since(since),
  };
}
