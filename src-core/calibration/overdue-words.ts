import type { OverdueDates, OverdueUse } from "../contract/records/overdue-use.ts";

/** What is past its date, as a sentence goes on with it. */
export function overdueWords({
  calibrationDueOn,
  certificateDueOn,
}: Omit<OverdueDates, "calibrationId">): string {
  const calibration = calibrationDueOn === null ? "" : `the calibration was due on ${calibrationDueOn}`;
  const certificate =
    certificateDueOn === null ? "" : `the certificate of the stage micrometer was due on ${certificateDueOn}`;
  return [calibration, certificate].filter((part) => part !== "").join(", ");
}

/** One use as it is printed beside results. */
export function overdueUseWords(use: OverdueUse, name: string): string {
  return `Used knowingly past its due date: ${overdueWords(use)}. “${use.reason}” (${name}, ${use.at.slice(0, 10)}).`;
}

/** Of what is past its date on a day; null: nothing is. Dates are ISO 8601, compared as text. */
export function overdueOn(
  today: string,
  calibrationId: string,
  calibrationDueOn: string | null,
  certificateDueOn: string | null,
): OverdueDates | null {
  const past = (dueOn: string | null): string | null => (dueOn !== null && dueOn < today ? dueOn : null);
  const dates = {
    calibrationId,
    calibrationDueOn: past(calibrationDueOn),
    certificateDueOn: past(certificateDueOn),
  };
  return dates.calibrationDueOn === null && dates.certificateDueOn === null ? null : dates;
}

/** Whether somebody has spoken of every date that is past. */
export function isSpokenOf(dates: OverdueDates, uses: readonly OverdueUse[]): boolean {
  const said = uses.filter((one) => one.calibrationId === dates.calibrationId);
  return (["calibrationDueOn", "certificateDueOn"] as const).every(
    (key) => dates[key] === null || said.some((one) => one[key] === dates[key]),
  );
}
