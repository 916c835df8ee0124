import type { Attachment } from "#core/contract/records/attachment.ts";
import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { OpticalTrain } from "#core/contract/records/microscope.ts";
import type { Sheet, SpecimenRow } from "#core/contract/records/sheet.ts";
import type { ReplacedResult } from "#core/contract/records/sheet-document.ts";
import type { TrailLine } from "#core/contract/records/trail.ts";
import type { PrintedHead } from "#core/contract/records/trail-signature.ts";
import { createYielder } from "../../long-work/yield-to-events.ts";
import { canonicalJson } from "../../store/canonical-json.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { assessmentsOf } from "../../store/repositories/assessment-repository.ts";
import { attachmentsOfSheet } from "../../store/repositories/attachment-repository.ts";
import { amendmentsOfSheet } from "../../store/repositories/audit-trail.ts";
import { calibrationsInOrder } from "../../store/repositories/calibration-repository.ts";
import { checksOfCalibration } from "../../store/repositories/check-repository.ts";
import { laboratorySettings } from "../../store/repositories/laboratory-repository.ts";
import { findMicrometer } from "../../store/repositories/micrometer-repository.ts";
import { findMicroscope } from "../../store/repositories/microscope-repository.ts";
import { overdueUsesOf } from "../../store/repositories/overdue-use-repository.ts";
import { listPeople } from "../../store/repositories/people-repository.ts";
import { readInAmendments } from "../../store/repositories/read-in-repository.ts";
import { reevaluatedOfSheet, SLICE_ACT } from "../../store/repositories/reevaluated-results.ts";
import { ordinalsOfRows, pageOfRows, sourcesBetween } from "../../store/repositories/row-repository.ts";
import {
  reportOfSecondReading,
  secondReadingsOfSheet,
} from "../../store/repositories/second-reading-repository.ts";
import { sheetDataSha256 } from "../../store/repositories/sheet-digest.ts";
import { signOffStateOfSheet, signOffsOfSheet } from "../../store/repositories/sign-off-repository.ts";
import {
  calibrationsOfSuperseded,
  supersededOfSheet,
  trainsOfSuperseded,
} from "../../store/repositories/superseded-repository.ts";
import { findTrain, findTrainOf } from "../../store/repositories/train-repository.ts";
import type { BenchSide, SheetBundle } from "../../workbook/sheet-book/sheet-bundle-type.ts";
import { requireMethod } from "../methods/methods.ts";
import { unprovenLines } from "../practice/unproven.ts";
import { calibrationWork } from "../records/overdue-uses.ts";
import { statedReturns } from "../records/stated-returns.ts";
import { printedHead } from "../records/trail-signing.ts";
import { requireSheet } from "../sheets/sheets.ts";
import type { Deps } from "../write-context/deps.ts";

/** Rows read at a time: few statements, little memory, and nobody waits long for the page. */
const PAGE = 100;

/** Every row of a sheet by ordinal, read page by page. */
function* rowsOf(db: ReadableDb, sheetId: string): Generator<SpecimenRow> {
  for (let from = 1; ; ) {
    const page = pageOfRows(db, sheetId, from, PAGE);
    yield* page;
    const last = page.at(-1);
    if (!last || page.length < PAGE) return;
    from = last.ordinal + 1;
  }
}

function* replacedResultsOf(db: ReadableDb, sheetId: string): Generator<ReplacedResult> {
  for (let after = 0; ; ) {
    const page = supersededOfSheet(db, sheetId, after, PAGE);
    for (const { id, result } of page) {
      after = id;
      yield result;
    }
    if (page.length < PAGE) return;
  }
}

/** Re-evaluations tell of many results in one line: here each of them has its own, under the number of that line. */
function* reevaluatedLines(
  db: ReadableDb,
  sheetId: string,
): Generator<{ readonly ordinal: number; readonly line: TrailLine }> {
  for (let after = 0; ; ) {
    const page = reevaluatedOfSheet(db, sheetId, after, PAGE);
    for (const one of page) {
      after = one.id;
      const { sequence, hash, at, by, reason, rowId, ordinal, dimension, from, to } = one;
      const size = to === null ? { from } : { from, to };
      const calibrationId = { from: one.fromCalibrationId, to: one.toCalibrationId };
      const detail = canonicalJson({ dimension, size, calibrationId });
      const about = { act: SLICE_ACT, subject: "specimen_row", subjectId: rowId };
      yield { ordinal, line: { sequence, at, personId: by, ...about, reason, detail, hash } };
    }
    if (page.length < PAGE) return;
  }
}

function present<T>(found: T | null, what: string): T {
  if (found === null) throw new Error(`${what} of a sheet is missing`);
  return found;
}

type Reached = Pick<SheetBundle, "trains" | "calibrations" | "stageMicrometers">;

/** Ids of what the rows of a sheet were measured with, trains in the order of their first rows; makes way for others. */
async function sourcesOf(
  db: ReadableDb,
  { id, rowCount }: Pick<Sheet, "id" | "rowCount">,
): Promise<{ readonly trainIds: readonly string[]; readonly calibrationIds: readonly string[] }> {
  const yieldToEvents = createYielder();
  const trainIds = new Set<string>();
  const calibrationIds = new Set<string>();
  for (let from = 1; from <= rowCount; from += PAGE) {
    for (const { trainId, calibrationId } of sourcesBetween(db, id, from, from + PAGE - 1)) {
      trainIds.add(trainId);
      if (calibrationId !== null) calibrationIds.add(calibrationId);
    }
    await yieldToEvents();
  }
  return { trainIds: [...trainIds], calibrationIds: [...calibrationIds] };
}

/** Some calibrations with all that their assessments compare them with, directly or through others. */
function withComparedOnes(db: ReadableDb, ids: readonly string[]): ReadonlySet<string> {
  const reached = new Set(ids);
  // A set grows while it is walked: what is added is looked at as well.
  for (const id of reached) {
    for (const { earlierId } of assessmentsOf(db, id)) if (earlierId !== null) reached.add(earlierId);
  }
  return reached;
}

/** The replaced results of a sheet, and what they, assessments and checks rest on and is not among its records already. */
function earlierOf(
  db: ReadableDb,
  sheetId: string,
  { trains, stageMicrometers, calibrations: used }: Reached,
): SheetBundle["earlier"] {
  const known = new Set(used.map((one) => one.id));
  const all = withComparedOnes(db, [...known, ...calibrationsOfSuperseded(db, sheetId)]);
  const calibrations = calibrationsInOrder(
    db,
    [...all].filter((id) => !known.has(id)),
  );
  const checks = [...all].flatMap((id) => checksOfCalibration(db, id));
  const wanting = (ids: readonly string[], there: readonly { readonly id: string }[]): string[] =>
    [...new Set(ids)].filter((id) => !there.some((one) => one.id === id));
  const trainIds = [...calibrations.map((one) => one.trainId), ...trainsOfSuperseded(db, sheetId)];
  const micrometerIds = [...calibrations, ...checks].map((one) => one.stageMicrometerId);
  return {
    trains: wanting(trainIds, trains).map((id) => present(findTrain(db, id), "an earlier train")),
    calibrations,
    stageMicrometers: wanting(micrometerIds, stageMicrometers).map((id) =>
      present(findMicrometer(db, id), "an earlier stage micrometer"),
    ),
    results: () => replacedResultsOf(db, sheetId),
  };
}

/** Pictures of rows that an undo took away stay with the bench. */
function picturesOnSheet(db: ReadableDb, sheetId: string): Attachment[] {
  const all = attachmentsOfSheet(db, sheetId);
  const there = ordinalsOfRows(db, [...new Set(all.map((one) => one.subject.id))]);
  return all.filter((one) => there.has(one.subject.id));
}

function benchSideOf(
  db: ReadableDb,
  sheetId: string,
  calibrations: readonly CalibrationRecord[],
  head: PrintedHead,
): BenchSide {
  const { name, address } = laboratorySettings(db);
  return {
    rowsSha256: sheetDataSha256(db, sheetId),
    state: signOffStateOfSheet(db, sheetId).state,
    laboratory: { name, address },
    ...head,
    unproven: unprovenLines(db, "sheet", sheetId),
    statedReturns: statedReturns(db, calibrations),
    secondReadings: secondReadingsOfSheet(db, sheetId)
      .toReversed()
      .map((one) => ({ ...one, report: reportOfSecondReading(db, one.id) })),
  };
}

/** @throws Refusal `sheet.unknown` */
async function loadSheetBundle(
  db: ReadableDb,
  sheetId: string,
  deps: Deps,
  head: PrintedHead,
): Promise<SheetBundle> {
  const sheet = requireSheet(db, sheetId);
  const { trainIds, calibrationIds } = await sourcesOf(db, sheet);
  const calibrations = calibrationsInOrder(db, calibrationIds);
  const inUse = present(findTrainOf(db, sheet), "the train in use");
  const trains = new Map<string, OpticalTrain>([[inUse.id, inUse]]);
  for (const id of trainIds) trains.set(id, present(findTrain(db, id), "a train"));
  const micrometerIds = new Set(calibrations.map((calibration) => calibration.stageMicrometerId));
  const reached = {
    calibrations,
    trains: [...trains.values()],
    stageMicrometers: [...micrometerIds].map((id) => present(findMicrometer(db, id), "a stage micrometer")),
  };
  const earlier = earlierOf(db, sheetId, reached);
  const assessed = [...calibrations, ...earlier.calibrations];
  return {
    sheet,
    method: requireMethod(db, sheet.methodId, "sheetId"),
    people: listPeople(db),
    microscope: present(findMicroscope(db, sheet.microscopeId), "the microscope"),
    ...reached,
    assessments: assessed.flatMap(({ id }) =>
      assessmentsOf(db, id).map((one) => ({ ...one, calibrationId: id })),
    ),
    checks: assessed.flatMap(({ id }) => checksOfCalibration(db, id)),
    overdueUses: [{ work: "sheet" as const, workId: sheetId }, ...assessed.map(calibrationWork)].flatMap(
      (work) => overdueUsesOf(db, work),
    ),
    rows: () => rowsOf(db, sheetId),
    amendments: [...readInAmendments(db, sheetId), ...amendmentsOfSheet(db, sheetId)],
    reevaluated: () => reevaluatedLines(db, sheetId),
    earlier,
    pictures: picturesOnSheet(db, sheetId),
    signOffs: signOffsOfSheet(db, sheetId),
    bench: benchSideOf(db, sheetId, calibrations, head),
    program: { name: deps.program.name, version: deps.program.version },
    asOf: deps.clock.now(),
  };
}

/**
 * Reads everything about sheets from one snapshot of the bench and lends it to `use`: what is entered meanwhile does not
 * show in it. The bundles are not to be kept beyond `use`.
 * @throws Refusal `sheet.unknown`, and what `use` throws
 */
export async function withSheetBundles<T>(
  deps: Deps,
  sheetIds: readonly string[],
  use: (bundles: readonly SheetBundle[]) => Promise<T>,
): Promise<T> {
  const snapshot = deps.snapshot();
  try {
    const asOf = deps.clock.now();
    const head = await printedHead(deps, snapshot.db);
    const bundles: SheetBundle[] = [];
    for (const id of sheetIds)
      bundles.push({ ...(await loadSheetBundle(snapshot.db, id, deps, head)), asOf });
    return await use(bundles);
  } finally {
    snapshot.close();
  }
}

/** As `withSheetBundles`, for one sheet. */
export async function withSheetBundle<T>(
  deps: Deps,
  sheetId: string,
  use: (bundle: SheetBundle) => Promise<T>,
): Promise<T> {
  return withSheetBundles(deps, [sheetId], async ([bundle]) => use(present(bundle ?? null, "the bundle")));
}
