/**
 * Long work on files of a bench.
 * `copy`: the bench as it is when this begins, at `to`, while it stays in use elsewhere; `to` holds a byte once it has
 * begun; unless it is urgent, the disk is left to others most of the time. `check`: every page of a bench or of a copy. `rebuild`: a condensed copy as a bench file again, at `to`. `condense`: a
 * folder of backups, whose older copies become small once the one named was `made`; one process at a time by `lockFile`.
 */
export type CopyOrder =
  | { readonly kind: "copy"; readonly file: string; readonly to: string; readonly isUrgent?: boolean }
  | { readonly kind: "check"; readonly file: string }
  | { readonly kind: "rebuild"; readonly file: string; readonly to: string }
  | {
      readonly kind: "condense";
      readonly folder: string;
      readonly lockFile: string;
      readonly made: string;
    };

/**
 * Carries out an order. @returns what is wrong, in words; empty: nothing
 * A host does it in a process of its own: at 100,000 rows it takes seconds, in which no reading would be answered.
 * @throws whatever the file system or SQLite throws while it copies
 * Once the signal is given the answer does not matter.
 */
export type CopyWork = (order: CopyOrder, signal?: AbortSignal) => Promise<readonly string[]>;

/** Copies without leaving the disk to others: where a person waits, and nobody enters anything. */
export function urgent(work: CopyWork): CopyWork {
  return (order, signal) => work(order.kind === "copy" ? { ...order, isUrgent: true } : order, signal);
}

/** An order as one word of a command line, without quotes or blanks that a system could read in its own way. */
export const orderAsWord = (order: CopyOrder): string => encodeURIComponent(JSON.stringify(order));

export const orderFromWord = (word: string): CopyOrder => JSON.parse(decodeURIComponent(word)) as CopyOrder;
