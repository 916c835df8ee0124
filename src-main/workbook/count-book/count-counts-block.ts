import type { CategoryResult, SumLine, SumResult } from "#core/contract/records/count-results.ts";
import { partOf } from "#core/counting/results/sum-results.ts";
import { type Cell, EMPTY, formula, number, text } from "../spreadsheet/cell.ts";
import type { SheetWriter } from "../spreadsheet/sheet-writer.ts";
import type { CountJob } from "./count-job.ts";

/** Wilson's limits, Newcombe (1998) method 3, of the count in B over the total cell. */
function wilson(at: number, total: string, sign: "+" | "-"): string {
  const z2 = "NORMSINV(0.975)^2";
  const root = `NORMSINV(0.975)*SQRT(${z2}+4*B${at}*(1-B${at}/${total}))`;
  return `(2*B${at}+${z2}${sign}${root})/(2*(${total}+${z2}))`;
}

interface Limits {
  readonly lower: string;
  readonly upper: string;
}

/** Clopper–Pearson limits of the count in B as part of the sum cell. */
function limitsInSum(at: number, sum: string): Limits {
  const r = `B${at}`;
  return {
    lower: `IF(${r}=0,0,BETAINV(0.025,${r},${sum}-${r}+1))`,
    upper: `IF(${r}>=${sum},1,BETAINV(0.975,${r}+1,${sum}-${r}))`,
  };
}

/** Limits of the ratio of the count in B to the sum cell, from those of its share of both together. */
function limitsBesideSum(at: number, sum: string): Limits {
  const r = `B${at}`;
  const lower = `BETAINV(0.025,${r},${sum}+1)`;
  const upper = `BETAINV(0.975,${r}+1,${sum})`;
  return { lower: `IF(${r}=0,0,${lower}/(1-${lower}))`, upper: `${upper}/(1-${upper})` };
}

function shareCells(at: number, total: string, { kind, share }: CategoryResult): readonly Cell[] {
  if (!share) return [EMPTY, EMPTY, EMPTY, EMPTY];
  const limits =
    kind === "object"
      ? { lower: `MAX(0,${wilson(at, total, "-")})`, upper: `MIN(1,${wilson(at, total, "+")})` }
      : limitsBesideSum(at, total);
  return [
    formula(`B${at}/${total}`, share.proportion, "share"),
    formula(limits.lower, share.lower, "share"),
    formula(limits.upper, share.upper, "share"),
    text(share.class ?? ""),
  ];
}

/** The cell of each category's objects, by its key. */
type CountCells = ReadonlyMap<string, string>;

function writeCategories(sheet: SheetWriter, job: CountJob): CountCells {
  const { results } = job.bundle;
  const live = job.usedFields > 0;
  const cells = new Map<string, string>();
  sheet.row(
    ["category", "objects", "presses", "share", "95 %, from", "to", "class"].map((heading) =>
      text(heading, "column"),
    ),
  );
  const first = sheet.nextRow;
  const total = `$B$${first}`;
  const totalCount = Number(results.total);
  sheet.row([
    text("total", "field"),
    live ? formula(`SUM(${job.rangeOf("total")})`, totalCount, "plain") : number(totalCount, "plain"),
  ]);
  for (const result of results.categories) {
    const category = job.categories.find((one) => one.key === result.category);
    const at = sheet.nextRow;
    const count = Number(result.count);
    cells.set(result.category, `$B$${at}`);
    sheet.row([
      text(result.kind === "object" ? result.name : `${result.name} (${result.kind})`, "field"),
      live && category ? formula(`SUM(${job.rangeOf(category)})`, count, "plain") : number(count, "plain"),
      number(result.presses, "whole"),
      ...shareCells(at, total, result),
    ]);
  }
  return cells;
}

/** The categories behind a line of a sum. */
function membersOf(
  line: Pick<SumLine, "of" | "key" | "part">,
  sum: string,
  job: CountJob,
): readonly string[] {
  return job.categories
    .filter((one) => partOf(one, sum) === line.part)
    .filter((one) => (line.of === "group" ? one.group === line.key : one.key === line.key))
    .map(({ key }) => key);
}

function added(keys: readonly string[], cells: CountCells, count: string): Cell {
  const terms = keys.map((key) => cells.get(key) ?? "0");
  return formula(terms.join("+") || "0", Number(count), "plain");
}

const LINE_WORDS = { group: "group", category: "" } as const;

function writeSum(sheet: SheetWriter, result: SumResult, cells: CountCells, job: CountJob): void {
  const { name, count, lines } = result;
  sheet.skip();
  sheet.row([text(`Percentages of the sum: ${name}`, "heading")]);
  sheet.row(
    ["of the sum", "objects", "", "share", "95 % exact, from", "to", ""].map((heading) =>
      text(heading, "column"),
    ),
  );
  const sum = `$B$${sheet.nextRow}`;
  const inside = job.categories.filter((one) => partOf(one, name) === "in").map(({ key }) => key);
  sheet.row([text("the sum", "field"), added(inside, cells, count)]);
  if (lines.length === 0) sheet.row([text("Nothing of it was counted.")]);
  for (const line of lines) {
    const at = sheet.nextRow;
    const { lower, upper } = line.part === "in" ? limitsInSum(at, sum) : limitsBesideSum(at, sum);
    sheet.row([
      text(line.part === "in" ? line.name : `${line.name} (outside)`, "field"),
      added(membersOf(line, name, job), cells, line.count),
      text(LINE_WORDS[line.of]),
      formula(`B${at}/${sum}`, line.proportion, "share"),
      formula(lower, line.lower, "share"),
      formula(upper, line.upper, "share"),
    ]);
  }
}

/** Counts of the categories with their shares of the total, then every sum with its percentages. */
export function writeCountCounts(sheet: SheetWriter, job: CountJob): void {
  sheet.skip();
  sheet.row([text("Counts", "heading")]);
  const cells = writeCategories(sheet, job);
  for (const sum of job.bundle.results.sums ?? []) writeSum(sheet, sum, cells, job);
}
