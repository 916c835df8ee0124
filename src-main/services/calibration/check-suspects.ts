import { checkSuspects, type LikelyCause, type OtherFactor } from "#core/calibration/check-detective.ts";
import { settingInterval } from "#core/calibration/setting-interval.ts";
import { readScale, readSetting } from "#core/calibration/typed-calibration.ts";
import type { TypedSetting } from "#core/contract/records/calibration.ts";
import type { CheckResult } from "#core/contract/records/check.ts";
import type { Microscope, OpticalTrain } from "#core/contract/records/microscope.ts";
import type { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { isEnded } from "#core/optics/turret.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { calibrationInForce } from "../../store/repositories/calibration-repository.ts";
import { findMicroscope } from "../../store/repositories/microscope-repository.ts";
import { trainsOfMicroscope } from "../../store/repositories/train-repository.ts";

/** In which one part a train differs from the one checked; null: in none or in several. */
function partApart(own: OpticalTrain, other: OpticalTrain): OtherFactor["part"] | null {
  const apart = [
    ...(own.objectiveId === other.objectiveId ? [] : (["objective"] as const)),
    ...(own.intermediateMagnification === other.intermediateMagnification ? [] : (["changer"] as const)),
    ...(own.eyepieceId === other.eyepieceId ? [] : (["eyepiece"] as const)),
  ];
  return apart.length === 1 ? (apart[0] ?? null) : null;
}

function nameOfPart(part: OtherFactor["part"], train: OpticalTrain, microscope: Microscope): string {
  if (part === "changer") return `the changer at ${train.intermediateMagnification}×`;
  if (part === "eyepiece") {
    return `eyepiece ${microscope.eyepieces.find(({ id }) => id === train.eyepieceId)?.name ?? "?"}`;
  }
  const objective = microscope.objectives.find(({ id }) => id === train.objectiveId);
  return `${objective?.magnification ?? "?"}× at position ${objective?.position ?? "?"}`;
}

/** Every train one part away: with its factor in force, else with that of the engravings scaled by this train's own. */
function otherFactors(db: ReadableDb, train: OpticalTrain, inForce: Decimal): OtherFactor[] {
  const microscope = findMicroscope(db, train.microscopeId);
  if (!microscope) return [];
  return trainsOfMicroscope(db, microscope.id).flatMap((other) => {
    const part = partApart(train, other);
    if (part === null || isEnded(other, microscope)) return [];
    const measured = calibrationInForce(db, other.id)?.result;
    return [
      {
        name: nameOfPart(part, other, microscope),
        part,
        factor: measured
          ? decimal(measured.factor)
          : inForce.times(other.nominalFactor).div(train.nominalFactor),
        standardUncertainty: measured ? decimal(measured.standardUncertainty) : null,
      },
    ];
  });
}

/** The likely causes of a check beyond its limit; its limit tells how well it read, for 2·√(u² + u²) holds both. */
export function suspectsOfCheck(
  db: ReadableDb,
  train: OpticalTrain,
  { factor, factorInForce, limit }: CheckResult,
  read: {
    readonly settings: readonly TypedSetting[];
    readonly micrometer: Pick<StageMicrometer, "scaleLengthUm" | "divisions">;
    readonly certificate: Certificate;
  },
): LikelyCause[] {
  const linePitch = decimal(read.micrometer.scaleLengthUm).div(read.micrometer.divisions);
  const scale = readScale(read.certificate);
  const inForce = decimal(factorInForce);
  return checkSuspects({
    factor: decimal(factor),
    // A relative doubt: the same reading through another objective is as good in divisions.
    standardUncertainty: decimal(limit).div(2).times(factor).div(factorInForce),
    inForce,
    others: otherFactors(db, train, inForce),
    linePitch,
    spans: read.settings.map((typed, index) => {
      const setting = readSetting(typed, index, linePitch);
      return {
        distance: settingInterval(scale, setting, index).length,
        divisions: setting.reticleRight.minus(setting.reticleLeft),
      };
    }),
  });
}
