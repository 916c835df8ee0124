import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { classDecisionWords } from "#core/counting/results/size-class-results.ts";
import {
  CONFORMS,
  DOES_NOT_CONFORM,
  decisionOf,
  limitWords,
  readLimits,
  wordsOfDecision,
} from "#core/measurement/method-limits.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { type ConformityDecision, conformityPercent } from "#core/uncertainty/conformity.ts";
import { type Cell, EMPTY, textFormula } from "../spreadsheet/cell.ts";
import { quoted } from "../spreadsheet/formula-text.ts";
import { columnLetters } from "../spreadsheet/sheet-writer.ts";
import { derivedColumn } from "./derived-columns.ts";
import type { WorkbookJob } from "./job.ts";
import type { RowColumn } from "./row-layout.ts";
import { sizeClassesOf } from "./size-class-cells.ts";

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

/** `rows 2, 3 and 5 more`: rows by their numbers, the first of them. */
function rowsInWords(ordinals: readonly number[]): string {
  const named = ordinals.slice(0, MOST_NAMED).join(", ");
  const more = ordinals.length > MOST_NAMED ? ` and ${ordinals.length - MOST_NAMED} more` : "";
  return `${ordinals.length === 1 ? "row" : "rows"} ${named}${more}`;
}

interface Counted {
  readonly conforming: number;
  /** Least probability of those that conform. */
  readonly least: number;
  /** Ordinals of rows that do not conform. */
  readonly against: readonly number[];
  /** Rows that count and have no value to decide on. */
  readonly undecided: number;
}

function countedBy(at: number, job: Job): Counted {
  let [conforming, undecided, least] = [0, 0, 1];
  const against: number[] = [];
  for (const row of job.bundle.rows()) {
    const decision = rowDecision(row, at, job);
    if (decision?.conforms) {
      conforming += 1;
      least = Math.min(least, decision.probability);
    } else if (decision) against.push(row.ordinal);
    else if (row.struck === null) undecided += 1;
  }
  return { conforming, least, against, undecided };
}

/** One line per limit of a number by size. */
function numberLines(job: Job & Pick<WorkbookJob, "survey">): string[] {
  const found = sizeClassesOf(job);
  return (
    found?.results.flatMap((one) => classDecisionWords(one, found.sizeClasses, found.quantity.name) ?? []) ??
    []
  );
}

/** One line per limit: the limits with their rule, how many specimens conform, which rows do not, how many are undecided. */
export function conformityLines(job: Job & Pick<WorkbookJob, "survey">): string[] {
  const { definition } = job.bundle.method;
  const ofSpecimens = (definition.limits ?? []).map((limit, at) => {
    const { conforming, least, against, undecided } = countedBy(at, job);
    const sure = conforming === 0 ? "" : ` (each with a probability of at least ${conformityPercent(least)})`;
    const parts = [
      `${limitWords(limit, definition)}: ${conforming} of ${conforming + against.length} specimens conform${sure}`,
    ];
    if (against.length > 0)
      parts.push(`${against.length} ${against.length === 1 ? "does" : "do"} not: ${rowsInWords(against)}`);
    if (undecided > 0) parts.push(`${countedNoun(undecided, "specimen")} without a value undecided`);
    return `${parts.join("; ")}.`;
  });
  return [...ofSpecimens, ...numberLines(job)];
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
