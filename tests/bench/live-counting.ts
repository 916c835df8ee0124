import { evidenceOfFields } from "#core/counting/intervals/count-evidence.ts";
import { STOPPING_RULES } from "#core/counting/methods/stopping-rules.ts";
import { stoppingState } from "#core/counting/results/stopping-progress.ts";
import { bestOf, printTable, threeFigures } from "./print-table.ts";

const PRESSES = 200;

/** Field counts that look clustered or random, made by a fixed rule. */
function fieldsOf(number: number, clustered: boolean): number[] {
  return Array.from({ length: number }, (_, field) =>
    clustered ? (field % 7 === 0 ? 30 : field % 3) : 5 + (field % 5),
  );
}

/** What one key press of a count costs: evidence of all fields and the state of every stopping rule. */
export function benchLiveCounting(): void {
  const rows = [20, 100, 1000, 10_000].flatMap((number) =>
    [false, true].map((clustered) => {
      const fields = fieldsOf(number, clustered);
      const total = fields.reduce((sum, count) => sum + count, 0);
      const progress = { byClass: { all: total }, marker: 12, fields, minutes: 5 };
      const work = bestOf(3, () => {
        for (let press = 0; press < PRESSES; press += 1) {
          evidenceOfFields(fields);
          for (const { rule } of STOPPING_RULES) stoppingState(rule, progress);
        }
      });
      return [
        `${number} fields, ${clustered ? "clustered" : "even"}`,
        total.toLocaleString("en-GB"),
        threeFigures((work / PRESSES) * 1000),
      ];
    }),
  );
  printTable(["one key press", "objects", "µs"], rows);
}
