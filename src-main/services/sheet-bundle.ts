import type { OpticalTrain } from "#core/contract/records/microscope.ts";
import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { amendmentsOfSheet } from "../store/audit-trail.ts";
import { calibrationsUsedBySheet } from "../store/calibration-repository.ts";
import type { ReadableDb } from "../store/connection.ts";
import { findMicrometer } from "../store/micrometer-repository.ts";
import { findMicroscope } from "../store/microscope-repository.ts";
import { listPeople } from "../store/people-repository.ts";
import { pageOfRows, trainIdsOfSheet } from "../store/row-repository.ts";
import { findTrain, findTrainOf } from "../store/train-repository.ts";
import type { SheetBundle } from "../workbook/sheet-bundle-type.ts";
import type { Deps } from "./deps.ts";
import { requireMethod } from "./methods.ts";
import { requireSheet } from "./sheets.ts";

/** Rows read at a time: few statements, little memory. */
const PAGE = 500;

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

function present<T>(found: T | null, what: string): T {
  if (found === null) throw new Error(`${what} of a sheet is missing`);
  return found;
}

/** @throws Refusal `sheet.unknown` */
function loadSheetBundle(db: ReadableDb, sheetId: string, deps: Deps): SheetBundle {
  const sheet = requireSheet(db, sheetId);
  const calibrations = calibrationsUsedBySheet(db, sheetId);
  const inUse = present(findTrainOf(db, sheet), "the train in use");
  const trains = new Map<string, OpticalTrain>([[inUse.id, inUse]]);
  for (const id of trainIdsOfSheet(db, sheetId)) trains.set(id, present(findTrain(db, id), "a train"));
  const micrometerIds = new Set(calibrations.map((calibration) => calibration.stageMicrometerId));
  return {
    sheet,
    method: requireMethod(db, sheet.methodId, "sheetId"),
    people: listPeople(db),
    microscope: present(findMicroscope(db, sheet.microscopeId), "the microscope"),
    trains: [...trains.values()],
    calibrations,
    stageMicrometers: [...micrometerIds].map((id) => present(findMicrometer(db, id), "a stage micrometer")),
    rows: () => rowsOf(db, sheetId),
    amendments: amendmentsOfSheet(db, sheetId),
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
    return await use(sheetIds.map((id) => ({ ...loadSheetBundle(snapshot.db, id, deps), asOf })));
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
