import { setTimeout as pause } from "node:timers/promises";
import type { VerifyReport } from "#core/contract/records/trail.ts";
import { randomIds } from "#main/ports/ids.ts";
import { threeFigures } from "../print-table.ts";
import { printBudgets, withBeat } from "./budgets.ts";
import { type OpenYears, openYears } from "./open-years.ts";
import type { TenYears } from "./ten-years.ts";

/** A report without a difference, with the time it took by the clock and of this process. @throws on a difference */
export async function timedVerify(
  { call }: OpenYears,
  input: Parameters<OpenYears["call"]>[1] & object = {},
): Promise<{ report: VerifyReport; seconds: number; worked: number }> {
  const [start, spent] = [performance.now(), process.cpuUsage()];
  const report = await call("trail.verify", input as never);
  if (report.differences.length > 0) throw new Error(`verify: ${JSON.stringify(report.differences[0])}`);
  const { user, system } = process.cpuUsage(spent);
  return { report, seconds: (performance.now() - start) / 1000, worked: (user + system) / 1e6 };
}

/** Stops a verification once the chain has been followed some way. @returns the line it came to */
async function stoppedOnTheWay({ call, program }: OpenYears): Promise<string> {
  const requestId = randomIds.next();
  const running = program.dispatch("trail.verify", { requestId });
  let to: string | null = null;
  for (let looks = 0; looks < 2000 && to === null; looks += 1) {
    await pause(20);
    to = await call("trail.followedTo", {});
  }
  await call("work.stop", { requestId });
  const reply = await running;
  if (reply.ok || reply.error.code !== "work.stopped") throw new Error("it was over before it was stopped");
  return (await call("trail.followedTo", {})) ?? "";
}

/** Verify with nothing beside it, and once more from the line to which a stopped run had come. */
export async function measureVerify(ten: TenYears): Promise<void> {
  const opened = await openYears(ten);
  try {
    const { report, seconds, worked } = await withBeat("verify", timedVerify(opened));
    const to = await stoppedOnTheWay(opened);
    const from = Number(to.split(":")[0]);
    const rest = await withBeat("verify, gone on", timedVerify(opened, { from: to }));
    if (rest.report.wentOnFrom !== from) throw new Error(`it did not go on from ${to}`);
    console.log(
      `${report.trailLines} lines and ${report.measurements} measurements: ${threeFigures(seconds)} s by the clock, ${threeFigures(worked)} s of this process's work; stopped at line ${from} and gone on from there, all records again: ${threeFigures(rest.seconds)} s`,
    );
    printBudgets([
      {
        what: "lines verified in a second of its own work, every record with them",
        measured: report.trailLines / worked,
        unit: "lines",
        least: 10_000,
      },
      { what: "the same by the clock", measured: report.trailLines / seconds, unit: "lines", least: 10_000 },
    ]);
  } finally {
    await opened.program.close();
  }
}
