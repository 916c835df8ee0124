import { ONE, TWO, ZERO } from "../../quantity/decimal.ts";
import type { FormulaNode, FormulaOperator } from "./formula-node.ts";

const NOTHING: FormulaNode = { kind: "number", value: ZERO };
const SINGLE: FormulaNode = { kind: "number", value: ONE };
const DOUBLE: FormulaNode = { kind: "number", value: TWO };

const isZero = (node: FormulaNode): boolean => node.kind === "number" && node.value.isZero();
const isOne = (node: FormulaNode): boolean => node.kind === "number" && node.value.equals(1);

function difference(left: FormulaNode, right: FormulaNode): FormulaNode {
  if (left.kind === "number" && right.kind === "number") {
    return { kind: "number", value: left.value.minus(right.value) };
  }
  if (isZero(right)) return left;
  return isZero(left) ? { kind: "minus", of: right } : { kind: "binary", operator: "-", left, right };
}

/** Two parts put together, without what adds nothing. */
function joined(operator: FormulaOperator, left: FormulaNode, right: FormulaNode): FormulaNode {
  if (operator === "-") return difference(left, right);
  if (operator === "+" && isZero(left)) return right;
  if (operator === "+" && isZero(right)) return left;
  if ((operator === "*" || operator === "/") && isZero(left)) return NOTHING;
  if (operator === "*" && isZero(right)) return NOTHING;
  if (operator === "*" && isOne(left)) return right;
  if (operator !== "+" && isOne(right)) return left;
  return { kind: "binary", operator, left, right };
}

function ofBinary(node: Extract<FormulaNode, { kind: "binary" }>, key: string): FormulaNode {
  const { operator, left, right } = node;
  const byLeft = derivativeOf(left, key);
  // An exponent is a plain number: no size is in it.
  if (operator === "^") {
    const lower = joined("^", left, joined("-", right, SINGLE));
    return joined("*", joined("*", right, lower), byLeft);
  }
  const byRight = derivativeOf(right, key);
  if (operator === "+" || operator === "-") return joined(operator, byLeft, byRight);
  if (operator === "*") return joined("+", joined("*", byLeft, right), joined("*", left, byRight));
  const above = joined("-", joined("*", byLeft, right), joined("*", left, byRight));
  return joined("/", above, joined("^", right, DOUBLE));
}

/** The smallest (or greatest) of several: the first of equals counts, as in a workbook. */
function ofChoice(name: "min" | "max", [first, ...others]: readonly FormulaNode[], key: string): FormulaNode {
  if (!first) return NOTHING;
  if (others.length === 0) return derivativeOf(first, key);
  const rest: FormulaNode = others.length === 1 && others[0] ? others[0] : { kind: "call", name, of: others };
  const [then, otherwise] = [derivativeOf(first, key), ofChoice(name, others, key)];
  if (isZero(then) && isZero(otherwise)) return NOTHING;
  const [left, right] = name === "min" ? [first, rest] : [rest, first];
  return { kind: "if", left, right, then, otherwise };
}

/** ∂/∂ of one size, as a formula of its own: exact, and live in a workbook. */
export function derivativeOf(node: FormulaNode, key: string): FormulaNode {
  switch (node.kind) {
    case "number":
    case "constant":
    case "if":
      return NOTHING;
    case "size":
      return node.key === key ? SINGLE : NOTHING;
    case "minus": {
      const inner = derivativeOf(node.of, key);
      return isZero(inner) ? NOTHING : { kind: "minus", of: inner };
    }
    case "binary":
      return ofBinary(node, key);
    case "call": {
      if (node.name === "min" || node.name === "max") return ofChoice(node.name, node.of, key);
      const [of = NOTHING] = node.of;
      const inner = derivativeOf(of, key);
      if (node.name === "exp") return joined("*", node, inner);
      return joined("/", inner, node.name === "ln" ? of : joined("*", DOUBLE, node));
    }
  }
}
