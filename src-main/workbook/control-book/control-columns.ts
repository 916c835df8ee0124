import type { ControlKind, ControlPoint } from "#core/contract/records/control-sample.ts";
import { CONTROL_RISK, LEAST_EARLIER } from "#core/counting/controls/control-limits.ts";
import { type Cell, formula, instant, number, text, textFormula } from "../spreadsheet/cell.ts";
import type { LookName } from "../spreadsheet/styles.ts";

/** Where a line of the series stands. */
export interface LinePlace {
  readonly row: number;
  /** The row of the headings, whose words no sum takes for numbers. */
  readonly head: number;
}

export interface ControlColumn {
  readonly title: string;
  readonly width: number;
  readonly cell: (point: ControlPoint, at: LinePlace) => Cell;
}

const NO_LIMITS = "no limits yet";

/** A number that is missing for now. */
function maybe(expression: string, cached: number | string | null, look: LookName = "uncertainty"): Cell {
  return cached === null ? textFormula(expression, "", look) : formula(expression, cached, look);
}

const COMMON: readonly ControlColumn[] = [
  { title: "Count", width: 10, cell: ({ number: name }) => text(name) },
  { title: "Closed", width: 19, cell: ({ closedAt }) => instant(closedAt) },
  { title: "Sample", width: 26, cell: ({ sample }) => text(sample, "wrapped") },
];

/** The rows above, of one column: only what lay within its limits stands there. */
const above = (column: string, { row, head }: LinePlace): string => `${column}$${head}:${column}${row - 1}`;

const verdict = (point: ControlPoint): string =>
  point.limits === null ? NO_LIMITS : point.isBeyond ? "beyond" : "within";

/** The column of the verdict, and that which later lines rest on. */
function ending(
  limit: string,
  isBeyond: (row: number) => string,
  used: readonly { readonly of: string; readonly value: (point: ControlPoint) => number | string }[],
  verdictColumn: string,
): readonly ControlColumn[] {
  return [
    {
      title: "By the earlier ones",
      width: 18,
      cell: (point, { row }) =>
        textFormula(
          `IF(${limit}${row}="","${NO_LIMITS}",IF(${isBeyond(row)},"beyond","within"))`,
          verdict(point),
          "words",
        ),
    },
    ...used.map(
      ({ of, value }): ControlColumn => ({
        title: "Counts for later ones",
        width: 14,
        cell: (point, { row }) =>
          maybe(`IF(${verdictColumn}${row}="beyond","",${of}${row})`, point.isBeyond ? null : value(point)),
      }),
    ),
  ];
}

function statedColumn(value: string): ControlColumn {
  return {
    title: "By the stated limits",
    width: 18,
    cell: ({ isOutsideStated }, { row }) =>
      textFormula(
        `IF(OR(AND(stated_lower<>"",${value}${row}<stated_lower),AND(stated_upper<>"",${value}${row}>stated_upper)),"outside","within")`,
        isOutsideStated ? "outside" : "within",
        "words",
      ),
  };
}

type From<K extends ControlKind> = Extract<ControlPoint["from"], { kind: K }>;

function fromOf<K extends ControlKind>({ from }: ControlPoint, kind: K): From<K> {
  if (from.kind !== kind) throw new Error(`a ${from.kind} stands in a series of ${kind}`);
  return from as From<K>;
}

const given = <K extends ControlKind>(
  kind: K,
  title: string,
  value: (from: From<K>) => number | string,
): ControlColumn => ({ title, width: 14, cell: (point) => number(value(fromOf(point, kind)), "given") });

const T = (freedom: string): string => `TINV(${CONTROL_RISK},${freedom})`;

/** D name, E found, F background, G stated, H part, I recovery, J and K its limits, L n, M and N limits, O, P, Q. */
const RECOVERY: readonly ControlColumn[] = [
  ...COMMON,
  { title: "What", width: 18, cell: (point) => text(fromOf(point, "recovery").name, "wrapped") },
  given("recovery", "Found", ({ found }) => found),
  given("recovery", "Found without the addition", ({ background }) => background),
  given("recovery", "Stated", ({ stated }) => stated),
  given("recovery", "Part looked at (%)", ({ portion }) => portion),
  {
    title: "Recovery (%)",
    width: 14,
    cell: ({ value }, { row }) =>
      formula(`(E${row}-F${row})/(G${row}*H${row}/100)*100`, value, "uncertainty"),
  },
  {
    title: "Its lower limit, 95 % (%)",
    width: 14,
    cell: ({ own }) => number(own?.lower ?? null, "uncertainty"),
  },
  {
    title: "Its upper limit, 95 % (%)",
    width: 14,
    cell: ({ own }) => number(own?.upper ?? null, "uncertainty"),
  },
  {
    title: "Earlier ones",
    width: 10,
    cell: ({ earlier }, at) => formula(`COUNT(${above("P", at)})`, earlier, "whole"),
  },
  ...(["lower", "upper"] as const).map(
    (side): ControlColumn => ({
      title: side === "lower" ? "Lower limit (%)" : "Upper limit (%)",
      width: 14,
      cell: ({ limits }, at) => {
        const sign = side === "lower" ? "-" : "+";
        const n = `L${at.row}`;
        const half = `${T(`${n}-1`)}*STDEV(${above("P", at)})*SQRT(1+1/${n})`;
        return maybe(
          `IF(${n}<${LEAST_EARLIER},"",IF(STDEV(${above("P", at)})=0,"",AVERAGE(${above("P", at)})${sign}${half}))`,
          limits?.[side] ?? null,
        );
      },
    }),
  ),
  ...ending(
    "M",
    (row) => `OR(I${row}<M${row},I${row}>N${row})`,
    [{ of: "I", value: ({ value }) => value }],
    "O",
  ),
  statedColumn("I"),
  { title: "Who states it", width: 26, cell: (point) => text(fromOf(point, "recovery").source, "wrapped") },
];

const differenceOf = (point: ControlPoint): number => {
  const { first, second } = fromOf(point, "duplicate");
  return ((Number(second) - Number(first)) / (Number(first) + Number(second))) * 200;
};

/** D other, E first, F second, G difference, H range, I n, J limit, K verdict, L used. */
const DUPLICATE: readonly ControlColumn[] = [
  ...COMMON,
  { title: "Duplicate of", width: 12, cell: (point) => text(fromOf(point, "duplicate").other) },
  given("duplicate", "First result", ({ first }) => first),
  given("duplicate", "Second result", ({ second }) => second),
  {
    title: "Relative difference (%)",
    width: 14,
    cell: (point, { row }) =>
      formula(`(F${row}-E${row})/(E${row}+F${row})*200`, differenceOf(point), "uncertainty"),
  },
  {
    title: "Relative range (%)",
    width: 14,
    cell: ({ value }, { row }) => formula(`ABS(G${row})`, value, "uncertainty"),
  },
  {
    title: "Earlier ones",
    width: 10,
    cell: ({ earlier }, at) => formula(`COUNT(${above("L", at)})`, earlier, "whole"),
  },
  {
    title: "Upper limit (%)",
    width: 14,
    cell: ({ limits }, at) => {
      const n = `I${at.row}`;
      return maybe(
        `IF(${n}<${LEAST_EARLIER},"",IF(SUMSQ(${above("L", at)})=0,"",${T(n)}*SQRT(SUMSQ(${above("L", at)})/${n})))`,
        limits?.upper ?? null,
      );
    },
  },
  ...ending("J", (row) => `H${row}>J${row}`, [{ of: "G", value: differenceOf }], "K"),
  statedColumn("H"),
  {
    title: "p by chance alone",
    width: 12,
    cell: (point) => number(fromOf(point, "duplicate").p, "uncertainty"),
  },
];

const beforeOf = (from: ControlPoint["from"]): { readonly objects: string; readonly fields: number } =>
  from.kind === "blank" ? from.before : { objects: "0", fields: 0 };

/** D objects, E fields, F per field, G and H those before, I p, J verdict, K and L used. */
const BLANK: readonly ControlColumn[] = [
  ...COMMON,
  given("blank", "Objects", ({ objects }) => objects),
  given("blank", "Fields", ({ fields }) => fields),
  {
    title: "Objects per field",
    width: 14,
    cell: ({ value }, { row }) => formula(`D${row}/E${row}`, value, "uncertainty"),
  },
  ...(["K", "L"] as const).map(
    (column): ControlColumn => ({
      title: column === "K" ? "Objects before it" : "Fields before it",
      width: 12,
      cell: ({ from }, at) =>
        formula(`SUM(${above(column, at)})`, beforeOf(from)[column === "K" ? "objects" : "fields"], "plain"),
    }),
  ),
  {
    title: "p by chance alone",
    width: 12,
    cell: (point, { row }) => {
      const objects = `INT(D${row})`;
      const before = `ROUNDUP(G${row},0)`;
      const chance = `BINOMDIST(${before},${objects}+${before},H${row}/(E${row}+H${row}),TRUE)`;
      return maybe(`IF(H${row}=0,"",IF(${objects}=0,1,${chance}))`, fromOf(point, "blank").p);
    },
  },
  ...ending(
    "I",
    (row) => `I${row}<=${CONTROL_RISK}`,
    [
      { of: "D", value: (point) => fromOf(point, "blank").objects },
      { of: "E", value: (point) => fromOf(point, "blank").fields },
    ],
    "J",
  ),
  statedColumn("F"),
];

/** The columns of a series, each line with its formulas over the lines above it. */
export const CONTROL_COLUMNS: Readonly<Record<ControlKind, readonly ControlColumn[]>> = {
  blank: BLANK,
  recovery: RECOVERY,
  duplicate: DUPLICATE,
};
