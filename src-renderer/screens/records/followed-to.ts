import { z } from "zod";
import { TrailHead } from "#core/contract/records/trail.ts";
import { rememberedTexts, rememberText, type WindowMemory } from "../../window/window-memory.ts";

/** A line up to which the trail of a bench was followed and agreed. */
export interface Followed {
  /** The bench's file: another bench has another trail. */
  readonly bench: string;
  readonly head: TrailHead;
  readonly at: string;
}

const Kept = z.object({ bench: z.string(), head: TrailHead, at: z.iso.datetime() });
const KEY = "linefall.followed-to";

/** What this machine remembers of a bench; null when it remembers nothing of this one. */
export function followedBefore(bench: string, memory: WindowMemory): Followed | null {
  for (const text of rememberedTexts(KEY, memory)) {
    const kept = parsed(text);
    if (kept?.bench === bench) return kept;
  }
  return null;
}

function parsed(text: string): Followed | null {
  try {
    return Kept.parse(JSON.parse(text));
  } catch {
    // Not written by this program.
    return null;
  }
}

export function rememberFollowed(followed: Followed, memory: WindowMemory): void {
  rememberText(KEY, JSON.stringify(followed), memory);
}
