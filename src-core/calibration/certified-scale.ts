import type { Decimal } from "../quantity/decimal.ts";

/** One line of the certificate's table, µm. */
export interface CertifiedLine {
  readonly nominal: Decimal;
  /** Certified − nominal. */
  readonly error: Decimal;
  /** U of this position from the line the certificate counts from, µm, where it states one for each line. */
  readonly expandedUncertainty?: Decimal | undefined;
}

/** A stage micrometer as its certificate describes it. */
export interface CertifiedScale {
  /** Rising in `nominal`, at least two, first usually 0. */
  readonly lines: readonly CertifiedLine[];
  /** Expanded uncertainty of a certified interval, µm, and its coverage factor: a of U = a + b·L. */
  readonly expandedUncertainty: Decimal;
  readonly coverageFactor: Decimal;
  /** b of U = a + b·L, µm per µm; none where U is the same for every length. */
  readonly uncertaintyPerUm?: Decimal | undefined;
  /** Effective degrees of freedom of U; infinite where none are stated. */
  readonly degreesOfFreedom?: Decimal | undefined;
  /** Temperature the certified values hold at, °C; 20 °C when the certificate says nothing else. */
  readonly referenceTemperature?: Decimal;
}

export interface CertifiedInterval {
  /** Nominal length, µm. */
  readonly nominal: Decimal;
  /** Nominal + certified errors, at the certificate's temperature, µm. */
  readonly length: Decimal;
  /** Standard uncertainty of the length, µm: that of the certificate and that of interpolating, below, combined. */
  readonly standardUncertainty: Decimal;
  readonly certified: Decimal;
  /** Zero when both ends are certified lines. */
  readonly interpolation: Decimal;
  /** True when an end lies between two certified lines. */
  readonly interpolated: boolean;
}
