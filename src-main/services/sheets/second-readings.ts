import { createHash } from "node:crypto";
import type { ParsedInput } from "#core/contract/calls.ts";
import type { SecondReading, SecondReadingRow } from "#core/contract/records/second-reading.ts";
import type { Measurement, SpecimenRow } from "#core/contract/records/sheet.ts";
import { agreementReport, type SecondReadingPair } from "#core/measurement/agreement-report.ts";
import { entryOfEdge, readingAt, withReading } from "#core/measurement/readings.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { immediate, type ReadableDb } from "../../store/connection.ts";
import {
  draftsOfSecondReading,
  forgetSecondDrafts,
  keepSecondDraft,
} from "../../store/repositories/draft-repository.ts";
import { findRow, measuredRowIds } from "../../store/repositories/row-repository.ts";
import {
  closeSecondReading,
  findSecondReading,
  insertSecondReading,
  putSecondMeasurement,
  reportOfSecondReading,
  rowsOfSecondReading,
  type StoredSecondReading,
  secondMeasurements,
  secondReadingsOfSheet,
} from "../../store/repositories/second-reading-repository.ts";
import { findTrain } from "../../store/repositories/train-repository.ts";
import { requireTrainThere } from "../equipment/train-there.ts";
import { requireMethod } from "../methods/methods.ts";
import type { Deps } from "../write-context/deps.ts";
import {
  inTransactionOnce,
  inTransactionOnceAbout,
  type WriteContext,
} from "../write-context/in-transaction.ts";
import { readableText, requireOneKind } from "./enter-reading.ts";
import { aboutForTrail } from "./row-from-trail.ts";
import { requireRow } from "./rows.ts";
import { SheetConverter } from "./sheet-converter.ts";
import { requireSheet } from "./sheets.ts";

function requireReading(db: ReadableDb, id: string): StoredSecondReading {
  const found = findSecondReading(db, id);
  if (found) return found;
  throw new Refusal("second-reading.unknown", "That second reading is not on this bench.", {
    field: "secondReadingId",
    hint: "Open the list of second readings of the sheet.",
  });
}

function requireOpen(db: ReadableDb, id: string): StoredSecondReading {
  const found = requireReading(db, id);
  if (found.state === "open") return found;
  throw new Refusal("second-reading.closed", `Second reading ${found.number} is closed.`, {
    field: "secondReadingId",
    hint: "Its report stands; start another one to read again.",
  });
}

/** What there is to read twice of a row. */
function firstMeasurements(row: SpecimenRow | null): Measurement[] {
  return row?.struck === null ? row.measurements.filter((one) => one.divisions !== null) : [];
}

function rowToRead(db: ReadableDb, rowId: string, own: readonly Measurement[]): SecondReadingRow | null {
  const row = findRow(db, rowId);
  if (!row) return null;
  return {
    rowId,
    ordinal: row.ordinal,
    label: row.label,
    stage: row.stage,
    dimensions: firstMeasurements(row).map(({ dimension, trainId }) => ({ dimension, trainId })),
    measurements: [...own],
  };
}

function rowsToRead(db: ReadableDb, id: string): SecondReadingRow[] {
  const own = secondMeasurements(db, id);
  return rowsOfSecondReading(db, id).flatMap((rowId) => rowToRead(db, rowId, own.get(rowId) ?? []) ?? []);
}

function withCount(db: ReadableDb, stored: StoredSecondReading): SecondReading {
  const isRead = ({ dimensions, measurements }: SecondReadingRow): boolean =>
    dimensions.every(({ dimension }) =>
      measurements.some((one) => one.dimension === dimension && one.divisions !== null),
    );
  return { ...stored, readCount: rowsToRead(db, stored.id).filter(isRead).length };
}

function findCounted(db: ReadableDb, id: string): SecondReading | null {
  const stored = findSecondReading(db, id);
  return stored && withCount(db, stored);
}

/** Rows in an order that nobody chose: by a hash of the id of this second reading and their own. */
function drawn(rowIds: readonly string[], seed: string, count: number): string[] {
  return rowIds
    .map((id) => ({ id, place: createHash("sha256").update(`${seed} ${id}`).digest("hex") }))
    .sort((a, b) => (a.place < b.place ? -1 : 1))
    .slice(0, count)
    .map((one) => one.id);
}

function chosenRows(db: ReadableDb, input: ParsedInput<"secondReadings.start">, seed: string): string[] {
  const { sheetId, choice } = input;
  if (choice.kind === "rows") {
    const ids = [...new Set(choice.rowIds)];
    return ids.filter((id) => firstMeasurements(requireRow(db, sheetId, id)).length > 0);
  }
  const measured = measuredRowIds(db, sheetId);
  const count = choice.kind === "count" ? choice.count : Math.ceil((measured.length * choice.percent) / 100);
  return drawn(measured, seed, count);
}

function start(ctx: WriteContext, input: ParsedInput<"secondReadings.start">, id: string): SecondReading {
  const { db, at, by, audit } = ctx;
  const sheet = requireSheet(db, input.sheetId);
  const open = secondReadingsOfSheet(db, sheet.id).find((one) => one.state === "open");
  if (open) {
    throw new Refusal("second-reading.open", `Second reading ${open.number} of this sheet is still open.`, {
      hint: "Go on with it, or close it first.",
    });
  }
  const rowIds = chosenRows(db, input, id);
  if (rowIds.length === 0) {
    throw new Refusal("second-reading.nothing", "There is no measured row to read a second time.", {
      field: "choice",
      hint: "Choose rows with a complete reading that are not struck.",
    });
  }
  const sameReader = rowIds.some((rowId) =>
    firstMeasurements(findRow(db, rowId)).some((one) => one.enteredBy === by.id),
  );
  const { choice, note: words } = input;
  insertSecondReading(
    db,
    { id, sheetId: sheet.id, choice, startedAt: at, reader: by.id, sameReader, note: words },
    rowIds,
  );
  audit({
    act: "secondReadings.start",
    subject: "second_reading",
    subjectId: id,
    detail: { sheetId: sheet.id, choice, rowIds, sameReader, note: words },
  });
  return withCount(db, requireReading(db, id));
}

function requireReader(reading: StoredSecondReading, by: WriteContext["by"]): void {
  if (reading.reader === by.id) return;
  throw new Refusal("second-reading.reader", "This second reading was begun by another person.", {
    hint: "Let that person go on, or close it and start your own.",
  });
}

function enter(
  ctx: WriteContext,
  input: ParsedInput<"secondReadings.enter">,
  today: string,
): SecondReadingRow {
  const { db, at, by, audit } = ctx;
  const { rowId, cell } = input;
  const reading = requireOpen(db, input.secondReadingId);
  requireReader(reading, by);
  const row = requireRow(db, reading.sheetId, rowId);
  if (!rowsOfSecondReading(db, reading.id).includes(rowId)) {
    throw new Refusal("row.unknown", `Row ${row.ordinal} was not chosen for this second reading.`, {
      field: "rowId",
    });
  }
  const first = firstMeasurements(row).find((one) => one.dimension === cell.dimension);
  if (!first) {
    throw new Refusal(
      "dimension.unknown",
      "This dimension of the row has no first reading to compare with.",
      {
        field: "cell.dimension",
      },
    );
  }
  const typed = readableText(input.typed);
  const own = secondMeasurements(db, reading.id).get(rowId) ?? [];
  const before = own.find((one) => one.dimension === cell.dimension);
  requireOneKind(before, cell);
  if (readingAt(before, cell) === null) {
    const train = findTrain(db, first.trainId);
    if (train) requireTrainThere(db, train, today, "cell");
  }
  const converter = new SheetConverter(db, requireSheet(db, reading.sheetId), { personId: by.id, today });
  const { left, right, direct, repeats } = withReading(before, cell, typed);
  const { dimension } = cell;
  const taken = { dimension, entry: entryOfEdge(cell.edge), left, right, direct, repeats };
  const calibration = first.calibrationId ? converter.calibration(first.calibrationId) : null;
  const now: Measurement = {
    ...taken,
    trainId: first.trainId,
    ...converter.convert(taken, {
      label: row.label,
      train: converter.trainOf(first),
      calibration,
    }),
    enteredAt: at,
    enteredBy: by.id,
  };
  putSecondMeasurement(db, reading.id, rowId, now);
  forgetSecondDrafts(db, reading.id, { rowId, cell });
  audit({
    act: "secondReadings.enter",
    subject: "second_reading",
    subjectId: reading.id,
    detail: { rowId, ...cell, from: readingAt(before, cell), to: typed, about: aboutForTrail(now) },
  });
  const kept = own.filter((one) => one.dimension !== cell.dimension);
  const read = rowToRead(db, rowId, [...kept, now]);
  if (!read) throw new Error(`row ${rowId} is missing after it was read`);
  return read;
}

function pairsOf(db: ReadableDb, id: string): SecondReadingPair[] {
  const second = secondMeasurements(db, id);
  return rowsOfSecondReading(db, id).flatMap((rowId) => {
    const row = findRow(db, rowId);
    const first = firstMeasurements(row);
    const own = second.get(rowId) ?? [];
    const dimensions = new Set([...first, ...own].map((one) => one.dimension));
    return [...dimensions].map((dimension) => ({
      rowId,
      ordinal: row?.ordinal ?? 0,
      dimension,
      first: first.find((one) => one.dimension === dimension) ?? null,
      second: own.find((one) => one.dimension === dimension) ?? null,
    }));
  });
}

function close(ctx: WriteContext, id: string): SecondReading {
  const { db, at, by, audit } = ctx;
  const reading = requireOpen(db, id);
  const sheet = requireSheet(db, reading.sheetId);
  const { definition } = requireMethod(db, sheet.methodId, "sheetId");
  const report = agreementReport(pairsOf(db, id), definition.dimensions);
  closeSecondReading(db, id, { at, by: by.id, report });
  forgetSecondDrafts(db, id, null);
  const { dimensions, leftOut } = report;
  audit({
    act: "secondReadings.close",
    subject: "second_reading",
    subjectId: id,
    detail: { closed: true, dimensions, leftOut },
  });
  return withCount(db, requireReading(db, id));
}

/** Blind second readings: until one is closed, nothing of the first readings is in any answer here. */
export function secondReadingServices(deps: Deps) {
  return handlers({
    "secondReadings.list": ({ sheetId }) =>
      secondReadingsOfSheet(deps.db, requireSheet(deps.db, sheetId).id).map((one) => withCount(deps.db, one)),

    "secondReadings.get": ({ secondReadingId }) => {
      const stored = requireReading(deps.db, secondReadingId);
      return {
        secondReading: withCount(deps.db, stored),
        rows: rowsToRead(deps.db, stored.id),
        report: reportOfSecondReading(deps.db, stored.id),
        drafts: draftsOfSecondReading(deps.db, stored.id),
      };
    },

    "secondReadings.start": (input, call) =>
      inTransactionOnce(deps, call, input, (ctx) => start(ctx, input, deps.ids.next()), findCounted),

    "secondReadings.enter": (input, call) =>
      inTransactionOnceAbout(deps, call, input, {
        perform: (ctx) => enter(ctx, input, deps.clock.today()),
        subjectOf: ({ rowId }) => rowId,
        find: (db, rowId) =>
          rowToRead(db, rowId, secondMeasurements(db, input.secondReadingId).get(rowId) ?? []),
      }),

    // Half-typed text is nobody's record yet: no person, no trail.
    "secondReadings.keepDraft": ({ secondReadingId, ...draft }) =>
      immediate(deps.db, (db) => {
        const { id } = requireOpen(db, secondReadingId);
        if (draft.typed === "") forgetSecondDrafts(db, id, draft);
        else keepSecondDraft(db, id, draft);
        return {};
      }),

    "secondReadings.close": (input, call) =>
      inTransactionOnce(deps, call, input, (ctx) => close(ctx, input.secondReadingId), findCounted),
  });
}
