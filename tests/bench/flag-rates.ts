import {
  falseRates,
  foundAmongEven,
  hintRates,
  MISTAKES,
  POPULATIONS,
  powerOf,
} from "../support/flag-rates.ts";
import { printTable } from "./print-table.ts";

const SEEDS = 2000;
const SIZES = [5, 8, 10, 20, 30, 50, 100] as const;
/** Sizes of a label in which one value of 28.5 div stands among others of 12 to 14. */
const AMONG = [8, 15, 30, 100] as const;
const percent = (share: number, digits = 1): string => `${(100 * share).toFixed(digits)} %`;

/** False alarms and power of “apart from the rest” over seeded simulations of one label in one dimension. */
export function benchFlagRates(): void {
  console.log(
    `nothing wrong, ${SEEDS.toLocaleString("en-GB")} seeds each: stated risk 2 % per label and dimension, whenever while it grows`,
  );
  printTable(
    ["label", "n", "labels with a flag", "of values", "flagged at any time while it grew"],
    POPULATIONS.flatMap((population) =>
      SIZES.map((n) => {
        const { labels, values, ever } = falseRates(population, n, SEEDS);
        return [population.name, String(n), percent(labels, 2), percent(values, 3), percent(ever)];
      }),
    ),
  );
  console.log("\none mistake among n values: how often it is found");
  printTable(
    ["mistake", "label", ...[8, 15, 30, 100].map((n) => `n = ${n}`), "a right one flagged, n = 30"],
    MISTAKES.flatMap((mistake) =>
      POPULATIONS.slice(0, 4).map((population) => [
        mistake.name,
        population.name,
        ...[8, 15, 30, 100].map((n) => percent(powerOf(population, mistake, n, SEEDS / 4).found)),
        percent(powerOf(population, mistake, 30, SEEDS / 4).others),
      ]),
    ),
  );
  console.log("\n28.5 div among others of 12 to 14 div, evenly spread");
  printTable(
    ["others", "found"],
    AMONG.map((n) => [String(n), percent(foundAmongEven(28.5, n, SEEDS / 4))]),
  );
  console.log("\nthree values of thirty read with the other objective");
  printTable(
    ["mistake", "label", "all three found"],
    MISTAKES.slice(0, 2).flatMap((mistake) =>
      POPULATIONS.slice(0, 2).map((population) => [
        mistake.name,
        population.name,
        percent(powerOf(population, mistake, 30, SEEDS / 4, 3).found),
      ]),
    ),
  );
  console.log("\nanother objective named from a history of n values of the label");
  printTable(
    ["label", "n", "for a right value", "for one read with the 100×"],
    POPULATIONS.flatMap((population) =>
      [5, 20, 100].map((n) => {
        const { without, named } = hintRates(population, n, SEEDS);
        return [population.name, String(n), percent(without, 2), percent(named)];
      }),
    ),
  );
}
