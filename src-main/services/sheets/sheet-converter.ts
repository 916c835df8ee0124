import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { Method } from "#core/contract/records/method.ts";
import type { Microscope, OpticalTrain } from "#core/contract/records/microscope.ts";
import type { Measurement, Sheet } from "#core/contract/records/sheet.ts";
import type { LabelHistory } from "#core/contract/records/sheet-columns.ts";
import { flagSurroundings, type TrainInForce } from "#core/measurement/flag-surroundings.ts";
import { flagMeasurement } from "#core/measurement/measurement-flags.ts";
import { isInParts, readingsOf } from "#core/measurement/readings.ts";
import { labelStem } from "#core/measurement/size-history.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { calibrationInForce, findCalibration } from "../../store/repositories/calibration-repository.ts";
import { certificateDueOn } from "../../store/repositories/micrometer-repository.ts";
import { findMicroscope } from "../../store/repositories/microscope-repository.ts";
import { historyOfLabel } from "../../store/repositories/size-history-repository.ts";
import { findTrain, findTrainOf, trainsOfMicroscope } from "../../store/repositories/train-repository.ts";
import { fitnessOfTrain, type TrainFitness } from "../equipment/train-fitness.ts";
import { requireTrainThere } from "../equipment/train-there.ts";
import { requireMethod } from "../methods/methods.ts";
import { type Converted, convertReadings, type TakenReadings, whyNoSize } from "./conversion.ts";

/** Sizes remembered while many rows are converted: readings are in tenths, so most come again. */
const MOST_REMEMBERED = 20_000;

/** Everything of a measurement that follows from its readings. */
export type Conversion = Pick<Measurement, "calibrationId" | "divisions" | "size" | "missing" | "flags">;

const NOT_YET: Conversion = { calibrationId: null, divisions: null, size: null, missing: null, flags: [] };

/**
 * Converts readings of one sheet within one act: looks each register up once, so that ten thousand rows cost ten
 * thousand conversions and a handful of look-ups. Not to be kept beyond its act.
 */
export class SheetConverter {
  readonly method: Method;
  readonly #db: ReadableDb;
  readonly #sheet: Sheet;
  readonly #personId: string;
  readonly #today: string;
  readonly #calibrations = new Map<string, CalibrationRecord>();
  readonly #inForce = new Map<string, CalibrationRecord | null>();
  readonly #dueOn = new Map<string, string | null>();
  readonly #fitness = new Map<string, TrainFitness["state"]>();
  readonly #histories = new Map<string, LabelHistory[]>();
  readonly #sizes = new Map<string, Converted>();
  readonly #trains = new Map<string, OpticalTrain>();
  readonly #there = new Set<string>();
  #inUse: OpticalTrain | null = null;
  #microscope: Microscope | null = null;
  #neighbours: readonly TrainInForce[] | null = null;

  constructor(
    db: ReadableDb,
    sheet: Sheet,
    { personId, today }: { readonly personId: string; readonly today: string },
  ) {
    this.#db = db;
    this.#sheet = sheet;
    this.#personId = personId;
    this.#today = today;
    this.method = requireMethod(db, sheet.methodId, "sheetId");
  }

  trainInUse(): OpticalTrain {
    this.#inUse ??= findTrainOf(this.#db, this.#sheet);
    if (!this.#inUse) throw new Error(`the train in use of sheet ${this.#sheet.number} is missing`);
    return this.#inUse;
  }

  trainOf({ trainId }: Pick<Measurement, "trainId">): OpticalTrain {
    const train = this.#trains.get(trainId) ?? findTrain(this.#db, trainId);
    if (!train) throw new Error(`the train ${trainId} of a measurement is missing`);
    this.#trains.set(trainId, train);
    return train;
  }

  /** @throws Refusal `item.out-of-service` */
  requireThere(train: OpticalTrain): void {
    if (this.#there.has(train.id)) return;
    requireTrainThere(this.#db, train, this.#today, "cell");
    this.#there.add(train.id);
  }

  microscope(): Microscope {
    this.#microscope ??= findMicroscope(this.#db, this.#sheet.microscopeId);
    if (!this.#microscope) throw new Error(`the microscope of sheet ${this.#sheet.number} is missing`);
    return this.#microscope;
  }

  calibrationInForce(trainId: string): CalibrationRecord | null {
    const known = this.#inForce.get(trainId);
    if (known !== undefined) return known;
    const found = calibrationInForce(this.#db, trainId);
    this.#inForce.set(trainId, found);
    return found;
  }

  /** The calibration a measurement is frozen to. */
  calibration(id: string): CalibrationRecord {
    const found = this.#calibrations.get(id) ?? findCalibration(this.#db, id);
    if (!found) throw new Error(`the calibration ${id} of a measurement is missing`);
    this.#calibrations.set(id, found);
    return found;
  }

  #certificateDueOn(certificateId: string): string | null {
    const known = this.#dueOn.get(certificateId);
    if (known !== undefined) return known;
    const dueOn = certificateDueOn(this.#db, certificateId);
    this.#dueOn.set(certificateId, dueOn);
    return dueOn;
  }

  #historyOf(label: string, dimension: string): LabelHistory | undefined {
    const stem = labelStem(label);
    if (stem === "") return undefined;
    let histories = this.#histories.get(stem);
    if (!histories) {
      const { familyId } = this.method;
      histories = historyOfLabel(this.#db, { sheetId: this.#sheet.id, familyId, label: stem });
      this.#histories.set(stem, histories);
    }
    return histories.find((one) => one.dimension === dimension);
  }

  #trainsInForce(): readonly TrainInForce[] {
    this.#neighbours ??= trainsOfMicroscope(this.#db, this.#sheet.microscopeId).map((train) => ({
      train,
      inForce: this.calibrationInForce(train.id),
    }));
    return this.#neighbours;
  }

  #fitnessOf(train: OpticalTrain): TrainFitness["state"] {
    const known = this.#fitness.get(train.id);
    if (known !== undefined) return known;
    const { state } = fitnessOfTrain(this.#db, train, this.calibrationInForce(train.id), this.#today);
    this.#fitness.set(train.id, state);
    return state;
  }

  #converted(taken: TakenReadings, calibration: CalibrationRecord | null): Converted {
    const { left, right, direct, repeats } = taken;
    const inParts = isInParts(this.method.definition, taken.dimension);
    const key = JSON.stringify([calibration?.id, inParts, left, right, direct, repeats]);
    const known = this.#sizes.get(key);
    if (known) return known;
    const converted = convertReadings(taken, this.method.definition, calibration);
    if (this.#sizes.size >= MOST_REMEMBERED) this.#sizes.clear();
    this.#sizes.set(key, converted);
    return converted;
  }

  /** Size and flags of the readings as they stand today; nothing while no reading is complete. */
  convert(
    taken: TakenReadings,
    of: {
      readonly label: string;
      readonly train: OpticalTrain;
      readonly calibration: CalibrationRecord | null;
    },
  ): Conversion {
    const { label, train, calibration } = of;
    const { dimension } = taken;
    const converted = this.#converted(taken, calibration);
    if (converted.divisions === null) return NOT_YET;
    const around = flagSurroundings({
      definition: this.method.definition,
      microscope: this.microscope(),
      train,
      calibration,
      certificateDueOn: calibration ? this.#certificateDueOn(calibration.certificateId) : null,
      trainState: this.#fitnessOf(train),
      personId: this.#personId,
      inParts: isInParts(this.method.definition, dimension),
      today: this.#today,
      history: this.#historyOf(label, dimension),
      trains: () => this.#trainsInForce(),
    });
    const findings = flagMeasurement(readingsOf(taken), converted.size, around);
    return {
      ...converted,
      calibrationId: calibration?.id ?? null,
      missing: calibration ? null : whyNoSize(train, this.microscope()),
      flags: findings.map((one) => one.flag),
    };
  }
}
