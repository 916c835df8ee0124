import type { CellAmount } from "#core/counting/densities/cell-amount.ts";
import {
  type BiovolumeLine,
  type BiovolumeSum,
  type CountBiovolumes,
  countBiovolumes,
} from "#core/counting/results/count-biovolumes.ts";
import { cellCarbon } from "#core/methods/carbon.ts";
import type { BookWriter } from "../spreadsheet/book-writer.ts";
import { type Cell, EMPTY, formula, number, text, textFormula } from "../spreadsheet/cell.ts";
import { columnLetters, openSheet, type SheetWriter } from "../spreadsheet/sheet-writer.ts";
import { COUNT_WORKSHEETS, type CountJob } from "./count-job.ts";
import { perObjectCells } from "./count-per-object-cells.ts";

/** Columns before those of doubts that several taxa share. */
const FIRST = [
  "of",
  "group",
  "density (/mL)",
  "relative u of the count",
  "its ν",
  "one cell (µm³)",
  "cells",
  "relative u of the cells",
  "its ν",
  "relative u by the factor of the count, cubed",
] as const;
/** Columns behind them: volume, then carbon. */
const LAST = [
  "biovolume (mm³/L)",
  "relative u",
  "k",
  "U",
  "as exported",
  "carbon: coefficient",
  "exponent",
  "carbon of one cell (pg)",
  "carbon (µg C/L)",
  "relative u",
  "k",
  "U",
  "as exported",
] as const;
const WIDTHS = {
  first: [26, 16, 12, 11, 9, 12, 8, 11, 9, 12],
  shared: 12,
  last: [12, 11, 7, 12, 24, 11, 9, 12, 12, 11, 7, 12, 24],
};

const NO_END = "1E+99";
const NORMAL_95 = "NORMSINV(0.975)";

interface Shared {
  readonly key: string;
  readonly name: string;
  readonly column: string;
  /** Cells behind it, where it is their scatter; null for any other doubt. */
  readonly cells: number | null;
}

/** What every row needs to know of the table. */
interface Table {
  readonly job: CountJob;
  readonly biovolumes: CountBiovolumes;
  readonly shared: readonly Shared[];
  readonly factorKey: string;
  /** Relative doubts of a density beside its count, as expressions: by the factor with its sign, and the rest. */
  readonly byFactor: string;
  readonly rest: string;
  /** Letter of a column of `LAST`. */
  readonly last: (position: number) => string;
}

const isOwn = (key: string): boolean => key.startsWith("cells ") || key.startsWith("typed ");

/** Every doubt of a cell volume but the factor of the count and what one taxon alone has. */
function sharedOf({ lines }: CountBiovolumes, factorKey: string): readonly Shared[] {
  const found = new Map<string, { readonly name: string; readonly cells: number | null; times: number }>();
  for (const { cell, given } of lines) {
    cell.components.forEach(({ key, name }, place) => {
      const isScatter = place === 0 && given.of.from === "sheet";
      const cells = isScatter && given.of.from === "sheet" ? given.of.cells : null;
      const before = found.get(key);
      if (before) before.times += 1;
      else found.set(key, { name, cells, times: 1 });
    });
  }
  return [...found]
    .filter(([key, { times }]) => key !== factorKey && (times > 1 || !isOwnKey(key, lines)))
    .map(([key, { name, cells }], i) => ({ key, name, cells, column: columnLetters(FIRST.length + 1 + i) }));
}

/** The first component of a cell volume is what its own cells, or its own typed U, contribute. */
function isOwnKey(key: string, lines: readonly BiovolumeLine[]): boolean {
  return isOwn(key) && lines.some(({ cell }) => cell.components[0]?.key === key);
}

function tableOf(job: CountJob): Table {
  const { count, results } = job.bundle;
  const biovolumes = countBiovolumes(count, results);
  const factorKey = `factor ${count.calibrationId}`;
  const shared = sharedOf(biovolumes, factorKey);
  const { lines } = perObjectCells(job);
  const hasFactor = lines.has("u_factor");
  return {
    job,
    biovolumes,
    shared,
    factorKey,
    byFactor: hasFactor ? "-u_factor" : "",
    rest: hasFactor ? "MAX(0,u_other^2-u_factor^2)" : "u_other^2",
    last: (position) => columnLetters(FIRST.length + shared.length + 1 + position),
  };
}

function relativeOf({ cell }: BiovolumeLine, key: string): number {
  return Number(cell.components.find((one) => one.key === key)?.relative ?? 0);
}

/** A figure of what was counted; empty where nothing was. */
function counted(value: string, expression: string, cached: string | null): Cell {
  const live = `IF(${value}=0,"",${expression})`;
  return cached === null ? textFormula(live, "", "plain") : formula(live, cached, "plain");
}

/** k by Student's t for ν_eff, INT as the program cuts it; `weighed` is Σ uᵢ⁴/νᵢ of relative doubts. */
function coverage(value: string, relative: string, weighed: string, cached: string): Cell {
  const nu = `${relative}^4/(${weighed})`;
  const t = `TINV(0.05,MAX(1,MIN(1E9,INT(MIN(1E9,${nu})+1E-9))))`;
  return formula(`IF(${value}=0,${NORMAL_95},IF(${weighed}<1E-60,${NORMAL_95},${t}))`, cached, "coverage");
}

interface AmountCells {
  readonly value: string;
  readonly relative: string;
  readonly weighed: string;
  /** First of the columns: value, relative u, k, U, as exported. */
  readonly position: number;
  readonly at: number;
}

function amountCells(table: Table, amount: CellAmount, cells: AmountCells): readonly Cell[] {
  const { value, relative, weighed, position, at } = cells;
  const column = (step: number) => `${table.last(position + step)}${at}`;
  const [v, u, k] = [column(0), column(1), column(2)];
  return [
    formula(value, amount.value, "plain"),
    counted(v, relative, amount.relative),
    coverage(v, u, weighed, amount.coverageFactor),
    counted(v, `${k}*${v}*${u}`, amount.expanded),
    text(amount.shown, "wrapped"),
  ];
}

const NO_AMOUNT: readonly Cell[] = [EMPTY, EMPTY, EMPTY, EMPTY, EMPTY];
/** First columns of volume and of carbon among the last ones. */
const VOLUME_AT = 0;
const CARBON_AT = 8;

function lineCells(line: BiovolumeLine, at: number, table: Table): readonly Cell[] {
  const { job, shared, factorKey, byFactor, rest, last } = table;
  const { given, density, cell, relation, group } = line;
  const place = job.bundle.results.densities.indexOf(density) + 1;
  const own = cell.components[0];
  const ownShared = shared.find(({ key }) => key === own?.key);
  const ofCount = Number(density.components.find(({ key }) => key === "count")?.relative ?? 0);
  const cells = given.of.from === "sheet" ? given.of.cells : null;
  const ownNu = cells !== null && cells > 1 ? `G${at}-1` : NO_END;
  const amounts = (power: string) => {
    const p = power === "1" ? "" : `${power}*`;
    const others = shared.map(({ column }) => `(${p}${column}${at})^2`);
    return {
      relative: `SQRT(${[`D${at}^2`, rest, `(${p}J${at}${byFactor})^2`, `(${p}H${at})^2`, ...others].join("+")})`,
      weighed: [
        `D${at}^4/E${at}`,
        `(${p}H${at})^4/I${at}`,
        ...shared.flatMap(({ column, cells: n }) =>
          n !== null && n > 1 ? [`(${p}${column}${at})^4/${n - 1}`] : [],
        ),
      ].join("+"),
      at,
    };
  };
  const carbonAt = `${last(CARBON_AT - 1)}${at}`;
  const carbon = relation
    ? [
        number(relation.coefficient, "given"),
        number(relation.exponent, "given"),
        formula(
          `${last(CARBON_AT - 3)}${at}*F${at}^${last(CARBON_AT - 2)}${at}`,
          cellCarbon(cell.value, relation).toNumber(),
          "plain",
        ),
      ]
    : [number(0, "given"), number(1, "given"), formula("0", 0, "plain")];
  return [
    text(line.name, "field"),
    text(line.isSummed ? (group ?? "") : "beside the total"),
    formula(`density_${place}`, density.value, "plain"),
    formula(`IF(ISNUMBER(count_u_${place}),count_u_${place},0)`, ofCount, "plain"),
    formula(
      `IF(basis_${place}="between-fields",fields_counted-1,${NO_END})`,
      density.degreesOfFreedom ?? 1e99,
      "plain",
    ),
    number(cell.value.toNumber(), "given"),
    cells === null ? text("typed") : number(cells, "whole"),
    number(ownShared ? 0 : Number(own?.relative ?? 0), "given"),
    formula(ownNu, cells !== null && cells > 1 ? cells - 1 : 1e99, "plain"),
    number(relativeOf(line, factorKey), "given"),
    ...shared.map(({ key }) => number(relativeOf(line, key), "given")),
    ...amountCells(table, line.volume, {
      value: `C${at}*F${at}*1E-6`,
      ...amounts("1"),
      position: VOLUME_AT,
    }),
    ...carbon,
    ...(line.carbon
      ? amountCells(table, line.carbon, {
          value: `C${at}*${carbonAt}/1000`,
          ...amounts(`$${last(CARBON_AT - 2)}${at}`),
          position: CARBON_AT,
        })
      : [formula("0", 0, "plain"), ...NO_AMOUNT.slice(1)]),
  ];
}

interface Rows {
  readonly from: number;
  readonly to: number;
}

/** Relative u and ν of a sum: what is a taxon's own in squares, what they share with its sign. */
function sumCells(
  sum: BiovolumeSum,
  amount: CellAmount,
  { from, to }: Rows,
  { at, table, position }: { readonly at: number; readonly table: Table; readonly position: number },
): readonly Cell[] {
  const { shared, byFactor, rest, last } = table;
  const range = (letters: string) => `$${letters}$${from}:$${letters}$${to}`;
  const mask = sum.group === null ? `(${range("B")}<>"beside the total")` : `(${range("B")}=$A${at})`;
  const value = range(last(position));
  const power = position === CARBON_AT ? `*${range(last(CARBON_AT - 2))}` : "";
  const total = `${last(position)}${at}`;
  const over = (terms: string) => `SUMPRODUCT(${mask}*${terms})`;
  const counts = `(${value}*${range("D")})`;
  const cells = `(${value}*${range("H")}${power})`;
  const linear = (letters: string) => over(`${value}*${range(letters)}${power}`);
  const variance = [
    over(`${counts}^2`),
    over(`${cells}^2`),
    `${rest}*${total}^2`,
    `(${linear("J")}${byFactor === "" ? "" : `${byFactor}*${total}`})^2`,
    ...shared.map(({ column }) => `${linear(column)}^2`),
  ].join("+");
  const weighed = [
    over(`${counts}^4/${range("E")}`),
    over(`${cells}^4/${range("I")}`),
    ...shared.flatMap(({ column, cells: n }) =>
      n !== null && n > 1 ? [`${linear(column)}^4/${n - 1}`] : [],
    ),
  ].join("+");
  return amountCells(table, amount, {
    value: over(value),
    relative: `SQRT(${variance})/${total}`,
    weighed: `(${weighed})/${total}^4`,
    position,
    at,
  });
}

function writeSum(sheet: SheetWriter, sum: BiovolumeSum, rows: Rows, table: Table): void {
  const at = sheet.nextRow;
  const blank = FIRST.slice(1).map(() => EMPTY);
  sheet.row([
    text(sum.group ?? "all of them", "field"),
    ...blank,
    ...table.shared.map(() => EMPTY),
    ...sumCells(sum, sum.volume, rows, { at, table, position: VOLUME_AT }),
    EMPTY,
    EMPTY,
    EMPTY,
    ...(sum.carbon ? sumCells(sum, sum.carbon, rows, { at, table, position: CARBON_AT }) : []),
  ]);
}

function sourceWords({ given }: BiovolumeLine): string {
  if (given.of.from === "typed") return `typed from: ${given.of.source}`;
  const { name, label, sheetId, dataSha256 } = given.of;
  const rows = label === null ? "every row not struck" : `rows labelled ${label}`;
  return `${name}, ${rows} of sheet ${sheetId}, data SHA-256 ${dataSha256}`;
}

/** From densities and cell volumes to biovolume and carbon of each taxon, of groups and of the whole, as formulas. */
export async function writeCountBiovolumes(workbook: BookWriter, job: CountJob): Promise<void> {
  const table = tableOf(job);
  const { biovolumes, shared } = table;
  const sheet = openSheet(
    workbook,
    {
      name: COUNT_WORKSHEETS.biovolume,
      widths: [...WIDTHS.first, ...shared.map(() => WIDTHS.shared), ...WIDTHS.last],
      frozenRows: 1,
      frozenColumns: 1,
      titleRows: "1:1",
      landscape: true,
      footer: job.trace,
      programLine: job.programLine,
    },
    job,
  );
  sheet.row(
    [...FIRST, ...shared.map(({ name }) => `relative u by ${name}`), ...LAST].map((heading) =>
      text(heading, "column"),
    ),
  );
  const from = sheet.nextRow;
  for (const line of biovolumes.lines) sheet.row(lineCells(line, sheet.nextRow, table));
  const rows = { from, to: sheet.nextRow - 1 };
  for (const sum of biovolumes.sums) writeSum(sheet, sum, rows, table);
  sheet.skip();
  for (const line of biovolumes.lines) sheet.row([text(line.name, "field"), text(sourceWords(line))]);
  for (const remark of biovolumes.remarks) sheet.row([text("Remark", "field"), text(remark)]);
  await sheet.finish();
}
