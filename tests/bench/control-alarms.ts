import { type ControlModel, controlRates } from "../support/simulated-controls.ts";
import { printTable } from "./print-table.ts";

const TRIALS = Number(process.env.TRIALS ?? 1000);

const MODELS: readonly (readonly [string, ControlModel, wrong: number])[] = [
  ["blanks, 0.2 objects", { kind: "blank", means: [0.2], extra: 0 }, 20],
  ["blanks, 2 objects", { kind: "blank", means: [2], extra: 0 }, 5],
  ["blanks, 20 objects", { kind: "blank", means: [20], extra: 0 }, 2],
  ["recoveries, 2 objects", { kind: "recovery", means: [2], extra: 0 }, 4],
  ["recoveries, 10 objects", { kind: "recovery", means: [10], extra: 0 }, 0.5],
  ["recoveries, 100 objects", { kind: "recovery", means: [100], extra: 0 }, 0.5],
  ["recoveries, 100 objects, ± 15 % of preparation", { kind: "recovery", means: [100], extra: 0.15 }, 0.5],
  ["recoveries, 40 and 200 objects in turn", { kind: "recovery", means: [40, 200], extra: 0 }, 0.5],
  ["duplicates, 2 objects", { kind: "duplicate", means: [2], extra: 0 }, 4],
  ["duplicates, 10 objects", { kind: "duplicate", means: [10], extra: 0 }, 2],
  ["duplicates, 100 objects", { kind: "duplicate", means: [100], extra: 0 }, 1.5],
  ["duplicates, 100 objects, ± 10 % of preparation", { kind: "duplicate", means: [100], extra: 0.1 }, 2],
  ["duplicates, 40 and 200 objects in turn", { kind: "duplicate", means: [40, 200], extra: 0 }, 1.5],
];

const percent = (share: number): string => `${(100 * share).toFixed(2)} %`;

/** How often a control sample is named beyond the limits of the earlier ones, with nothing wrong and with the last one wrong. */
export function benchControlAlarms(): void {
  console.log(`${TRIALS.toLocaleString("en-GB")} simulated series of twenty control samples each`);
  printTable(
    ["series", "named, nothing wrong", "series with one named", "last one wrong by", "found"],
    MODELS.map(([name, model, wrong]) => {
      const { alarms, series, found } = controlRates(model, wrong, TRIALS, 17);
      return [name, percent(alarms), percent(series), `× ${wrong}`, percent(found)];
    }),
  );
}
