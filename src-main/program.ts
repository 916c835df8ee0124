import type { WorkProgress } from "#core/contract/records/work.ts";
import type { Reply } from "#core/contract/reply.ts";
import type { Clock } from "./ports/clock.ts";
import type { CopyWork } from "./ports/copy-work.ts";
import type { HeadSigner } from "./ports/head-signer.ts";
import type { Ids } from "./ports/ids.ts";
import type { BenchPaths } from "./ports/paths.ts";

/** What a host supplies to open a bench. */
export interface ProgramOptions {
  readonly paths: BenchPaths;
  readonly clock: Clock;
  readonly ids: Ids;
  readonly host: "electron" | "loopback";
  readonly programVersion: string;
  /** True for the invented demo bench. */
  readonly demo?: boolean;
  readonly log?: (line: string) => void;
  /** Address from which the window can save an exported file; null where the host writes files itself. */
  readonly downloadAddress?: (fileName: string) => string | null;
  /** Asks where an export goes; null when the person cancels. Without it exports go to the export folder. */
  readonly chooseExportPath?: (suggested: string) => Promise<string | null>;
  /** Works on copies of the bench beside this process; left out, in it. */
  readonly copyWork?: CopyWork;
  /** See `openBench`; for tests. */
  readonly checkedWholeUpTo?: number;
  /** Told how far it is where opening takes long: an older bench that is brought up to date. */
  readonly opening?: (progress: WorkProgress) => void;
  /** Opens the demo bench beside this one; left out where the host has no window of its own to open it in. */
  readonly openDemo?: () => Promise<void>;
  /** A key in the operating system's keychain; left out where the host has none. */
  readonly headSigner?: HeadSigner;
  /** Opens the folder of a file with the file chosen in it; left out where the host cannot. */
  readonly showInFolder?: (path: string) => Promise<void>;
  /** Makes a PDF of the page the window shows; left out where the window prints by itself. */
  readonly printToPdf?: () => Promise<Uint8Array>;
}

/** An open bench with its services behind one door. */
export interface Program {
  /** Never rejects. */
  dispatch(name: string, rawInput: unknown): Promise<Reply<unknown>>;
  /** Things that happened while opening and that a person should know. */
  readonly notices: readonly string[];
  /** Waits for exports and backups under way, closes the database and gives the lock back. */
  close(): Promise<void>;
}
