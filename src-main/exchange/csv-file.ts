import { createReadStream } from "node:fs";
import type { Measurement, SpecimenRow } from "#core/contract/records/sheet.ts";
import { shortHead } from "#core/contract/records/trail.ts";
import { typedElsewhere } from "#core/measurement/elsewhere-words.ts";
import { completeReadings, readingsOf } from "#core/measurement/readings.ts";
import type { MissingQuantity, RowQuantity } from "#core/measurement/row-quantities.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import type { Progress } from "../long-work/progress.ts";
import { jointDigest, openDigest } from "../workbook/sheet-book/data-digest.ts";
import { type Lookups, lookupsOf } from "../workbook/sheet-book/lookups.ts";
import { methodNumbers } from "../workbook/sheet-book/method-cells.ts";
import { type RowResults, rowResults } from "../workbook/sheet-book/row-results.ts";
import type { SheetBundle } from "../workbook/sheet-book/sheet-bundle-type.ts";
import type { WrittenFile } from "../workbook/sheet-book/workbook.ts";
import { writeFileWhole } from "../workbook/spreadsheet/write-file.ts";
import { CSV_MARK, csvNumber, csvRecord, csvText } from "./csv-text.ts";
import { rowsWithProgress } from "./rows-with-progress.ts";
import { textStream } from "./text-stream.ts";

/**
 * Columns of the table: one record for each dimension and each derived quantity of each row, so that sheets of different
 * methods fit in one file. Numbers are plain, with a point; sizes carry all their digits.
 */
export const CSV_COLUMNS = [
  "sheet",
  "sample",
  "customer",
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
  "derived value",
  "derived unit",
  "derived u",
  "derived k",
  "derived U",
  "derived as recorded",
  "class",
  "converted elsewhere (µm)",
  "converted by",
  "audit trail up to",
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

const OF_THE_ROW = 8;
const DERIVED = 7;
const ELSEWHERE = 2;
const OF_THE_FILE = 1;
const NOTHING_MEASURED = CSV_COLUMNS.length - OF_THE_ROW - ELSEWHERE - OF_THE_FILE;
const BEFORE_DERIVED = NOTHING_MEASURED - DERIVED;

const nothing = (fields: number): string[] => new Array<string>(fields).fill("");

/** A derived quantity: its name where dimensions stand, its figures in columns of their own, for their unit varies. */
function derivedFields(quantity: RowQuantity | MissingQuantity): string[] {
  const { name, unit } = quantity;
  const missing = CSV_COLUMNS.indexOf("why no size") - OF_THE_ROW;
  const middle = nothing(BEFORE_DERIVED);
  middle[0] = csvText(name);
  if ("missing" in quantity) {
    middle[missing] = csvText(quantity.missing);
    return [...middle, ...nothing(DERIVED - 1)];
  }
  return [
    ...middle,
    csvNumber(quantity.value),
    csvText(unit),
    csvNumber(quantity.standardUncertainty),
    csvNumber(quantity.coverageFactor),
    csvNumber(quantity.expandedUncertainty),
    csvText(`${quantity.shownValue} ± ${quantity.shownUncertainty}`),
  ];
}

/** What of a dimension was converted elsewhere. */
function elsewhereFields({ elsewhere }: SpecimenRow, dimension: string): string[] {
  const typed = typedElsewhere(elsewhere, dimension);
  if (!elsewhere || typed === null) return nothing(ELSEWHERE);
  return [csvNumber(readDecimal("size", typed).value.toFixed()), csvText(elsewhere.convertedBy)];
}

interface RowText {
  readonly text: string;
  readonly records: number;
}

function recordsOf(row: SpecimenRow, bundle: SheetBundle, lookups: Lookups, results: RowResults): RowText {
  const { sheet, method } = bundle;
  const start = [
    csvText(sheet.number),
    csvText(sheet.sample),
    csvText(sheet.customer ?? ""),
    csvNumber(row.ordinal),
    csvText(row.label),
    csvText(row.note),
    row.struck === null ? "" : csvText("struck"),
    csvText(row.struck?.reason ?? ""),
  ];
  const { derived, classes } = results.of(row);
  const classOf = (key: string): string =>
    csvText(
      classes
        .filter((one) => one.of === key)
        .map((one) => one.words)
        .join("; "),
    );
  const nameOf = (dimension: string): string =>
    method.definition.dimensions.find(({ key }) => key === dimension)?.name ?? dimension;
  const sizes = row.measurements.map((one) => [
    ...measured(one, nameOf(one.dimension), lookups),
    ...nothing(DERIVED - 1),
    classOf(one.dimension),
    ...elsewhereFields(row, one.dimension),
  ]);
  const quantities =
    row.measurements.length === 0
      ? []
      : derived.map((one) => [...derivedFields(one), classOf(one.key), ...nothing(ELSEWHERE)]);
  const others = (row.elsewhere?.sizes ?? [])
    .filter(({ dimension }) => !row.measurements.some((one) => one.dimension === dimension))
    .map(({ dimension }) => [
      csvText(nameOf(dimension)),
      ...nothing(NOTHING_MEASURED - 1),
      ...elsewhereFields(row, dimension),
    ]);
  const found = [...sizes, ...quantities, ...others];
  const lines = found.length === 0 ? [nothing(NOTHING_MEASURED + ELSEWHERE)] : found;
  const end = csvText(shortHead(bundle.bench?.trailHead ?? null));
  return {
    text: lines.map((fields) => csvRecord([...start, ...fields, end])).join(""),
    records: lines.length,
  };
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
  progress: Progress,
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
        const results = rowResults(bundle, lookups, methodNumbers(bundle.method));
        const digest = openDigest(bundle);
        for await (const row of rowsWithProgress(bundle, progress)) {
          digest.add(row);
          const made = recordsOf(row, bundle, lookups, results);
          records += made.records;
          await out.add(made.text);
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
