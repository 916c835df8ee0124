import { statSync } from "node:fs";
import { printTable, threeFigures } from "../print-table.ts";
import { printBudgets } from "./budgets.ts";
import { bytesIn, openYears } from "./open-years.ts";
import { keyRow, type TenYears } from "./ten-years.ts";

/** Copies that are looked at every so often while they are made. */
const LOOK_MS = 50;
const DAYS = 20;
const ROWS_OF_A_DAY = 100;
const DAY_MS = 86_400_000;

/** Twenty days of work, opened and closed each day with its copy: what the copies take, and that each still opens. */
export async function measureBackupSpace(ten: TenYears): Promise<void> {
  let opened = await openYears(ten);
  let most = 0;
  const bench = (): number => statSync(ten.paths.databaseFile).size;
  const looking = setInterval(() => {
    most = Math.max(most, bytesIn(ten.paths.backupFolder) / bench());
  }, LOOK_MS);
  for (let day = 1; day <= DAYS; day += 1) {
    opened.clock.set(new Date(Date.parse(ten.dayAfter) + day * DAY_MS).toISOString());
    for (let row = 0; row < ROWS_OF_A_DAY; row += 1) await keyRow(opened.call, ten.sheetId, row);
    const start = performance.now();
    await opened.program.close();
    console.log(`  … day ${day} of ${DAYS}: closed in ${threeFigures((performance.now() - start) / 1000)} s`);
    opened = await openYears({ ...ten, dayAfter: opened.clock.now() });
  }
  clearInterval(looking);
  const now = bytesIn(ten.paths.backupFolder);
  const copies = await opened.call("backups.list", {});
  const checks: string[][] = [];
  for (const { fileName } of copies) {
    const start = performance.now();
    await opened.call("backups.check", { fileName });
    checks.push([fileName, threeFigures((performance.now() - start) / 1000)]);
  }
  await opened.program.close();
  printTable(["copy, rebuilt, opened and checked", "s"], checks);
  printBudgets([
    {
      what: `${copies.length} copies after ${DAYS} days`,
      measured: now / bench(),
      unit: "× the bench",
      most: 3,
    },
    { what: "at most, while one was made", measured: most, unit: "× the bench", most: 3 },
  ]);
}
