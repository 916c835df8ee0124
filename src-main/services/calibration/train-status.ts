import type { TrainStatus } from "#core/contract/records/bench.ts";
import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { OpticalTrain } from "#core/contract/records/microscope.ts";
import { daysBetween } from "#core/trends/civil-day.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { calibrationInForce } from "../../store/repositories/calibration-repository.ts";
import { certificateDueOn } from "../../store/repositories/micrometer-repository.ts";
import { fitnessOfTrain } from "../equipment/train-fitness.ts";
import { isConfirmationWanted } from "./confirmations.ts";

/** A month's notice, so that a calibration can be planned. Common practice, no source. */
const DUE_SOON_DAYS = 30;

const OVERDUE: ReadonlySet<TrainStatus["state"]> = new Set(["calibration overdue", "certificate overdue"]);

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

/** What stands in the way of a train today, in the order of weight, and until when it may be used. */
export function trainStatus(db: ReadableDb, train: OpticalTrain, today: string): TrainStatus {
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

const TO_BE_BORNE_IN_MIND: ReadonlySet<TrainStatus["state"]> = new Set([
  "calibration overdue",
  "certificate overdue",
  "check before use",
  "out of service",
]);

/** What must be said with every result made with a train on this day; null when nothing stands in the way. */
export function trainCaution(db: ReadableDb, train: OpticalTrain, today: string): string | null {
  const { state, why } = trainStatus(db, train, today);
  return TO_BE_BORNE_IN_MIND.has(state) ? `Used on ${today} all the same. ${why}` : null;
}
