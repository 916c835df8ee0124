import { type Decimal, decimal } from "../quantity/decimal.ts";
import { InputError, requireFinite } from "../quantity/input-error.ts";
import type { Provenance } from "../vocabulary/provenance.ts";

/**
 * One class as written down. `from` and `to` are decimal text or an exact fraction such as `8/6`; null: no limit on
 * that side. `fromClosed`, `toClosed`: the limit itself belongs to the class, as the source prints it.
 */
export interface SizeClass {
  readonly name: string;
  readonly from: string | null;
  readonly to: string | null;
  readonly fromClosed: boolean;
  readonly toClosed: boolean;
}

/** Class limits as data, in rising order, with their source. A laboratory may keep its own. */
export interface ClassTable extends Provenance {
  readonly id: string;
  readonly name: string;
  /** What is classified and its unit, e.g. `P/E` or `longest axis, µm`. */
  readonly quantity: string;
  readonly classes: readonly SizeClass[];
}

/**
 * Where a value falls. `boundary`: on a limit that the source gives to both neighbours or to neither. `gap`: between
 * two classes. `outside`: beyond the first or last class. The last three are for a person to decide.
 */
export type Classification =
  | { readonly kind: "class"; readonly name: string }
  | { readonly kind: "boundary"; readonly below: string; readonly above: string }
  | { readonly kind: "gap"; readonly below: string; readonly above: string }
  | { readonly kind: "outside"; readonly side: "below" | "above"; readonly nearest: string };

interface Limits {
  readonly name: string;
  readonly from: Decimal | null;
  readonly to: Decimal | null;
  readonly fromClosed: boolean;
  readonly toClosed: boolean;
}

const LIMIT = /^(-?\d+(?:\.\d+)?)(?:\/(\d+(?:\.\d+)?))?$/;

/** The decimal of a limit text. @throws InputError when it is neither a decimal nor a fraction of two */
export function limitOf(field: string, text: string): Decimal {
  const match = LIMIT.exec(text);
  if (!match?.[1]) throw new InputError(field, "must be a number such as 1.15 or a fraction such as 8/6");
  return requireFinite(field, decimal(match[1]).div(decimal(match[2] ?? "1")));
}

function requireOrder(field: string, before: Limits | undefined, current: Limits): void {
  if (current.from && current.to) {
    const order = current.from.comparedTo(current.to);
    if (order > 0) throw new InputError(field, "begins above its end");
    if (order === 0 && !(current.fromClosed && current.toClosed)) {
      throw new InputError(field, "begins where it ends, so both limits must belong to it");
    }
  }
  if (!before) return;
  if (!before.to) throw new InputError(field, `comes after “${before.name}”, which has no upper limit`);
  if (!current.from) throw new InputError(field, `has no lower limit but comes after “${before.name}”`);
  if (current.from.lessThan(before.to)) throw new InputError(field, `overlaps “${before.name}”`);
}

function readLimits(table: ClassTable): readonly Limits[] {
  const limits: Limits[] = [];
  if (table.classes.length === 0) throw new InputError("classes", "must not be empty");
  table.classes.forEach((entry, index) => {
    const field = `classes.${index}`;
    if (entry.name.trim() === "") throw new InputError(`${field}.name`, "Enter a name.");
    const current: Limits = {
      name: entry.name,
      from: entry.from === null ? null : limitOf(`${field}.from`, entry.from),
      to: entry.to === null ? null : limitOf(`${field}.to`, entry.to),
      fromClosed: entry.fromClosed,
      toClosed: entry.toClosed,
    };
    requireOrder(field, limits[index - 1], current);
    limits.push(current);
  });
  return limits;
}

/** Tables are frozen data, so their limits are read once each. */
const readTables = new WeakMap<ClassTable, readonly Limits[]>();

function limitsOf(table: ClassTable): readonly Limits[] {
  const known = readTables.get(table);
  if (known) return known;
  const limits = readLimits(table);
  readTables.set(table, limits);
  return limits;
}

/**
 * Checks a table a person has edited: limits readable, classes in rising order without overlap.
 * @throws InputError naming the class and what is wrong with it
 */
export function requireClassTable(table: ClassTable): void {
  readLimits(table);
}

type Side = "below" | "inside" | "above";

/** Side of a class on which a value lies; on an open limit it lies outside. */
function sideOf(value: Decimal, limits: Limits): Side {
  const atFrom = limits.from ? value.comparedTo(limits.from) : 1;
  if (atFrom < 0 || (atFrom === 0 && !limits.fromClosed)) return "below";
  const atTo = limits.to ? value.comparedTo(limits.to) : -1;
  return atTo > 0 || (atTo === 0 && !limits.toClosed) ? "above" : "inside";
}

function between(value: Decimal, below: Limits, above: Limits): Classification {
  const touching = below.to !== null && above.from !== null && below.to.equals(above.from);
  const kind = touching && below.to?.equals(value) ? "boundary" : "gap";
  return { kind, below: below.name, above: above.name };
}

/**
 * The class of a value, or honestly where the table leaves it.
 * @throws InputError when the value is not finite or the table is not in order
 */
export function classify(value: Decimal, table: ClassTable): Classification {
  requireFinite("value", value);
  const limits = limitsOf(table);
  const position = limits.findIndex((entry) => sideOf(value, entry) !== "above");
  const entry = limits[position];
  if (!entry) {
    return { kind: "outside", side: "above", nearest: limits[limits.length - 1]?.name ?? "" };
  }
  const before = limits[position - 1];
  if (sideOf(value, entry) === "below") {
    return before ? between(value, before, entry) : { kind: "outside", side: "below", nearest: entry.name };
  }
  const next = limits[position + 1];
  if (next && sideOf(value, next) === "inside")
    return { kind: "boundary", below: entry.name, above: next.name };
  return { kind: "class", name: entry.name };
}

/**
 * The same table with every shared limit given to the class above it or below it: a laboratory's decision, so the
 * table becomes its own.
 */
export function withSharedLimits(table: ClassTable, to: "class-above" | "class-below"): ClassTable {
  const limits = limitsOf(table);
  const touches = (index: number): boolean => {
    const upper = limits[index]?.to;
    const lower = limits[index + 1]?.from;
    return (
      upper !== undefined && upper !== null && lower !== undefined && lower !== null && upper.equals(lower)
    );
  };
  const classes = table.classes.map((entry, index) => ({
    ...entry,
    fromClosed: touches(index - 1) ? to === "class-above" : entry.fromClosed,
    toClosed: touches(index) ? to === "class-below" : entry.toClosed,
  }));
  const decision =
    to === "class-above"
      ? "a shared limit belongs to the class above"
      : "a shared limit belongs to the class below";
  return {
    ...table,
    id: `${table.id}-${to}`,
    classes,
    standing: "own",
    source: `${table.source}; ${decision}`,
  };
}

/** Words for a classification on a sheet. */
export function wordsOf(classification: Classification): string {
  switch (classification.kind) {
    case "class":
      return classification.name;
    case "boundary":
      return `on the limit between ${classification.below} and ${classification.above}`;
    case "gap":
      return `between ${classification.below} and ${classification.above}: the source names no class here`;
    case "outside":
      return `${classification.side} ${classification.nearest}: the source names no class here`;
  }
}
