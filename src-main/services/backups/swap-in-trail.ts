import type { Clock } from "../../ports/clock.ts";
import type { BenchPaths } from "../../ports/paths.ts";
import { forgetSwap, swapUnderWay } from "../../store/bench-file/swap.ts";
import { type BenchDb, immediate } from "../../store/connection.ts";
import { appendTrail, lastOfBench } from "../../store/repositories/audit-trail.ts";

/**
 * Tells the trail of the bench that came back which backup it is, also when the program was killed between setting it in
 * place and this line: once, because the name of the file kept aside is in no other line.
 */
export function tellOfSwap(
  db: BenchDb,
  { paths, clock }: { readonly paths: BenchPaths; readonly clock: Clock },
): void {
  const swap = swapUnderWay(paths);
  if (swap === null) return;
  const { restored, aside: keptAside } = swap;
  if (restored !== null) {
    immediate(db, (writable) => {
      if (lastOfBench(writable, "backups.restore")?.detail.includes(keptAside)) return;
      const { fileName, madeAt, by, reason } = restored;
      const detail = { fileName, madeAt, by, keptAside };
      appendTrail(
        writable,
        { act: "backups.restore", subject: "bench", subjectId: "bench", reason, detail },
        { at: clock.now(), personId: null },
      );
    });
  }
  forgetSwap(paths);
}
