import type { DemoClock } from "./demo-clock.ts";
import { INVENTED, type MicrometerKey, type NewCertificate } from "./registers.ts";

/** Errors of the lines as they really are: nominal position and certified − nominal, µm. */
export type TrueScale = readonly (readonly [nominal: number, error: number])[];

export const TRUE_SCALES: Readonly<Record<MicrometerKey, TrueScale>> = {
  millimetre: [
    [0, 0],
    [100, 0.03],
    [200, 0.06],
    [250, 0.08],
    [400, 0.09],
    [500, 0.12],
    [750, 0.21],
    [1000, 0.26],
  ],
  long: [
    [0, 0],
    [500, -0.11],
    [1000, -0.24],
    [1500, -0.31],
    [2000, -0.45],
  ],
  fine: [
    [0, 0],
    [50, 0.09],
    [100, 0.17],
    [150, 0.28],
    [200, 0.36],
  ],
};

const LABORATORY = "Fellgate Length Laboratory (invented)";

/** Certified positions minus nominal as a person types them; `sign` −1 for the certificate that had it wrong. */
function lines(scale: TrueScale, sign: 1 | -1): NewCertificate["lines"] {
  return scale.map(([nominal, error]) => ({ nominal: String(nominal), value: (sign * error).toFixed(2) }));
}

function certificate(
  number: string,
  scale: TrueScale,
  dates: { calibratedOn: string; dueOn: string; dueReason: string },
  U: string,
  sign: 1 | -1 = 1,
): NewCertificate {
  return {
    number,
    laboratory: LABORATORY,
    accreditation: "demo, none",
    ...dates,
    temperature: "20",
    sign: "error",
    lines: lines(scale, sign),
    expandedUncertainty: U,
    coverageFactor: "2",
  };
}

/** The certificates of the bench by the day they arrived; the long scale's has run out by today. */
export function demoCertificates(clock: DemoClock): {
  readonly millimetre: NewCertificate;
  readonly long: NewCertificate;
  readonly fine: NewCertificate;
  /** Replaces the one before: the laboratory had printed the errors with the wrong sign. */
  readonly fineCorrected: NewCertificate;
} {
  const reason = (years: number): string =>
    `Glass scale kept in its box, used a few times a month: ${years} years by the house rule. ${INVENTED}`;
  return {
    millimetre: certificate(
      "FL-D-0211",
      TRUE_SCALES.millimetre,
      { calibratedOn: clock.dateDaysAgo(700), dueOn: clock.dateDaysAgo(-1125), dueReason: reason(5) },
      "0.20",
    ),
    long: certificate(
      "FL-D-0147",
      TRUE_SCALES.long,
      { calibratedOn: clock.dateDaysAgo(1871), dueOn: clock.dateDaysAgo(45), dueReason: reason(5) },
      "0.40",
    ),
    fine: certificate(
      "FL-D-0212",
      TRUE_SCALES.fine,
      { calibratedOn: clock.dateDaysAgo(690), dueOn: clock.dateDaysAgo(-405), dueReason: reason(3) },
      "0.15",
      -1,
    ),
    fineCorrected: certificate(
      "FL-D-0212 corrected",
      TRUE_SCALES.fine,
      { calibratedOn: clock.dateDaysAgo(690), dueOn: clock.dateDaysAgo(-405), dueReason: reason(3) },
      "0.15",
    ),
  };
}
