import { pooledRecordOf } from "#core/calibration/calculation-basis.ts";
import { defaultTypedConditions } from "#core/calibration/default-conditions.ts";
import { DEFAULT_REPEATABILITY } from "#core/calibration/repeatability.ts";
import type { TypedSetting } from "#core/contract/records/calibration.ts";
import type { CalibrationDraft } from "#renderer/screens/calibrate/calibration-draft.ts";
import type { CalibrationContext } from "#renderer/screens/calibrate/calibration-preview.ts";
import { withBlankEnd } from "#renderer/screens/calibrate/settings-rows.ts";

const AT = "2026-11-25T09:00:00.000Z";

export const setting = (
  reticleLeft: string,
  reticleRight: string,
  lineLeft: string,
  lineRight: string,
): TypedSetting => ({ reticleLeft, reticleRight, lineLeft, lineRight });

/** A 10× train with a 10 mm / 100 reticle and a 1 mm / 100 micrometer certified without errors; all invented. */
export function context(): CalibrationContext {
  const objective = {
    id: "o",
    microscopeId: "m",
    position: 1,
    magnification: "10" as never,
    numericalAperture: null,
    immersion: "dry" as const,
    serial: "",
  };
  const line = (nominal: string) => ({
    nominal: nominal as never,
    error: "0" as never,
    typedNominal: nominal,
    typedValue: "0",
  });
  const certificate = {
    id: "c",
    stageMicrometerId: "s",
    number: "C-1",
    laboratory: "Invented Length Laboratory",
    accreditation: "",
    calibratedOn: "2025-06-01",
    dueOn: "2099-06-01",
    dueReason: "glass scale",
    temperature: "20" as never,
    sign: "error" as const,
    lines: [line("0"), line("1000")],
    expandedUncertainty: "0.3" as never,
    coverageFactor: "2" as never,
    registeredAt: AT,
  };
  return {
    record: { id: "k", state: "draft", settings: [] } as never,
    train: {
      id: "t",
      microscopeId: "m",
      eyepieceId: "e",
      reticleId: "r",
      objectiveId: "o",
      intermediateMagnification: "1" as never,
      nominalFactor: "10" as never,
    },
    microscope: { id: "m", name: "Stand A", objectives: [objective], eyepieces: [] } as never,
    objective,
    micrometer: {
      id: "s",
      name: "SM 1",
      serial: "4711",
      maker: "",
      scaleLengthUm: "1000" as never,
      divisions: 100,
      substrate: "soda-lime glass",
      expansion: "0.0000091" as never,
      expansionHalfWidth: "0.000001" as never,
      certificates: [certificate],
      registeredAt: AT,
    },
    certificate,
    earlier: null,
    basis: { rule: 2, pooled: pooledRecordOf(DEFAULT_REPEATABILITY) },
    scatters: [],
  };
}

export function draft(...settings: readonly TypedSetting[]): CalibrationDraft {
  return {
    settings: withBlankEnd(settings),
    conditions: defaultTypedConditions(),
    estimator: "origin-regression",
    coverage: "t95",
    remark: "",
  };
}
