import type { CallError } from "#core/contract/reply.ts";
import { failureKind } from "./store-failure.ts";

/** A failure of the machine in words for the person whose call met it; null for anything else. */
export function failureInWords(error: unknown): CallError | null {
  const code = "bench.unwritable";
  const kept = "Nothing was stored by this call, and nothing stored before is lost.";
  switch (failureKind(error)) {
    case "disk-full":
      return {
        code,
        message: `There is no room left on the disk. ${kept}`,
        hint: "Make room on the disk of the bench, then do this again.",
      };
    case "read-only":
      return {
        code,
        message: `The bench cannot be written any more. ${kept}`,
        hint: "Check that the folder and its disk are there and can be written, then do this again.",
      };
    case "busy":
      return {
        code,
        message: `Another program holds the bench's file. ${kept}`,
        hint: "Close that program, then do this again.",
      };
    case "damaged":
      return {
        code,
        message: "The bench's file is damaged.",
        hint: "Close the program and start it again: it checks the bench and offers the newest good backup.",
      };
    default:
      return null;
  }
}

/** The file that is open is no longer the one under the bench's name. */
export function notInPlace(databaseFile: string): CallError {
  return {
    code: "bench.unwritable",
    message: `The bench ${databaseFile} is no longer in its place: it was moved, removed or replaced while the program was running. What you did just now is not in any bench.`,
    hint: "Put the file back under its name and do this again. Or save what is open here: Records, Backups, “Export the whole bench as one file”.",
  };
}
