import type { Decimal } from "../quantity/decimal.ts";

/**
 * What the certificate's second column holds. `position`: certified distance from zero; `error`: certified − nominal;
 * `correction`: what to add to the marked value, here the same number as the error; some laboratories print
 * indicated − true instead, which is `indication-error` (nominal − certified). The entry must say which.
 */
export const CERTIFICATE_SIGNS = ["position", "error", "correction", "indication-error"] as const;
export type CertificateSign = (typeof CERTIFICATE_SIGNS)[number];

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
