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

/** Verify with nothing beside it: the chain of hashes and every record. */
export async function measureVerify(ten: TenYears): Promise<void> {
  const opened = await openYears(ten);
  try {
    const { report, seconds, worked } = await withBeat("verify", timedVerify(opened));
    console.log(
      `${report.trailLines} lines and ${report.measurements} measurements: ${threeFigures(seconds)} s by the clock, ${threeFigures(worked)} s of this process's work`,
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

/** Stops a verification once half the chain has been followed. @returns the head it came to */
async function stoppedHalfWay({ call, program }: OpenYears): Promise<string> {
  const lines = Number((await call("trail.head", {}))?.split(":")[0]);
  const requestId = randomIds.next();
  const running = program.dispatch("trail.verify", { requestId });
  for (let to = 0; to < lines / 2; ) {
    await pause(20);
    to = Number((await call("trail.followedTo", {}))?.split(":")[0] ?? 0);
  }
  await call("work.stop", { requestId });
  const reply = await running;
  if (reply.ok || reply.error.code !== "work.stopped") throw new Error("it was over before it was stopped");
  return (await call("trail.followedTo", {})) ?? "";
}

/** Verify stopped half the way along the chain and gone on from there: the lines before are not hashed again. */
export async function measureVerifyResumed(ten: TenYears): Promise<void> {
  const opened = await openYears(ten);
  try {
    const to = await withBeat("verify, to half the chain", stoppedHalfWay(opened));
    const from = Number(to.split(":")[0]);
    const { report, seconds } = await withBeat("verify, gone on", timedVerify(opened, { from: to }));
    if (report.wentOnFrom !== from) throw new Error(`it did not go on from ${to}`);
    console.log(
      `stopped at line ${from} of ${from + report.trailLines}, gone on from there to its end with every record: ${threeFigures(seconds)} s`,
    );
  } finally {
    await opened.program.close();
  }
}
