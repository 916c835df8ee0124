import type { Decimal } from "../../quantity/decimal.ts";

/** The functions a formula may use, each with how many values it takes. */
export const FORMULA_FUNCTIONS = { sqrt: [1, 1], ln: [1, 1], exp: [1, 1], min: [2, 6], max: [2, 6] } as const;
export type FormulaFunction = keyof typeof FORMULA_FUNCTIONS;

export const FORMULA_OPERATORS = ["+", "-", "*", "/", "^"] as const;
export type FormulaOperator = (typeof FORMULA_OPERATORS)[number];

/**
 * A formula as a tree. `um` is one micrometre, for constants that have a unit. `if` chooses the first of two values where
 * `left` ≤ `right`: it stands in derivatives alone.
 */
export type FormulaNode =
  | { readonly kind: "number"; readonly value: Decimal }
  | { readonly kind: "constant"; readonly name: "pi" | "um" }
  | { readonly kind: "size"; readonly key: string }
  | { readonly kind: "minus"; readonly of: FormulaNode }
  | {
      readonly kind: "binary";
      readonly operator: FormulaOperator;
      readonly left: FormulaNode;
      readonly right: FormulaNode;
    }
  | { readonly kind: "call"; readonly name: FormulaFunction; readonly of: readonly FormulaNode[] }
  | {
      readonly kind: "if";
      readonly left: FormulaNode;
      readonly right: FormulaNode;
      readonly then: FormulaNode;
      readonly otherwise: FormulaNode;
    };

/** Keys of the sizes in a formula, each once, in the order in which they stand. */
export function sizesIn(node: FormulaNode): readonly string[] {
  switch (node.kind) {
    case "size":
      return [node.key];
    case "minus":
      return sizesIn(node.of);
    case "binary":
      return [...new Set([...sizesIn(node.left), ...sizesIn(node.right)])];
    case "call":
      return [...new Set(node.of.flatMap(sizesIn))];
    default:
      return [];
  }
}
