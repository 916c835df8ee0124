import { coverageOfFields, type FieldModel } from "../support/simulated-fields.ts";
import { printTable } from "./print-table.ts";

const TRIALS = 5000;
const SEED = 13;
const NUMBERS = [2, 3, 5, 10, 20, 50];
const MODELS: readonly (readonly [string, FieldModel])[] = [
  ["at random, 1 a field", { mean: 1, exponent: null }],
  ["at random, 5 a field", { mean: 5, exponent: null }],
  ["at random, 20 a field", { mean: 20, exponent: null }],
  ["clustered, k = 20, 20 a field", { mean: 20, exponent: 20 }],
  ["clustered, k = 10, 5 a field", { mean: 5, exponent: 10 }],
  ["clustered, k = 2, 20 a field", { mean: 20, exponent: 2 }],
  ["clustered, k = 2, 5 a field", { mean: 5, exponent: 2 }],
  ["clustered, k = 0.5, 5 a field", { mean: 5, exponent: 0.5 }],
];

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;

/**
 * How often value ± U (95 %) holds the true density: fields at random, with nothing wrong, and fields of a negative
 * binomial, by today's rule and by that of earlier versions. All inputs invented.
 */
export function benchCountCoverage(): void {
  const rows = MODELS.flatMap(([name, model]) =>
    NUMBERS.map((number) => {
      const of = (rule: "larger-of-two" | "clustered-only") =>
        coverageOfFields(model, number, { trials: TRIALS, seed: SEED, rule });
      const [today, before] = [of("larger-of-two"), of("clustered-only")];
      return [
        name,
        String(number),
        percent(before.byU),
        percent(today.byU),
        percent(today.byLimits),
        percent(before.width),
        percent(today.width),
      ];
    }),
  );
  printTable(["fields", "n", "± U before", "± U", "limits", "mean U before", "mean U"], rows);
}
