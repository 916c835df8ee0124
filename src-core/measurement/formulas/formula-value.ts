import { Decimal, decimal, ONE, PI } from "../../quantity/decimal.ts";
import type { FormulaNode } from "./formula-node.ts";

const NONE = decimal(Number.NaN);

type Sizes = ReadonlyMap<string, Decimal>;

function valueOfBinary(
  { operator, left, right }: Extract<FormulaNode, { kind: "binary" }>,
  sizes: Sizes,
): Decimal {
  const [a, b] = [formulaValue(left, sizes), formulaValue(right, sizes)];
  if (operator === "+") return a.plus(b);
  if (operator === "-") return a.minus(b);
  if (operator === "*") return a.times(b);
  return operator === "/" ? a.div(b) : a.pow(b);
}

function valueOfCall({ name, of }: Extract<FormulaNode, { kind: "call" }>, sizes: Sizes): Decimal {
  const values = of.map((one) => formulaValue(one, sizes));
  const [first = NONE] = values;
  if (values.some((one) => one.isNaN())) return NONE;
  if (name === "min") return Decimal.min(...values);
  return name === "max" ? Decimal.max(...values) : first[name]();
}

/** The value of a formula for sizes in µm; not finite where it divides by zero or leaves the range of a function. */
export function formulaValue(node: FormulaNode, sizes: Sizes): Decimal {
  switch (node.kind) {
    case "number":
      return node.value;
    case "constant":
      return node.name === "pi" ? PI : ONE;
    case "size":
      return sizes.get(node.key) ?? NONE;
    case "minus":
      return formulaValue(node.of, sizes).neg();
    case "binary":
      return valueOfBinary(node, sizes);
    case "call":
      return valueOfCall(node, sizes);
    case "if": {
      const isLess = formulaValue(node.left, sizes).lessThanOrEqualTo(formulaValue(node.right, sizes));
      return formulaValue(isLess ? node.then : node.otherwise, sizes);
    }
  }
}
