import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { InputError } from "../../quantity/input-error.ts";
import { derivativeOf } from "./formula-derivative.ts";
import { type FormulaNode, sizesIn } from "./formula-node.ts";
import { formulaOfText } from "./formula-text.ts";
import { formulaUnit } from "./formula-unit.ts";
import { formulaValue } from "./formula-value.ts";

/** A laboratory's own formula over the sizes of a row. */
export interface Formula {
  readonly node: FormulaNode;
  /** Keys of the dimensions in it, each once. */
  readonly sizes: readonly string[];
  /** `1`, `µm`, `µm²` … */
  readonly unit: string;
  /** ∂/∂ of each size, in the order of `sizes`. */
  readonly partials: readonly FormulaNode[];
}

/** Sizes, µm, that a formula is tried with: rising, falling and alike, so that one order of them alone does not decide. */
const TRIALS = [
  (at: number) => 10 + 7 * at,
  (at: number) => 60 - 7 * at,
  (at: number) => 20 + (at % 2),
] as const;

function requireUse({ node, sizes, partials }: Omit<Formula, "unit">, field: string): void {
  const trials = TRIALS.map((sizeAt) => new Map(sizes.map((key, at) => [key, decimal(sizeAt(at))])));
  const finite = trials.filter((trial) => formulaValue(node, trial).isFinite());
  if (finite.some((trial) => partials.some((one) => !formulaValue(one, trial).isZero()))) return;
  if (finite.length > 0) {
    throw new InputError(field, "gives the same number whatever is measured");
  }
  throw new InputError(
    field,
    "gives no finite number: it divides by zero, or takes the root or logarithm of less",
  );
}

/**
 * A formula from its text over the dimensions of a method, with its unit.
 * @throws InputError `field` for a name that is not known, units that do not fit, or no finite value
 */
export function readFormula(text: string, dimensions: readonly string[], field = "formula"): Formula {
  const node = formulaOfText(text, dimensions, field);
  const sizes = sizesIn(node);
  if (sizes.length === 0) throw new InputError(field, "names no column of this method");
  const unit = formulaUnit(node, field);
  const partials = sizes.map((key) => derivativeOf(node, key));
  requireUse({ node, sizes, partials }, field);
  return { node, sizes, unit, partials };
}

/** Formulas are read once each: a sheet asks for the same one in every row. */
const read = new Map<string, Formula>();

/** The formula of a stored method, whose check it passed when it was defined. */
export function storedFormula(text: string, dimensions: readonly string[]): Formula {
  const key = JSON.stringify([text, dimensions]);
  const known = read.get(key);
  if (known) return known;
  const fresh = readFormula(text, dimensions);
  if (read.size > 100) read.clear();
  read.set(key, fresh);
  return fresh;
}

/** Value and ∂/∂ of each size, at sizes in µm. @throws InputError `formula` where one of them is not finite */
export function formulaAt(
  { node, partials }: Formula,
  sizes: ReadonlyMap<string, Decimal>,
): { readonly value: Decimal; readonly partials: readonly Decimal[] } {
  const all = [node, ...partials].map((one) => formulaValue(one, sizes));
  const [value, ...slopes] = all;
  if (!value || all.some((one) => !one.isFinite())) {
    throw new InputError(
      "formula",
      "takes its formula out of its range: no finite value, or no finite slope",
    );
  }
  return { value, partials: slopes };
}
