import type { InputKey } from "#core/contract/records/count-method.ts";
import { inputsAskedBy } from "#core/counting/inputs/count-inputs.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import type { CountJob } from "./count-job.ts";

/** One named cell of Densities: a number, or a formula with the value computed here beside it. */
export interface NamedLine {
  readonly name: string;
  readonly words: string;
  readonly unit: string;
  readonly value: number;
  readonly formula: string | null;
  readonly note: string;
}

/** Lines with names; a later line may use the names of earlier ones. */
export interface NamedLines {
  readonly lines: readonly NamedLine[];
  has(name: string): boolean;
  /** The value behind a name. @throws Error when there is no such line */
  value(name: string): number;
  given(name: string, words: string, unit: string, value: number, note?: string): void;
  made(name: string, words: string, unit: string, formula: string, value: number, note?: string): void;
}

export function namedLines(): NamedLines {
  const lines: NamedLine[] = [];
  const find = (name: string) => lines.find((line) => line.name === name);
  return {
    lines,
    has: (name) => find(name) !== undefined,
    value(name) {
      const line = find(name);
      if (!line) throw new Error(`the worksheet Densities has no cell ${name}`);
      return line.value;
    },
    given: (name, words, unit, value, note = "") => {
      lines.push({ name, words, unit, value, formula: null, note });
    },
    made: (name, words, unit, formula, value, note = "") => {
      lines.push({ name, words, unit, value, formula, note });
    },
  };
}

/** The name of the cell of an input: `in_settledVolume`. */
export function inputName(key: InputKey): string {
  return `in_${key}`;
}

/** What an input that was not typed counts as. */
const UNTYPED: Partial<Record<InputKey, number>> = { dilution: 1 };

/** The inputs of the count, each as typed, and the frozen factor. */
export function inputLines({ bundle }: CountJob): NamedLines {
  const lines = namedLines();
  const { count, method, calibration } = bundle;
  for (const asked of inputsAskedBy(method.definition)) {
    const typed = (count.inputs[asked.key] ?? "").trim();
    const value = typed === "" ? (UNTYPED[asked.key] ?? 0) : Number(readDecimal(asked.key, typed).text);
    const note = typed === "" ? "not typed" : `typed ${typed}`;
    lines.given(inputName(asked.key), asked.name, asked.unit, value, note);
  }
  if (calibration?.result) {
    const { factor, standardUncertainty } = calibration.result;
    lines.given("factor_1", "factor, frozen with the count", "µm/div", Number(factor), `exactly ${factor}`);
    lines.given("factor_1_u", "its standard uncertainty", "µm/div", Number(standardUncertainty));
  }
  return lines;
}
