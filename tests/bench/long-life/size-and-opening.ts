import { statSync } from "node:fs";
import Database from "better-sqlite3";
import { printTable, threeFigures } from "../print-table.ts";
import { type Budget, printBudgets } from "./budgets.ts";
import { openYears } from "./open-years.ts";
import type { TenYears } from "./ten-years.ts";

const OPENINGS = 3;

/** Bytes of a row, all told, and what they are made of. */
export function measureSize({ paths, rows }: TenYears): void {
  const bench = new Database(paths.databaseFile, { readonly: true });
  const parts = bench
    .prepare("SELECT name, sum(pgsize) AS bytes FROM dbstat GROUP BY name ORDER BY bytes DESC LIMIT 12")
    .all() as { name: string; bytes: number }[];
  bench.close();
  const whole = statSync(paths.databaseFile).size;
  printTable(
    ["table or index", "bytes a row"],
    [
      ["the whole file", threeFigures(whole / rows)],
      ...parts.map(({ name, bytes }) => [name, threeFigures(bytes / rows)]),
    ],
  );
  printBudgets([{ what: "a row, all told", measured: whole / rows, unit: "B", most: 800 }]);
}

/** From the start of opening to the first answer; the look at every page goes on behind it and is stopped by closing. */
export async function measureOpening(ten: TenYears): Promise<void> {
  const budgets: Budget[] = [];
  for (let time = 1; time <= OPENINGS; time += 1) {
    const start = performance.now();
    const { program, call } = await openYears(ten);
    await call("bench.status", {});
    const measured = (performance.now() - start) / 1000;
    await program.close();
    budgets.push({ what: `opened to its first answer, ${time}`, measured, unit: "s", most: 2 });
  }
  printBudgets(budgets);
}
