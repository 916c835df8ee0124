import type { Measurement } from "#core/contract/records/sheet.ts";
import type { ToldEvent } from "#core/contract/trail-events/read-event.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { eventsOf } from "../../store/repositories/audit-trail.ts";
import { findRowEvenUndone } from "../../store/repositories/row-repository.ts";
import {
  misplacedSecondMeasurements,
  reportOfSecondReading,
  rowsOfSecondReading,
  type StoredSecondReading,
  secondMeasurements,
  secondReadingsOfSheet,
} from "../../store/repositories/second-reading-repository.ts";
import { listSheets } from "../../store/repositories/sheet-repository.ts";
import { aboutForTrail, storedReadings } from "../sheets/row-from-trail.ts";
import { compareWithTrail, factsFromTrail, type StoredFact, storedFacts } from "./compare-with-trail.ts";
import type { Differences } from "./differences.ts";
import type { TrailIndex } from "./trail-index.ts";

function storedFields(db: ReadableDb, reading: StoredSecondReading): StoredFact["fields"] {
  const { sheetId, choice, startedAt, reader, sameReader, note, closedAt, closedBy, number } = reading;
  const { dimensions = null, leftOut = null } = reportOfSecondReading(db, reading.id) ?? {};
  const rowIds = rowsOfSecondReading(db, reading.id);
  const begun = { sheetId, number, choice, rowIds, sameReader, note, startedAt, reader };
  return { ...begun, closedAt, closedBy, dimensions, leftOut };
}

function fieldsFromTrail(
  { act, at, by, detail }: ToldEvent<"secondReadings.start" | "secondReadings.close">,
  number: number,
): StoredFact["fields"] {
  if (act === "secondReadings.close") {
    return { closedAt: at, closedBy: by, dimensions: detail.dimensions, leftOut: detail.leftOut };
  }
  const { sheetId, choice, rowIds, sameReader, note } = detail;
  const begun = { sheetId, number, choice, rowIds, sameReader, note, startedAt: at, reader: by };
  return { ...begun, closedAt: null, closedBy: null, dimensions: null, leftOut: null };
}

interface SecondFromTrail {
  readings: Record<string, string | null>;
  about: unknown;
}

/** What the trail tells of the second measurements of one reading, by row and dimension. */
function measurementsFromTrail(db: ReadableDb, id: string): Map<string, SecondFromTrail> {
  const fromTrail = new Map<string, SecondFromTrail>();
  for (const { act, detail } of eventsOf(db, id)) {
    if (act !== "secondReadings.enter") continue;
    const { rowId, dimension, edge, repeat, to, about } = detail;
    const key = `${rowId}, ${dimension}`;
    const place = repeat === 1 ? edge : `${edge} ${repeat}`;
    fromTrail.set(key, { readings: { ...fromTrail.get(key)?.readings, [place]: to }, about });
  }
  return fromTrail;
}

function compareMeasurement(
  here: string,
  measurement: Measurement,
  fromTrail: SecondFromTrail | undefined,
  differences: Differences,
): void {
  const readings = storedReadings({ measurements: [measurement] })[measurement.dimension] ?? {};
  const { calibration: _, ...typed } = readings;
  differences.compare(here, typed, fromTrail?.readings ?? null);
  if (fromTrail?.about) differences.compare(here, aboutForTrail(measurement), fromTrail.about);
}

function verifyMeasurements(db: ReadableDb, id: string, where: string, differences: Differences): void {
  const fromTrail = measurementsFromTrail(db, id);
  for (const [rowId, measurements] of secondMeasurements(db, id)) {
    for (const measurement of measurements) {
      const key = `${rowId}, ${measurement.dimension}`;
      compareMeasurement(
        `${where}, row ${key}, as told by the trail`,
        measurement,
        fromTrail.get(key),
        differences,
      );
      fromTrail.delete(key);
    }
  }
  for (const key of fromTrail.keys()) {
    differences.add(`${where}, row ${key}`, "no record", "what the trail tells of it");
  }
}

/** The pairs of a closed report rest on second readings that nobody has changed since. */
function verifyPairs(db: ReadableDb, id: string, where: string, differences: Differences): void {
  const second = secondMeasurements(db, id);
  for (const pair of reportOfSecondReading(db, id)?.pairs ?? []) {
    const measured = second.get(pair.rowId)?.find((one) => one.dimension === pair.dimension);
    differences.compare(
      `${where}, pair of row ${pair.rowId}, ${pair.dimension}`,
      { ordinal: pair.ordinal, second: pair.second },
      {
        ordinal: findRowEvenUndone(db, pair.rowId)?.ordinal ?? null,
        second: measured?.size?.value ?? null,
      },
    );
  }
}

/** Who read what a second time, in which order, and what was typed. */
export function verifySecondReadingActs(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const names = new Map<string, string>();
  const stored = listSheets(db).flatMap((sheet) =>
    secondReadingsOfSheet(db, sheet.id).map((reading) => {
      names.set(reading.id, `sheet ${sheet.number}, second reading ${reading.number}`);
      return reading;
    }),
  );
  const where = (id: string): string => names.get(id) ?? `second reading ${id}`;
  const counts = new Map<string, number>();
  const numbers = new Map<string, number>();
  for (const { subjectId, detail } of acts.of("secondReadings.start")) {
    const number = (counts.get(detail.sheetId) ?? 0) + 1;
    counts.set(detail.sheetId, number);
    numbers.set(subjectId, number);
  }
  compareWithTrail(
    differences,
    storedFacts(
      stored,
      ({ id }) => id,
      (reading) => ({ where: where(reading.id), fields: storedFields(db, reading) }),
    ),
    factsFromTrail(
      acts.of("secondReadings.start", "secondReadings.close"),
      (line) => line.subjectId,
      (line) => ({
        where: where(line.subjectId),
        fields: fieldsFromTrail(line, numbers.get(line.subjectId) ?? 0),
      }),
    ),
  );
  for (const { id, rowId, dimension } of misplacedSecondMeasurements(db)) {
    differences.add(
      `${where(id)}, row ${rowId}`,
      `a reading kept as of ${dimension}`,
      "of its own dimension",
    );
  }
  for (const { id } of stored) {
    verifyMeasurements(db, id, where(id), differences);
    verifyPairs(db, id, where(id), differences);
  }
}
