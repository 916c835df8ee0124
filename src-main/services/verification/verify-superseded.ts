import type { Measurement, SupersededMeasurement } from "#core/contract/records/sheet.ts";
import type { TrailLine } from "#core/contract/records/trail.ts";
import { eventOf } from "#core/contract/trail-events/read-event.ts";
import type { createYielder } from "../../long-work/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { eventsOf, replacingLines } from "../../store/repositories/audit-trail.ts";
import { findCalibration } from "../../store/repositories/calibration-repository.ts";
import { SLICE_ACT } from "../../store/repositories/reevaluated-results.ts";
import { listSlices } from "../../store/repositories/reevaluation-repository.ts";
import { findRowEvenUndone } from "../../store/repositories/row-repository.ts";
import {
  countSupersededBy,
  supersededOfRow,
  supersededPage,
} from "../../store/repositories/superseded-repository.ts";
import { requireMethod } from "../methods/methods.ts";
import { convertReadings } from "../sheets/conversion.ts";
import { aboutForTrail, rowFromTrail, storedReadings } from "../sheets/row-from-trail.ts";
import { requireSheet } from "../sheets/sheets.ts";
import type { Differences } from "./differences.ts";
import type { TrailIndex } from "./trail-index.ts";
import { checkRecord } from "./verify-calibrations.ts";

interface Range {
  readonly first: number;
  readonly last: number;
}

const ALL: Range = { first: 0, last: Number.MAX_SAFE_INTEGER };

/** The results that came from a file, each sheet's under a hash of their own. */
function readInRanges(acts: TrailIndex): Range[] {
  return acts.made("sheet").flatMap(({ detail }) => detail.superseded ?? []);
}

/** Every result that a re-evaluation replaced lies in one of its slices, which are compared by their hashes. */
function verifySliceCounts(db: ReadableDb, readIn: readonly Range[], differences: Differences): void {
  const from = (range: Range): number => countSupersededBy(db, SLICE_ACT, range);
  const kept = readIn.reduce((sum, range) => sum - from(range), from(ALL));
  const sliced = listSlices(db).reduce(
    (sum, one) => sum + one.lastSupersededId - one.firstSupersededId + 1,
    0,
  );
  differences.compare("results replaced by re-evaluations, in all slices", kept, sliced);
}

function recomputed(db: ReadableDb, rowId: string, measurement: Measurement) {
  const row = findRowEvenUndone(db, rowId);
  if (!row) throw new Error(`its row ${rowId} is missing`);
  const { definition } = requireMethod(db, requireSheet(db, row.sheetId).methodId, "sheetId");
  const { calibrationId } = measurement;
  const calibration = calibrationId === null ? null : findCalibration(db, calibrationId);
  return convertReadings(measurement, definition, calibration);
}

/** A result replaced by an act on its row: what it held before the line of that act, and its size from its readings. */
function verifyOne(
  db: ReadableDb,
  { rowId, measurement, at, by, act, reason }: { readonly rowId: string } & SupersededMeasurement,
  where: string,
  differences: Differences,
): void {
  const { dimension, divisions, size } = measurement;
  differences.compare(where, { divisions, size }, recomputed(db, rowId, measurement));
  const line = eventsOf(db, rowId).find((one) => one.act === act && one.at === at && one.by === by);
  if (!line) {
    differences.add(`${where}, trail`, "no line", `a line of ${act} at ${at}`);
    return;
  }
  const fromTrail = rowFromTrail(db, rowId, line.sequence);
  const here = `${where}, as told before trail line ${line.sequence}`;
  const stored = storedReadings({ measurements: [measurement] });
  differences.compare(here, stored[dimension], fromTrail.readings[dimension] ?? null);
  const about: Readonly<Record<string, unknown>> = { ...aboutForTrail(measurement) };
  for (const [name, value] of Object.entries(fromTrail.about[dimension] ?? {})) {
    differences.compare(`${here}, ${name}`, about[name], value);
  }
  // An undo keeps what it took back under the words of that act.
  const why = "words" in line.detail ? line.detail.words : line.reason;
  differences.compare(`${where}, reason`, reason, why ?? null);
}

/** The dimensions whose results a line says were replaced or taken away: those that had readings before it. */
function replacedByTrail(db: ReadableDb, line: TrailLine): string[] {
  const { subjectId, sequence, detail } = eventOf(line);
  const before = rowFromTrail(db, subjectId, sequence).readings;
  return Object.keys("now" in detail ? detail.now : {}).filter(
    (dimension) => before[dimension] !== undefined,
  );
}

/** Every result that a line of the trail says was replaced has been kept. */
async function verifyKept(
  db: ReadableDb,
  differences: Differences,
  yieldToEvents: ReturnType<typeof createYielder>,
): Promise<void> {
  for (let after = 0; ; ) {
    const lines = replacingLines(db, after, PAGE);
    for (const line of lines) {
      after = line.sequence;
      const where = `row ${line.subjectId}, result replaced by trail line ${line.sequence}`;
      checkRecord(where, differences, () => {
        const kept = supersededOfRow(db, line.subjectId).filter(
          ({ at, act }) => at === line.at && act === line.act,
        );
        for (const dimension of replacedByTrail(db, line)) {
          if (!kept.some(({ measurement }) => measurement.dimension === dimension)) {
            differences.add(`${where}, ${dimension}`, "no record", "the result as it was");
          }
        }
      });
      await yieldToEvents();
    }
    if (lines.length < PAGE) return;
  }
}

const PAGE = 500;

/** Every replaced result that no hash of its own covers, against the trail and its own readings. */
export async function verifyReplacedResults(
  db: ReadableDb,
  acts: TrailIndex,
  differences: Differences,
  yieldToEvents: ReturnType<typeof createYielder>,
): Promise<void> {
  const readIn = readInRanges(acts);
  verifySliceCounts(db, readIn, differences);
  await verifyKept(db, differences, yieldToEvents);
  for (let after = 0; ; ) {
    const page = supersededPage(db, SLICE_ACT, after, PAGE);
    for (const one of page) {
      after = one.id;
      if (readIn.some(({ first, last }) => one.id >= first && one.id <= last)) continue;
      const where = `superseded result ${one.id} of row ${one.rowId}`;
      checkRecord(where, differences, () => verifyOne(db, one, where, differences));
      await yieldToEvents();
    }
    if (page.length < PAGE) return;
  }
}
