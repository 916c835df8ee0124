import type { ParsedInput } from "#core/contract/calls.ts";
import type { Method } from "#core/contract/records/method.ts";
import type { Measurement, SpecimenRow } from "#core/contract/records/sheet.ts";
import type { TouchedResult } from "#core/contract/records/trace.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { pageOfRows } from "../../store/repositories/row-repository.ts";
import { requireMethod } from "../methods/methods.ts";
import { convertReadings } from "../sheets/conversion.ts";
import { requireSheet } from "../sheets/sheets.ts";
import { type ReachedCalibration, type ResolvedScope, resolveScope } from "./trace-scope.ts";

/** Rows read at a time. */
const PAGE = 200;

interface Looking {
  readonly resolved: ResolvedScope;
  readonly byId: ReadonlyMap<string, ReachedCalibration>;
  readonly method: Method;
}

function isInWindow({ enteredAt }: Measurement, { notBefore, before }: ResolvedScope): boolean {
  return enteredAt >= notBefore && enteredAt < before;
}

function touchedResult(row: SpecimenRow, measurement: Measurement, looking: Looking): TouchedResult | null {
  const { calibrationId, size, divisions } = measurement;
  const reached = calibrationId === null ? undefined : looking.byId.get(calibrationId);
  if (!reached || !size || !divisions || calibrationId === null) return null;
  if (!isInWindow(measurement, looking.resolved)) return null;
  const { replacement, record } = reached;
  const after = replacement
    ? convertReadings(measurement, looking.method.definition, { ...record, result: replacement }).size
    : null;
  const difference = after ? decimal(after.value).minus(size.value) : null;
  return {
    rowId: row.id,
    ordinal: row.ordinal,
    label: row.label,
    dimension: measurement.dimension,
    measuredAt: measurement.enteredAt,
    divisions,
    calibrationId,
    before: size,
    after,
    difference: difference && textOfDecimal(difference),
    relativeDifference:
      difference && !decimal(size.value).isZero() ? textOfDecimal(difference.div(size.value)) : null,
  };
}

function touchedOfRow(row: SpecimenRow, looking: Looking): TouchedResult[] {
  if (row.struck) return [];
  return row.measurements
    .map((measurement) => touchedResult(row, measurement, looking))
    .filter((one) => one !== null);
}

/** The results of one sheet in a scope with old and new value, by row; a row is given whole. */
export function touchedRows(
  db: ReadableDb,
  input: ParsedInput<"trace.forwardRows">,
): { results: TouchedResult[]; next: number | null } {
  const { sheetId, after, count, ...scope } = input;
  const sheet = requireSheet(db, sheetId);
  const resolved = resolveScope(db, scope);
  const byId = new Map(resolved.calibrations.map((one) => [one.record.id, one]));
  const looking: Looking = { resolved, byId, method: requireMethod(db, sheet.methodId, "sheetId") };
  const results: TouchedResult[] = [];
  for (let last = after; last < sheet.rowCount && results.length < count; ) {
    const page = pageOfRows(db, sheetId, last + 1, PAGE);
    if (page.length === 0) break;
    for (const row of page) {
      last = row.ordinal;
      results.push(...touchedOfRow(row, looking));
      if (results.length >= count) return { results, next: last < sheet.rowCount ? last : null };
    }
  }
  return { results, next: null };
}
