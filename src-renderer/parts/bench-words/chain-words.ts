import type { RepeatReading } from "#core/contract/records/sheet.ts";
import type { TraceChain } from "#core/contract/records/trace.ts";
import { ratioBeside } from "#core/measurement/by-hand.ts";
import { readingsOf } from "#core/measurement/readings.ts";
import { eventWords } from "#core/optics/lent-eyepiece.ts";
import { asSentence } from "#core/quantity/as-sentence.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import { shownDay } from "./instant.ts";

/** A reading as typed, for people: `23.0 … 51.5 div`, `20.5 div read directly`. */
export function readingWords({ number, left, right, direct }: RepeatReading): string {
  const words = direct === null ? `${left ?? "?"} … ${right ?? "?"} div` : `${direct} div read directly`;
  return number === 1 ? words : `${number}: ${words}`;
}

/** All readings behind a result, as typed. */
export function readingsWords(measurement: TraceChain["measurement"]): string {
  return readingsOf(measurement).map(readingWords).join("; ");
}

/**
 * The conversion with all its digits: `28.5 div × 10.3734… µm/div = 295.64… µm`; where a method allows for an angle
 * between object and scale, with what that multiplies by.
 */
export function conversionWords({ measurement, calibration }: TraceChain): string {
  const { divisions, size } = measurement;
  const factor = calibration?.record.result?.factor;
  if (divisions === null || size === null || factor === undefined) return "";
  const length = decimal(divisions).abs();
  const angle = ratioBeside(decimal(size.value), length.times(factor));
  const times = angle === null ? "" : ` × ${textOfDecimal(angle)} (angle between object and scale)`;
  return `${textOfDecimal(length)} div × ${factor} µm/div${times} = ${size.value} µm`;
}

/** What in the chain gives cause for care, each in a sentence; empty when nothing does. */
export function chainCautions(chain: TraceChain, personName: (id: string | null) => string): string[] {
  const { measurement, calibration, certificate, certificateReplacement, row, events } = chain;
  const cautions: string[] = [];
  const record = calibration?.record;
  const day = shownDay(measurement.enteredAt);
  if (row.struck) cautions.push(`The row is struck: ${row.struck.reason} (${personName(row.struck.by)}).`);
  if (measurement.missing !== null) cautions.push(measurement.missing);
  if (record?.state === "withdrawn") {
    cautions.push(
      `The calibration has been withdrawn since: ${asSentence(record.endReason ?? "no reason kept")}`,
    );
  }
  if (record?.dueOn && record.dueOn < day) {
    cautions.push(`The calibration was overdue on ${day}: it was due on ${record.dueOn}.`);
  }
  if (certificate && certificate.dueOn < day) {
    cautions.push(`The certificate was overdue on ${day}: it was due on ${certificate.dueOn}.`);
  }
  if (certificateReplacement) {
    cautions.push(
      `The certificate has been replaced by a corrected one on ${shownDay(certificateReplacement.at)}: ${asSentence(certificateReplacement.reason)}`,
    );
  }
  if (calibration?.approval.confirmationWanted) {
    cautions.push("The calibration has not been confirmed by a second person.");
  }
  for (const event of events) {
    if (record?.inForceAt && event.recordedAt > record.inForceAt && event.happenedOn <= day) {
      cautions.push(
        `Between the calibration and the reading, on ${event.happenedOn}: ${eventWords(event)}, ${asSentence(event.words)}`,
      );
    }
  }
  return cautions;
}
