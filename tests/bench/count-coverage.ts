import { coverageOfFields, type FieldModel } from "../support/simulated-fields.ts";
import { printTable } from "./print-table.ts";

const TRIALS = 5000;
const SEED = 13;
const NUMBERS = [2, 3, 5, 10, 20, 50];
const RULES = ["clustered-only", "larger-of-two", "skewed-limits"] as const;
const MODELS: readonly (readonly [string, FieldModel])[] = [
  ["at random, 1 a field", { mean: 1, exponent: null }],
  ["at random, 5 a field", { mean: 5, exponent: null }],
  ["at random, 20 a field", { mean: 20, exponent: null }],
  ["clustered, k = 20, 20 a field", { mean: 20, exponent: 20 }],
  ["clustered, k = 10, 5 a field", { mean: 5, exponent: 10 }],
  ["clustered, k = 2, 20 a field", { mean: 20, exponent: 2 }],
  ["clustered, k = 2, 5 a field", { mean: 5, exponent: 2 }],
  ["clustered, k = 1, 10 a field", { mean: 10, exponent: 1 }],
  ["clustered, k = 0.5, 20 a field", { mean: 20, exponent: 0.5 }],
  ["clustered, k = 0.5, 5 a field", { mean: 5, exponent: 0.5 }],
  ["clustered, k = 0.2, 10 a field", { mean: 10, exponent: 0.2 }],
];

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;

/**
 * How often value ± U (95 %) holds the true density: fields at random, with nothing wrong, and fields of a negative
 * binomial, by today's rule and by those of earlier versions. All inputs invented.
 */
export function benchCountCoverage(): void {
  const rows = MODELS.flatMap(([name, model]) =>
    NUMBERS.map((number) => {
      const [first, before, today] = RULES.map((rule) =>
        coverageOfFields(model, number, { trials: TRIALS, seed: SEED, rule }),
      );
      if (!first || !before || !today) throw new Error("a rule has no coverage");
      return [
        name,
        String(number),
        percent(first.byU),
        percent(today.byU),
        percent(before.byLimits),
        percent(today.byLimits),
        percent(before.asPrinted),
        percent(today.asPrinted),
        percent(today.width),
      ];
    }),
  );
  printTable(
    [
      "fields",
      "n",
      "± U by the first rule",
      "± U",
      "limits before",
      "limits",
      "as printed before",
      "as printed",
      "mean U",
    ],
    rows,
  );
}
