import { createReadStream } from "node:fs";
import type { Measurement, SpecimenRow } from "#core/contract/records/sheet.ts";
import { completeReadings, readingsOf } from "#core/measurement/readings.ts";
import { jointDigest, openDigest } from "../workbook/data-digest.ts";
import { type Lookups, lookupsOf } from "../workbook/lookups.ts";
import type { Pace } from "../workbook/pace.ts";
import type { SheetBundle } from "../workbook/sheet-bundle-type.ts";
import type { WrittenFile } from "../workbook/workbook.ts";
import { writeFileWhole } from "../workbook/write-file.ts";
import { CSV_MARK, csvNumber, csvRecord, csvText } from "./csv-text.ts";
import { pacedRows } from "./paced-rows.ts";
import { textStream } from "./text-stream.ts";

/**
 * Columns of the table: one record for each dimension of each row, so that sheets of different methods fit in one file.
 * Numbers are plain, with a point; sizes carry all their digits.
 */
export const CSV_COLUMNS = [
  "sheet",
  "sample",
  "row",
  "label",
  "note",
  "struck",
  "struck reason",
  "dimension",
  "left as typed",
  "right as typed",
  "direct as typed",
  "further readings as typed",
  "readings",
  "divisions (div)",
  "factor (µm/div)",
  "size (µm)",
  "u (µm)",
  "degrees of freedom",
  "k",
  "U (µm)",
  "as recorded (µm)",
  "objective",
  "calibration id",
  "flags",
  "why no size",
  "read at (UTC)",
  "read by",
] as const;

function furtherReadings({ repeats }: Measurement): string {
  return repeats
    .map(({ number, left, right, direct }) => `${number}: ${direct ?? `${left ?? "?"} to ${right ?? "?"}`}`)
    .join("; ");
}

function measured(measurement: Measurement, name: string, lookups: Lookups): string[] {
  const { size, calibrationId } = measurement;
  const calibration = calibrationId === null ? null : lookups.calibration(calibrationId);
  return [
    csvText(name),
    csvText(measurement.left ?? ""),
    csvText(measurement.right ?? ""),
    csvText(measurement.direct ?? ""),
    csvText(furtherReadings(measurement)),
    csvNumber(completeReadings(readingsOf(measurement)).length),
    csvNumber(measurement.divisions),
    csvNumber(calibration?.record.result?.factor ?? null),
    csvNumber(size?.value ?? null),
    csvNumber(size?.standardUncertainty ?? null),
    size !== null && size.degreesOfFreedom === null
      ? csvText("infinite")
      : csvNumber(size?.degreesOfFreedom ?? null),
    csvNumber(size?.coverageFactor ?? null),
    csvNumber(size?.expandedUncertainty ?? null),
    csvText(size === null ? "" : `${size.shownValue} ± ${size.shownUncertainty}`),
    csvText(lookups.objective(measurement.trainId)),
    csvText(calibrationId ?? ""),
    csvText(measurement.flags.join("; ")),
    csvText(measurement.missing ?? ""),
    csvText(measurement.enteredAt),
    csvText(lookups.person(measurement.enteredBy)),
  ];
}

const NOTHING_MEASURED = CSV_COLUMNS.length - 7;

function recordsOf(row: SpecimenRow, bundle: SheetBundle, lookups: Lookups): string {
  const { sheet, method } = bundle;
  const start = [
    csvText(sheet.number),
    csvText(sheet.sample),
    csvNumber(row.ordinal),
    csvText(row.label),
    csvText(row.note),
    row.struck === null ? "" : csvText("struck"),
    csvText(row.struck?.reason ?? ""),
  ];
  if (row.measurements.length === 0)
    return csvRecord([...start, ...new Array<string>(NOTHING_MEASURED).fill("")]);
  return row.measurements
    .map((one) => {
      const dimension = method.definition.dimensions.find(({ key }) => key === one.dimension);
      return csvRecord([...start, ...measured(one, dimension?.name ?? one.dimension, lookups)]);
    })
    .join("");
}

/** Records in a file: lines that are not inside quotation marks. */
async function countRecords(path: string): Promise<number> {
  let quoted = false;
  let records = 0;
  for await (const piece of createReadStream(path)) {
    for (const byte of piece as Buffer) {
      if (byte === 0x22) quoted = !quoted;
      else if (byte === 0x0a && !quoted) records += 1;
    }
  }
  return records;
}

/**
 * Writes the rows of sheets as one table by RFC 4180 in UTF-8 with its mark, whole or not at all. Text that a
 * spreadsheet would compute is neutralised; numbers are plain.
 * @throws Error of the file system, or when it is stopped
 */
export async function writeCsv(
  bundles: readonly SheetBundle[],
  path: string,
  pace: Pace,
): Promise<WrittenFile> {
  const digests: string[] = [];
  let records = 1;
  const bytes = await writeFileWhole(
    path,
    async (stream) => {
      const out = textStream(stream);
      await out.add(CSV_MARK + csvRecord(CSV_COLUMNS.map((one) => `"${one}"`)));
      for (const bundle of bundles) {
        const lookups = lookupsOf(bundle);
        const digest = openDigest(bundle);
        for await (const row of pacedRows(bundle, pace)) {
          digest.add(row);
          records += Math.max(1, row.measurements.length);
          await out.add(recordsOf(row, bundle, lookups));
        }
        for (const line of bundle.amendments) digest.add(line);
        digests.push(digest.hex());
      }
      await out.flush();
    },
    async (temporary) => {
      const found = await countRecords(temporary);
      if (found !== records)
        throw new Error(`The file was written with ${found} lines instead of ${records}.`);
    },
  );
  return { bytes, dataSha256: jointDigest(digests) };
}
