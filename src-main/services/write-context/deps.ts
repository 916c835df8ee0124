import type { FaultLine } from "#core/contract/records/bench.ts";
import type { ChangeLog } from "../../dispatch/change-log.ts";
import type { Clock } from "../../ports/clock.ts";
import type { CopyWork } from "../../ports/copy-work.ts";
import type { HeadSigner } from "../../ports/head-signer.ts";
import type { Ids } from "../../ports/ids.ts";
import type { BenchPaths } from "../../ports/paths.ts";
import type { Snapshot } from "../../store/bench-file/open.ts";
import type { Restored } from "../../store/bench-file/swap.ts";
import type { BenchDb } from "../../store/connection.ts";

/** What the services work with; put together once by `assemble`. */
export interface Deps {
  readonly db: BenchDb;
  /** A connection of its own that sees the bench as it is now; for long reading. */
  readonly snapshot: () => Snapshot;
  readonly clock: Clock;
  readonly ids: Ids;
  readonly paths: BenchPaths;
  readonly program: {
    readonly name: string;
    readonly version: string;
    readonly host: "electron" | "loopback";
  };
  readonly demo: boolean;
  readonly notices: readonly string[];
  readonly downloadAddress: (fileName: string) => string | null;
  /** Goes on after its call has been answered; told when the bench closes, and waited for. It must not reject. */
  readonly background: (work: (closing: AbortSignal) => Promise<void>) => void;
  /** What a job notes that goes on after its call; the dispatcher notes what each call has changed. */
  readonly changes: ChangeLog;
  /** Writes down a defect of ours and gives the number a person can quote. */
  readonly fault: (where: string, error: unknown) => string;
  /**
   * Closes the bench, sets a backup in its place and opens that; other calls wait meanwhile. The bench goes on as it was
   * when the backup does not open. The trail of the bench that comes back is told what was restored.
   * @returns where the file that was open is kept
   */
  readonly restore: (restored: Restored) => Promise<string>;
  /** null where exports go to the export folder without asking. */
  readonly chooseExportPath: ((suggested: string) => Promise<string | null>) | null;
  readonly copyWork: CopyWork;
  /** null where the host has no keychain. */
  readonly signer: HeadSigner | null;
  /** null where the host cannot open the demo bench. */
  readonly openDemo: (() => Promise<void>) | null;
  /** The newest lines of the log of defects, the newest first. */
  readonly faultsSoFar: (count: number) => FaultLine[];
  /** null where the host cannot open a folder. */
  readonly showInFolder: ((path: string) => Promise<void>) | null;
  /** null where the window prints by itself. */
  readonly printToPdf: (() => Promise<Uint8Array>) | null;
}
