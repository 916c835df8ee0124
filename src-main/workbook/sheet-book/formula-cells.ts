import type { FormulaFunction, FormulaNode } from "#core/measurement/formulas/formula-node.ts";

const NAMES: Readonly<Record<FormulaFunction, string>> = {
  sqrt: "SQRT",
  ln: "LN",
  exp: "EXP",
  min: "MIN",
  max: "MAX",
};

/**
 * A formula as a spreadsheet writes it, over the cells of its sizes. Every part stands in brackets: spreadsheets bind a
 * minus tighter than a power.
 */
export function cellFormula(node: FormulaNode, cells: ReadonlyMap<string, string>): string {
  const inner = (one: FormulaNode): string => cellFormula(one, cells);
  switch (node.kind) {
    case "number":
      return node.value.isNegative() ? `(${node.value.toFixed()})` : node.value.toFixed();
    case "constant":
      return node.name === "pi" ? "PI()" : "1";
    case "size":
      return cells.get(node.key) ?? "";
    case "minus":
      return `(0-${inner(node.of)})`;
    case "binary":
      return `(${inner(node.left)}${node.operator}${inner(node.right)})`;
    case "call":
      return `${NAMES[node.name]}(${node.of.map(inner).join(",")})`;
    case "if":
      return `IF(${inner(node.left)}<=${inner(node.right)},${inner(node.then)},${inner(node.otherwise)})`;
  }
}
