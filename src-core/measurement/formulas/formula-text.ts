import jsep, { type Expression } from "jsep";
import { readDecimal } from "../../quantity/decimal-text.ts";
import { InputError } from "../../quantity/input-error.ts";
import {
  FORMULA_FUNCTIONS,
  FORMULA_OPERATORS,
  type FormulaFunction,
  type FormulaNode,
  type FormulaOperator,
} from "./formula-node.ts";

/** How tightly an operator binds; a power goes from right to left. */
const TIGHTNESS: Readonly<Record<FormulaOperator, number>> = { "+": 1, "-": 1, "*": 2, "/": 2, "^": 4 };

/** The parser knows the four rules, powers and calls, and nothing else of what it could know. */
function configure(): void {
  jsep.removeAllBinaryOps();
  jsep.removeAllUnaryOps();
  jsep.removeAllLiterals();
  for (const operator of FORMULA_OPERATORS) jsep.addBinaryOp(operator, TIGHTNESS[operator], operator === "^");
  // The parser would bind a minus tighter than a power: −a^2 is −(a²) for everybody who writes it.
  jsep.hooks.add("gobble-token", function (environment) {
    if (this.char !== "-") return;
    this.index += 1;
    let argument = this.gobbleToken();
    if (!argument) this.throwError("Expected something after the minus");
    this.gobbleSpaces();
    if (argument && (this.char as string) === "^") {
      this.index += 1;
      this.gobbleSpaces();
      const right = this.gobbleToken();
      if (!right) this.throwError("Expected an exponent");
      argument = { type: "BinaryExpression", operator: "^", left: argument, right };
    }
    environment.node = { type: "UnaryExpression", operator: "-", prefix: true, argument };
  });
}
configure();

const CONSTANTS: Readonly<Record<string, "pi" | "um">> = { pi: "pi", π: "pi", um: "um", µm: "um", μm: "um" };
const FUNCTION_NAMES = Object.keys(FORMULA_FUNCTIONS) as readonly FormulaFunction[];
const functionsInWords = `${FUNCTION_NAMES.slice(0, -1).join(", ")} and ${FUNCTION_NAMES.at(-1)}`;

/** Names and numbers of a formula must be known here: nothing of the language around is in reach of it. */
class Reader {
  readonly #field: string;
  readonly #names: readonly string[];

  constructor(field: string, names: readonly string[]) {
    this.#field = field;
    this.#names = names;
  }

  #refuse(reason: string): never {
    throw new InputError(this.#field, reason);
  }

  read(expression: Expression): FormulaNode {
    const { type } = expression as { readonly type: string };
    const of = expression as unknown as Readonly<Record<string, unknown>>;
    if (type === "Literal") return this.#number(String(of.raw));
    if (type === "Identifier") return this.#name(String(of.name));
    if (type === "UnaryExpression") return { kind: "minus", of: this.read(of.argument as Expression) };
    if (type === "BinaryExpression") {
      return {
        kind: "binary",
        operator: of.operator as FormulaOperator,
        left: this.read(of.left as Expression),
        right: this.read(of.right as Expression),
      };
    }
    if (type === "CallExpression") return this.#call(of.callee as Expression, of.arguments as Expression[]);
    this.#refuse(
      type === "Compound" || type === "SequenceExpression"
        ? "holds two values side by side: an operator is missing, or a number has a comma instead of a point"
        : "holds something other than numbers, columns, + − * / ^, brackets and functions",
    );
  }

  #number(raw: string): FormulaNode {
    if (!/^[\d.]/.test(raw)) this.#refuse(`cannot take ${raw}: it takes numbers and columns`);
    try {
      return { kind: "number", value: readDecimal(this.#field, raw).value };
    } catch (error) {
      if (error instanceof InputError) this.#refuse(`holds ${raw}, which ${error.reason}`);
      throw error;
    }
  }

  #name(name: string): FormulaNode {
    if (this.#names.includes(name)) return { kind: "size", key: name };
    const constant = Object.hasOwn(CONSTANTS, name) ? CONSTANTS[name] : undefined;
    if (constant !== undefined) return { kind: "constant", name: constant };
    this.#refuse(`names “${name}”, which is no column of this method: it has ${this.#names.join(", ")}`);
  }

  #call(callee: Expression, given: readonly (Expression | null)[]): FormulaNode {
    const called = callee as { readonly type: string; readonly name?: unknown };
    const name = FUNCTION_NAMES.find((one) => called.type === "Identifier" && one === called.name);
    if (!name) {
      this.#refuse(
        `calls “${String(called.name ?? "…")}”, which is no function here: it may use ${functionsInWords}`,
      );
    }
    const [least, most] = FORMULA_FUNCTIONS[name];
    if (given.length < least || given.length > most || given.some((one) => one === null)) {
      this.#refuse(
        least === most
          ? `gives ${name} more or less than one value`
          : `gives ${name} fewer than ${least} or more than ${most} values`,
      );
    }
    return { kind: "call", name, of: given.flatMap((one) => (one ? [this.read(one)] : [])) };
  }
}

/**
 * A formula from its text: numbers with a point, columns of the method by their names, + − * / ^, brackets, pi, um and
 * the functions of `FORMULA_FUNCTIONS`.
 * @throws InputError `field` with what is wrong
 */
export function formulaOfText(text: string, names: readonly string[], field: string): FormulaNode {
  if (text.trim() === "") throw new InputError(field, "must not be empty");
  // A true minus, dot or cross is written as often as its sign on the keyboard.
  const plain = text.replaceAll("−", "-").replaceAll(/[·×]/g, "*");
  return new Reader(field, names).read(parsed(plain, field));
}

function parsed(plain: string, field: string): Expression {
  try {
    return jsep(plain);
  } catch (error) {
    const at = (error as { readonly index?: unknown }).index;
    const where = typeof at === "number" ? ` near “${plain.slice(Math.max(0, at - 3), at + 3).trim()}”` : "";
    throw new InputError(field, `cannot be read${where}: look for a missing bracket, value or operator`);
  }
}
