import type { CalibrationConditions } from "./calibration.ts";

/** A default input as it would be typed, and where it comes from. */
export interface DefaultInput {
  readonly value: string;
  /** In words for a person; ends with the source, or says that there is none. */
  readonly why: string;
}

/**
 * What is assumed for every input of a factor's budget until somebody types better. Each may be set to 0.
 * A factor calibrated with these alone carries about 0.2 % for train and field beside certificate and readings.
 */
export const DEFAULT_CONDITIONS: Readonly<Record<keyof CalibrationConditions, DefaultInput>> = {
  temperature: {
    value: "20",
    why: "Reference temperature for lengths, 20 °C (ISO 1; from memory). Type the room's temperature if it differs.",
  },
  temperatureHalfWidth: {
    value: "3",
    why: "±3 °C covers a room and the lamp's warmth; on glass it changes the factor by 0.003 %. Common practice, no source.",
  },
  expansion: {
    value: "0.0000091",
    why: "Soda-lime glass, 9.1·10⁻⁶ per kelvin (manufacturers' tables of glass).",
  },
  expansionHalfWidth: {
    value: "0.000001",
    why: "Spread between kinds of soda-lime glass, ±1·10⁻⁶ per kelvin. Common practice, no source.",
  },
  micrometerDriftHalfWidth: {
    value: "0.05",
    why: "A glass scale kept clean hardly changes; ±0.05 µm since its certificate. Common practice, no source: replace it by the difference between its last two certificates.",
  },
  alignmentHalfAngle: {
    value: "0",
    why: "The scales are turned until they lie along each other, so that the factor is the plain ratio; ±1° would raise it by 0.005 %. Common practice, no source.",
  },
  fieldDistortionHalfWidth: {
    value: "0.001",
    why: "±0.1 % between the span calibrated and the middle of the field. Common practice, no source: step a short interval across the field and type half the largest relative difference.",
  },
  trainHalfWidth: {
    value: "0.0015",
    why: "±0.15 % for seating of eyepiece and head, turret and the person's settings. Common practice, no source: repeat at the extremes of use and type half the largest relative difference.",
  },
  trainDoubt: {
    value: "0.2",
    why: "The figure for seating and settings is itself good to 20 %, which counts as 12.5 degrees of freedom (JCGM 100:2008 G.4.2).",
  },
  smallestFraction: {
    value: "0.1",
    why: "Tenths of a division are estimated at either end. Common practice, no source.",
  },
};

/**
 * The default conditions as typed text, with the micrometer's own expansion where its record gives one (1/K).
 */
export function defaultTypedConditions(
  expansion?: string,
  expansionHalfWidth?: string,
): Record<keyof CalibrationConditions, string> {
  const of = (key: keyof CalibrationConditions): string => DEFAULT_CONDITIONS[key].value;
  return {
    temperature: of("temperature"),
    temperatureHalfWidth: of("temperatureHalfWidth"),
    expansion: expansion ?? of("expansion"),
    expansionHalfWidth: expansionHalfWidth ?? of("expansionHalfWidth"),
    micrometerDriftHalfWidth: of("micrometerDriftHalfWidth"),
    alignmentHalfAngle: of("alignmentHalfAngle"),
    fieldDistortionHalfWidth: of("fieldDistortionHalfWidth"),
    trainHalfWidth: of("trainHalfWidth"),
    trainDoubt: of("trainDoubt"),
    smallestFraction: of("smallestFraction"),
  };
}
