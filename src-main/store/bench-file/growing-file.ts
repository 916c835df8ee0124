import { statSync } from "node:fs";
import type { Following } from "../../long-work/following.ts";

/** How often it is looked whether the first byte is there: somebody may wait for it. */
const FIRST_LOOK_MS = 10;
/** How often it is looked how far the file has come. */
const LOOK_MS = 200;

/**
 * Tells how far a file has come that another process writes, in kibibytes; none until its first byte is there.
 * @param bytes it will have in the end
 * @returns ends the telling
 */
export function tellGrowth(path: string, bytes: number, part: string, { tell }: Following): () => void {
  const parts = Math.ceil(bytes / 1024);
  let next: NodeJS.Timeout;
  const look = (): void => {
    const size = statSync(path, { throwIfNoEntry: false })?.size ?? 0;
    tell({ part, done: Math.min(parts, Math.ceil(size / 1024)), parts });
    next = setTimeout(look, size > 0 ? LOOK_MS : FIRST_LOOK_MS);
  };
  look();
  return () => clearTimeout(next);
}
