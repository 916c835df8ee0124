import type { BenchOverview, TrainStatus } from "#core/contract/records/bench.ts";
import type { Microscope } from "#core/contract/records/microscope.ts";
import type { Sheet } from "#core/contract/records/sheet.ts";
import { objectiveWords, trainWords } from "#core/optics/train-name.ts";
import { isEnded } from "#core/optics/turret.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import type { MarkState } from "../../parts/StateMark.tsx";
import type { Location } from "../../window/location.ts";

/** Something to be done at this bench today, and where it is done. */
export interface Job {
  readonly key: string;
  readonly words: string;
  /** Why, and until when. */
  readonly why: string;
  readonly mark: MarkState;
  readonly go: Location;
}

type State = TrainStatus["state"];
/** What the bench needs of a sheet. */
export type SheetInShort = Pick<Sheet, "id" | "number" | "sample" | "rowCount">;

/** Heaviest first. */
const WEIGHT: Readonly<Record<State, number>> = {
  "check before use": 0,
  "certificate overdue": 1,
  "calibration overdue": 2,
  "not calibrated": 3,
  "not confirmed": 4,
  "out of service": 5,
  "due soon": 6,
  ready: 7,
};

export const MARK_OF_STATE: Readonly<Record<State, MarkState>> = {
  ready: "good",
  "due soon": "warn",
  "not confirmed": "warn",
  "check before use": "bad",
  "out of service": "none",
  "calibration overdue": "bad",
  "certificate overdue": "bad",
  "not calibrated": "none",
};

/** Jobs with a number key: seven about calibration, two about measuring. */
export const MOST_CALIBRATION_JOBS = 7;

/** What needs doing, heaviest first; jobs beyond the number keys are counted, not listed. */
export function jobsOfToday(
  overview: BenchOverview,
  sheets: readonly SheetInShort[],
): { readonly jobs: readonly Job[]; readonly more: number } {
  const waiting = overview.microscopes
    .flatMap(({ microscope, trains }) => trains.map((status) => ({ microscope, status })))
    .filter(({ microscope, status }) => status.state !== "ready" && !isEnded(status.train, microscope))
    .sort((a, b) => WEIGHT[a.status.state] - WEIGHT[b.status.state]);
  const listed = waiting.slice(0, MOST_CALIBRATION_JOBS);
  return {
    jobs: [...listed.map(({ microscope, status }) => jobOfTrain(microscope, status)), ...measuring(sheets)],
    more: waiting.length - listed.length,
  };
}

function jobOfTrain(microscope: Microscope, status: TrainStatus): Job {
  const { train, state, why } = status;
  const objective = microscope.objectives.find((one) => one.id === train.objectiveId);
  const name = `${objective ? objectiveWords(objective) : "objective"} on ${microscope.name}`;
  const extra = trainWords(microscope, train);
  const certificate = state === "certificate overdue" && status.inForce;
  return {
    key: train.id,
    words: certificate ? `Renew the certificate behind ${name}` : `${verbOf(status)} ${name}`,
    why: extra ? `${capital(extra)}. ${why}` : why,
    mark: MARK_OF_STATE[state],
    go:
      certificate && status.inForce
        ? {
            screen: "registers",
            register: "micrometers",
            recordId: status.inForce.stageMicrometerId,
            form: null,
          }
        : placeOf(state, status, microscope),
  };
}

const VERBS: Readonly<Partial<Record<State, string>>> = {
  "check before use": "Check",
  "not confirmed": "Confirm the calibration of",
  "out of service": "Out of service:",
};

function verbOf({ state, replacedCertificateId }: TrainStatus): string {
  return replacedCertificateId === null ? (VERBS[state] ?? "Calibrate") : "Re-evaluate";
}

/** Where the job of a state is done. */
function placeOf(
  state: State,
  { train, inForce, replacedCertificateId }: TrainStatus,
  microscope: Microscope,
): Location {
  if (replacedCertificateId !== null) {
    return { screen: "trace", result: null, subject: { kind: "certificate", id: replacedCertificateId } };
  }
  if (state === "not confirmed" && inForce) {
    return { screen: "records", tab: "calibrations", recordId: inForce.id };
  }
  if (state === "out of service") {
    return { screen: "registers", register: "microscopes", recordId: microscope.id, form: null };
  }
  const place = { screen: "calibrate", trainId: train.id, calibrationId: null } as const;
  return state === "check before use" && inForce ? { ...place, check: true } : place;
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

function measuring(sheets: readonly SheetInShort[]): readonly Job[] {
  const open: Job = {
    key: "open a sheet",
    words: "Open a new sheet",
    why: "One sample, one method.",
    mark: "good",
    go: { screen: "measure", sheetId: null },
  };
  const last = sheets[0];
  if (!last) return [open];
  return [
    {
      key: last.id,
      words: `Continue sheet ${last.number}`,
      why: `${last.sample}, ${countedNoun(last.rowCount, "row")} so far`,
      mark: "good",
      go: { screen: "measure", sheetId: last.id },
    },
    open,
  ];
}
