import { InputError } from "../../quantity/input-error.ts";
import type { FormulaNode } from "./formula-node.ts";
import { formulaValue } from "./formula-value.ts";

const SUPERSCRIPTS: Readonly<Record<string, string>> = {
  "-": "⁻",
  "1": "¹",
  "2": "²",
  "3": "³",
  "4": "⁴",
  "5": "⁵",
  "6": "⁶",
};
const MOST = 6;

/** `µm²`, `µm⁻¹`; `1` for a pure number. */
function unitText(power: number): string {
  if (power === 0) return "1";
  return power === 1 ? "µm" : `µm${[...String(power)].map((sign) => SUPERSCRIPTS[sign] ?? sign).join("")}`;
}

const inWords = (power: number): string => (power === 0 ? "a pure number" : unitText(power));
const same = (a: number, b: number): boolean => Math.abs(a - b) < 1e-9;

function requireSame(powers: readonly number[], what: string, field: string): number {
  const [first = 0, ...others] = powers;
  const other = others.find((one) => !same(one, first));
  if (other !== undefined) {
    throw new InputError(
      field,
      `${what} ${inWords(first)} and ${inWords(other)}, whose units do not fit: write a length as a number times um, such as 2*um`,
    );
  }
  return first;
}

function requireNumber(power: number, what: string, field: string): void {
  if (!same(power, 0)) throw new InputError(field, `${what} ${unitText(power)}, but needs a pure number`);
}

/** The power of µm of a part. */
function powerOf(node: FormulaNode, field: string): number {
  switch (node.kind) {
    case "number":
      return 0;
    case "constant":
      return node.name === "um" ? 1 : 0;
    case "size":
      return 1;
    case "minus":
      return powerOf(node.of, field);
    case "call": {
      const powers = node.of.map((one) => powerOf(one, field));
      if (node.name === "sqrt") return (powers[0] ?? 0) / 2;
      if (node.name === "min" || node.name === "max")
        return requireSame(powers, `compares in ${node.name}`, field);
      requireNumber(powers[0] ?? 0, `gives ${node.name}`, field);
      return 0;
    }
    case "if":
      return powerOf(node.then, field);
    case "binary": {
      const left = powerOf(node.left, field);
      if (node.operator === "^") return left * exponentOf(node.right, field);
      const right = powerOf(node.right, field);
      if (node.operator === "*") return left + right;
      if (node.operator === "/") return left - right;
      return requireSame([left, right], node.operator === "+" ? "adds" : "subtracts", field);
    }
  }
}

/** An exponent as a number. @throws InputError when a size is in it */
export function exponentOf(node: FormulaNode, field: string): number {
  requireNumber(powerOf(node, field), "has an exponent of", field);
  const value = formulaValue(node, new Map());
  if (!value.isFinite())
    throw new InputError(field, "has an exponent that is not a plain number, such as 2 or 1/3");
  return value.toNumber();
}

/**
 * The unit of a formula over sizes in µm: `1`, `µm`, `µm²` …
 * @throws InputError `field` when units do not fit, or when the unit is no whole power of µm
 */
export function formulaUnit(node: FormulaNode, field: string): string {
  const power = powerOf(node, field);
  const whole = Math.round(power);
  if (!same(power, whole) || Math.abs(whole) > MOST) {
    throw new InputError(
      field,
      `comes out in µm to the power of ${Number(power.toPrecision(3))}: no unit of a length, area or volume`,
    );
  }
  return unitText(whole);
}
