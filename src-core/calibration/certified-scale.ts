import type { Decimal } from "../quantity/decimal.ts";

/** One line of the certificate's table, µm. */
export interface CertifiedLine {
  readonly nominal: Decimal;
  /** Certified − nominal. */
  readonly error: Decimal;
}

/** A stage micrometer as its certificate describes it. */
export interface CertifiedScale {
  /** Rising in `nominal`, at least two, first usually 0. */
  readonly lines: readonly CertifiedLine[];
  /** Expanded uncertainty of a certified interval, µm, and its coverage factor. */
  readonly expandedUncertainty: Decimal;
  readonly coverageFactor: Decimal;
  /** Temperature the certified values hold at, °C; 20 °C when the certificate says nothing else. */
  readonly referenceTemperature?: Decimal;
}

export interface CertifiedInterval {
  /** Nominal length, µm. */
  readonly nominal: Decimal;
  /** Nominal + certified errors, at the certificate's temperature, µm. */
  readonly length: Decimal;
  /** Standard uncertainty of the length, µm. */
  readonly standardUncertainty: Decimal;
  /** True when an end lies between two certified lines. */
  readonly interpolated: boolean;
}
