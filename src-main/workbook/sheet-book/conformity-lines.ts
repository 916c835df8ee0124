import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import {
  CONFORMS,
  DOES_NOT_CONFORM,
  decisionOf,
  limitWords,
  readLimits,
  wordsOfDecision,
} from "#core/measurement/method-limits.ts";
import { decimal } from "#core/quantity/decimal.ts";
import type { ConformityDecision } from "#core/uncertainty/conformity.ts";
import { type Cell, EMPTY, textFormula } from "../spreadsheet/cell.ts";
import { quoted } from "../spreadsheet/formula-text.ts";
import { columnLetters } from "../spreadsheet/sheet-writer.ts";
import { derivedColumn } from "./derived-columns.ts";
import type { WorkbookJob } from "./job.ts";
import type { RowColumn } from "./row-layout.ts";

/** Most rows named in one line. */
const MOST_NAMED = 20;

type Job = Pick<WorkbookJob, "bundle" | "results">;

/** The decision on the `at`-th limit for one row; null where there is no value, or the row does not count. */
export function rowDecision(
  row: SpecimenRow,
  at: number,
  { bundle, results }: Job,
): ConformityDecision | null {
  const { limits = [], derived } = bundle.method.definition;
  const limit = limits[at];
  if (!limit || row.struck !== null) return null;
  const place = derived.findIndex(({ key }) => key === limit.of);
  const quantity = place < 0 ? null : results.result(row, place)?.quantity;
  const found = quantity ?? row.measurements.find(({ dimension }) => dimension === limit.of)?.size;
  return found && decimal(found.standardUncertainty).greaterThan(0) ? decisionOf(limit, found) : null;
}

/** One line per limit: the limits with their rule, how many specimens conform, and which rows do not. */
export function conformityLines(job: Job): string[] {
  const { definition } = job.bundle.method;
  return (definition.limits ?? []).map((limit, at) => {
    let n = 0;
    const against: number[] = [];
    let least = 1;
    for (const row of job.bundle.rows()) {
      const decision = rowDecision(row, at, job);
      if (!decision) continue;
      n += 1;
      if (decision.conforms) least = Math.min(least, decision.probability);
      else against.push(row.ordinal);
    }
    const named = against.slice(0, MOST_NAMED).join(", ");
    const more = against.length > MOST_NAMED ? ` and ${against.length - MOST_NAMED} more` : "";
    const rows = against.length === 0 ? "" : `; not ${against.length === 1 ? "row" : "rows"} ${named}${more}`;
    const conforming = n - against.length;
    const sure = conforming === 0 ? "" : ` (each with a probability of at least ${shown(least)})`;
    return `${limitWords(limit, definition)}: ${conforming} of ${n} specimens conform${sure}${rows}.`;
  });
}

/** A probability as printed: never 100 %, for no measurement is certain. */
function shown(probability: number): string {
  return probability > 0.9995 ? "99.9 %" : `${((100 * Math.floor(probability * 1000)) / 1000).toFixed(1)} %`;
}

/** Columns at the end of Rows, one per limit. */
export function conformityColumns({ bundle }: Pick<WorkbookJob, "bundle">): RowColumn[] {
  const { limits = [], dimensions, derived } = bundle.method.definition;
  return limits.map(({ of }) => ({
    header: `${[...dimensions, ...derived].find(({ key }) => key === of)?.name ?? of}: conformity`,
    width: 18,
  }));
}

/** Live decisions: they change with the value and its U. */
export function conformityCells(row: SpecimenRow, line: number, job: WorkbookJob): Cell[] {
  const { limits = [], dimensions, derived } = job.bundle.method.definition;
  return limits.map((limit, at) => {
    const { of, rule } = limit;
    const { lower, upper } = readLimits(limit);
    const decision = rowDecision(row, at, job);
    if (!decision) return EMPTY;
    const place = derived.findIndex(({ key }) => key === of);
    const column = (key: "value" | "U"): string => {
      const number =
        place < 0
          ? job.layout.column(
              dimensions.findIndex((one) => one.key === of),
              key === "value" ? "size" : "U",
            )
          : derivedColumn(job, place, key);
      return `${columnLetters(number)}${line}`;
    };
    const guard = rule === "guarded-acceptance" ? column("U") : "0";
    const tests = [
      ...(lower ? [`${column("value")}>=${lower.toFixed()}+${guard}`] : []),
      ...(upper ? [`${column("value")}<=${upper.toFixed()}-${guard}`] : []),
    ];
    return textFormula(
      `IF(AND(${tests.join(",")}),${quoted(CONFORMS)},${quoted(DOES_NOT_CONFORM)})`,
      wordsOfDecision(decision),
      "text",
    );
  });
}
