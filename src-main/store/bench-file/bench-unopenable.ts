/** A way out of a bench that does not open, for the person to choose; carried out by `recoverBench`. */
export type RecoveryOffer =
  | {
      readonly kind: "restore";
      /** A backup that passed its integrity check. */
      readonly fileName: string;
      readonly madeAt: string;
      readonly words: string;
    }
  /** The file that a restore kept aside takes its place again. */
  | { readonly kind: "put-back"; readonly fileName: string; readonly words: string }
  /** A -wal file that belongs to another bench, or to another state of this one, is kept under another name. */
  | { readonly kind: "set-wal-aside"; readonly words: string }
  | { readonly kind: "start-empty"; readonly words: string };

export const UNOPENABLE_CODES = [
  /** Open in another window or program. */
  "bench.locked",
  /** Written by a newer version of this program. */
  "bench.newer",
  /** The file is a database of something else, or no database at all where no bench was known. */
  "bench.foreign",
  "bench.damaged",
  /** Beside the file lies a -wal that is not its own. */
  "bench.foreign-wal",
  /** A bench was here and its file is gone or empty. */
  "bench.missing",
  /** The folder or file cannot be written. */
  "bench.read-only",
  "bench.disk-full",
  "bench.migration-failed",
] as const;
export type UnopenableCode = (typeof UNOPENABLE_CODES)[number];

export interface UnopenableDetail {
  readonly code: UnopenableCode;
  /** What happened, to which file. */
  readonly message: string;
  /** What to do next. */
  readonly hint: string;
  readonly offers?: readonly RecoveryOffer[];
}

/** The bench cannot be opened. Nothing was changed. */
export class BenchUnopenable extends Error {
  readonly code: UnopenableCode;
  readonly hint: string;
  readonly offers: readonly RecoveryOffer[];

  constructor({ code, message, hint, offers }: UnopenableDetail, cause?: unknown) {
    super(message, { cause });
    this.name = "BenchUnopenable";
    this.code = code;
    this.hint = hint;
    this.offers = offers ?? [];
  }
}
