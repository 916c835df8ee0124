import type { ParsedInput } from "#core/contract/calls.ts";
import type { Sheet } from "#core/contract/records/sheet.ts";
import type { ForwardTrace, TouchedCalibration, TouchedSheet } from "#core/contract/records/trace.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import { createYielder } from "../../long-work/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { listSheets } from "../../store/repositories/sheet-repository.ts";
import { signOffStateOfSheet } from "../../store/repositories/sign-off-repository.ts";
import { type TouchCount, touchedResults } from "../../store/repositories/trace-repository.ts";
import { type ReachedCalibration, type ResolvedScope, resolveScope } from "./trace-scope.ts";

/** Rows looked at between two pauses. */
const ROWS_AT_A_TIME = 2000;

/** new/old − 1; the size of a row changes in the same proportion as its factor. */
function relativeChange({ factor, replacement }: ReachedCalibration): Decimal | null {
  return replacement ? decimal(replacement.factor).div(factor.factor).minus(1) : null;
}

function largest(changes: readonly (Decimal | null)[]): Decimal | null {
  return changes.reduce<Decimal | null>(
    (most, one) => (one && (!most || one.abs().greaterThan(most.abs())) ? one : most),
    null,
  );
}

const earlier = (one: string, other: string): string => (one < other ? one : other);
const later = (one: string, other: string): string => (one > other ? one : other);

export interface SheetImpact {
  rows: number;
  readonly byCalibration: Map<string, TouchCount>;
}

function addCounts(impact: SheetImpact, rows: number, counts: readonly TouchCount[]): void {
  impact.rows += rows;
  for (const one of counts) {
    const before = impact.byCalibration.get(one.calibrationId);
    impact.byCalibration.set(one.calibrationId, {
      calibrationId: one.calibrationId,
      results: one.results + (before?.results ?? 0),
      firstAt: earlier(one.firstAt, before?.firstAt ?? one.firstAt),
      lastAt: later(one.lastAt, before?.lastAt ?? one.lastAt),
    });
  }
}

async function impactOnSheet(
  db: ReadableDb,
  sheet: Sheet,
  resolved: ResolvedScope,
  yieldToEvents: ReturnType<typeof createYielder>,
): Promise<SheetImpact> {
  const impact: SheetImpact = { rows: 0, byCalibration: new Map() };
  const calibrationIds = resolved.calibrations.map(({ record }) => record.id);
  const { notBefore, before } = resolved;
  for (let from = 1; from <= sheet.rowCount; from += ROWS_AT_A_TIME) {
    const to = from + ROWS_AT_A_TIME - 1;
    const { rows, counts } = touchedResults(db, {
      sheetId: sheet.id,
      from,
      to,
      calibrationIds,
      notBefore,
      before,
    });
    addCounts(impact, rows, counts);
    await yieldToEvents();
  }
  return impact;
}

/** Rows and results in a scope, sheet by sheet as far as there are any; read in pieces, so that entry goes on. */
export async function impactOfScope(
  db: ReadableDb,
  resolved: ResolvedScope,
  sheetIds: readonly string[] | null,
): Promise<{ readonly sheet: Sheet; readonly impact: SheetImpact }[]> {
  const yieldToEvents = createYielder();
  const wanted = listSheets(db)
    .reverse()
    .filter(({ id }) => sheetIds === null || sheetIds.includes(id));
  const impacts: { sheet: Sheet; impact: SheetImpact }[] = [];
  for (const sheet of wanted) {
    const impact = await impactOnSheet(db, sheet, resolved, yieldToEvents);
    if (impact.rows > 0) impacts.push({ sheet, impact });
  }
  return impacts;
}

/** Results by calibration over several sheets. */
export function resultsByCalibration(
  impacts: readonly { readonly impact: SheetImpact }[],
): Map<string, number> {
  const results = new Map<string, number>();
  for (const { impact } of impacts) {
    for (const one of impact.byCalibration.values()) {
      results.set(one.calibrationId, (results.get(one.calibrationId) ?? 0) + one.results);
    }
  }
  return results;
}

function touchedSheet(
  db: ReadableDb,
  sheet: Sheet,
  impact: SheetImpact,
  resolved: ResolvedScope,
): TouchedSheet {
  const counts = [...impact.byCalibration.values()];
  const change = largest(
    resolved.calibrations
      .filter(({ record }) => impact.byCalibration.has(record.id))
      .map((one) => relativeChange(one)),
  );
  return {
    sheet,
    signOff: signOffStateOfSheet(db, sheet.id).state,
    rows: impact.rows,
    results: counts.reduce((sum, one) => sum + one.results, 0),
    firstAt: counts.map((one) => one.firstAt).reduce(earlier),
    lastAt: counts.map((one) => one.lastAt).reduce(later),
    largestRelativeChange: change && textOfDecimal(change),
  };
}

function touchedCalibration(one: ReachedCalibration, results: number): TouchedCalibration {
  const change = relativeChange(one);
  const { factor, expandedUncertainty, shownFactor, shownUncertainty } = one.factor;
  return {
    calibrationId: one.record.id,
    trainId: one.train.id,
    trainName: one.trainName,
    state: one.record.state,
    startedAt: one.record.startedAt,
    factor,
    expandedUncertainty,
    shownFactor,
    shownUncertainty,
    results,
    replacement:
      one.replacement && change
        ? {
            factor: one.replacement.factor,
            expandedUncertainty: one.replacement.expandedUncertainty,
            shownFactor: one.replacement.shownFactor,
            shownUncertainty: one.replacement.shownUncertainty,
            relativeChange: textOfDecimal(change),
          }
        : null,
    problem: one.problem,
  };
}

/**
 * Every sheet a subject reaches through its factors, with how many rows and results there are and what the replacement
 * would change. Reads in pieces, so that entry goes on meanwhile.
 * @throws Refusal as `resolveScope`
 */
export async function traceForward(
  db: ReadableDb,
  input: ParsedInput<"trace.forward">,
  asOf: string,
): Promise<ForwardTrace> {
  const resolved = resolveScope(db, input);
  const impacts = await impactOfScope(db, resolved, null);
  const results = resultsByCalibration(impacts);
  const sheets = impacts.map(({ sheet, impact }) => touchedSheet(db, sheet, impact, resolved));
  return {
    asOf,
    scope: input,
    subjectName: resolved.subjectName,
    replacementName: resolved.replacementName,
    counts: {
      sheets: sheets.length,
      rows: sheets.reduce((sum, one) => sum + one.rows, 0),
      results: sheets.reduce((sum, one) => sum + one.results, 0),
      signedSheets: sheets.filter((one) => one.signOff === "signed").length,
    },
    calibrations: resolved.calibrations.map((one) =>
      touchedCalibration(one, results.get(one.record.id) ?? 0),
    ),
    sheets,
  };
}
