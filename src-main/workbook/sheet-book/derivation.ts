import type { DerivedDefinition } from "#core/contract/records/method.ts";
import { plainForm, shapeOfKind } from "#core/measurement/derived-kind.ts";
import { storedFormula } from "#core/measurement/formulas/formula.ts";
import type { FormulaNode } from "#core/measurement/formulas/formula-node.ts";
import { formulaValue } from "#core/measurement/formulas/formula-value.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { cellFormula } from "./formula-cells.ts";

/** coefficient · Π sizeᵢ^powerᵢ, by position of the dimension. */
interface Term {
  readonly coefficient: number;
  readonly powers: readonly number[];
}

/** A derived quantity as formulas and numbers of the sizes it comes from. */
export interface Derivation {
  /** Dimensions it needs, each once. */
  readonly dimensions: readonly string[];
  value(cells: readonly string[]): string;
  /** ∂/∂ of the size at a position. */
  partial(at: number, cells: readonly string[]): string;
  partialNumber(at: number, sizes: readonly number[]): number;
}

function productFormula({ coefficient, powers }: Term, cells: readonly string[]): string {
  const parts = powers.flatMap((power, at) => {
    if (power === 0) return [];
    return [power === 1 ? cells[at] : `${cells[at]}^${power < 0 ? `(${power})` : power}`];
  });
  const shown = coefficient === 1 && parts.length > 0 ? [] : [String(coefficient)];
  return [...shown, ...parts].join("*");
}

function productNumber({ coefficient, powers }: Term, sizes: readonly number[]): number {
  return powers.reduce((product, power, at) => product * (sizes[at] ?? Number.NaN) ** power, coefficient);
}

function derivative(terms: readonly Term[], at: number): Term[] {
  return terms.flatMap(({ coefficient, powers }) => {
    const power = powers[at] ?? 0;
    if (power === 0) return [];
    return [
      {
        coefficient: coefficient * power,
        powers: powers.map((one, index) => (index === at ? one - 1 : one)),
      },
    ];
  });
}

function sumFormula(terms: readonly Term[], cells: readonly string[]): string {
  return terms.length === 0 ? "0" : terms.map((term) => `(${productFormula(term, cells)})`).join("+");
}

function ofTerms(dimensions: readonly string[], terms: readonly Term[]): Derivation {
  return {
    dimensions,
    value: (cells) => sumFormula(terms, cells),
    partial: (at, cells) => sumFormula(derivative(terms, at), cells),
    partialNumber: (at, sizes) =>
      derivative(terms, at).reduce((sum, term) => sum + productNumber(term, sizes), 0),
  };
}

/** The first of the largest counts; the others do not. */
function largestOf(dimensions: readonly string[]): Derivation {
  return {
    dimensions,
    value: (cells) => `MAX(${cells.join(",")})`,
    partial(at, cells) {
      const most = `MAX(${cells.join(",")})`;
      const earlier = cells.slice(0, at).map((cell) => `${cell}<${most}`);
      return `IF(AND(${[`${cells[at]}=${most}`, ...earlier].join(",")}),1,0)`;
    },
    partialNumber(at, sizes) {
      return sizes.indexOf(Math.max(...sizes)) === at ? 1 : 0;
    },
  };
}

/** Terms by input of the kind, in the order of its inputs. */
function termsOf(kind: string, inputs: number): Term[] {
  const form = plainForm(kind);
  if (form?.by === "product") return [{ coefficient: form.coefficient.toNumber(), powers: form.powers }];
  if (form?.by === "sum") {
    return form.weights(inputs).map((weight, at) => ({
      coefficient: weight.toNumber(),
      powers: Array.from({ length: inputs }, (_, index) => (index === at ? 1 : 0)),
    }));
  }
  const shape = shapeOfKind(kind);
  if (shape === null) throw new RangeError(`There is no derived quantity of the kind ${kind}.`);
  return shape.terms.map(({ coefficient, powers }) => ({
    coefficient: coefficient.toNumber(),
    powers: shape.inputs.map(({ key }) => powers[key] ?? 0),
  }));
}

/** A laboratory's own formula: value and sensitivities stand in the cells as they are written. */
function ofFormula(formula: string, dimensions: readonly string[]): Derivation {
  const { node, partials } = storedFormula(formula, dimensions);
  const partialOf = (at: number): FormulaNode => {
    const found = partials[at];
    if (!found) throw new RangeError(`The formula ${formula} has no size ${at + 1}.`);
    return found;
  };
  const written = (one: FormulaNode, cells: readonly string[]): string =>
    cellFormula(one, new Map(dimensions.map((key, at) => [key, cells[at] ?? ""])));
  return {
    dimensions,
    value: (cells) => written(node, cells),
    partial: (at, cells) => written(partialOf(at), cells),
    partialNumber: (at, sizes) =>
      formulaValue(
        partialOf(at),
        new Map(dimensions.map((key, index) => [key, decimal(sizes[index] ?? Number.NaN)])),
      ).toNumber(),
  };
}

/** How a derived quantity of a method follows from its sizes. One size may stand for two inputs of a shape. */
export function derivationOf({ kind, of, formula }: DerivedDefinition): Derivation {
  if (formula !== undefined) return ofFormula(formula, of);
  const dimensions = [...new Set(of)];
  if (plainForm(kind)?.by === "largest") return largestOf(dimensions);
  const terms = termsOf(kind, of.length).map(({ coefficient, powers }) => ({
    coefficient,
    powers: dimensions.map((dimension) =>
      of.reduce((sum, one, input) => sum + (one === dimension ? (powers[input] ?? 0) : 0), 0),
    ),
  }));
  return ofTerms(dimensions, terms);
}
