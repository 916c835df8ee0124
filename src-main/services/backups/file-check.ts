import { FILE_CHECK } from "#core/contract/records/work.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import type { Deps } from "../write-context/deps.ts";
import type { LongCalls } from "../write-context/long-calls.ts";

const STOPPED = {
  message: "The check of the file was stopped before it was finished.",
  hint: "Begin it again under About when there is time: until then damage in an old part of the bench goes unnoticed.",
};

const UNDER_WAY =
  "This bench is large: it was opened after a first look, and every page of its file is checked while you work. About shows how far that is.";

export interface FileCheck {
  readonly handlers: HandlersOf<"bench.checkFile">;
  /** Goes on behind the opened bench; never rejects. */
  afterOpening(closing: AbortSignal): Promise<void>;
}

/** @param notices what the person is told of the bench: the latest of this check stands there once */
export function createFileCheck(
  deps: Pick<Deps, "paths" | "changes" | "copyWork" | "clock">,
  longCalls: LongCalls,
  notices: string[],
): FileCheck {
  let shownNotice: string | null = null;
  let running: Promise<{ faults: string[] }> | null = null;

  function tell(words: string): void {
    const before = shownNotice === null ? -1 : notices.indexOf(shownNotice);
    if (before >= 0) notices[before] = words;
    else notices.push(words);
    shownNotice = words;
    deps.changes.note(["notices"]);
  }

  async function check(): Promise<{ faults: string[] }> {
    try {
      const faults = await longCalls.follow(FILE_CHECK, STOPPED, async ({ signal, tell: progress }) => {
        progress({ part: "every page", done: 0, parts: 0 });
        const found = await deps.copyWork({ kind: "check", file: deps.paths.databaseFile }, signal);
        signal.throwIfAborted();
        return [...found];
      });
      const at = `${deps.clock.now().slice(0, 16).replace("T", " ")} UTC`;
      if (faults.length === 0) tell(`Every page of the bench's file was checked on ${at}: it is whole.`);
      else {
        const some = faults.slice(0, 3).join("; ");
        tell(
          `The bench's file is damaged (${some}; found on ${at}). Enter nothing more: under Records, Backups, restore the newest backup from before the damage; the present file is kept.`,
        );
      }
      return { faults };
    } catch (error) {
      if (shownNotice === UNDER_WAY) tell(STOPPED.message);
      throw error;
    }
  }

  function run(): Promise<{ faults: string[] }> {
    running ??= check().finally(() => {
      running = null;
    });
    return running;
  }

  return {
    handlers: { "bench.checkFile": run },
    async afterOpening(closing) {
      closing.addEventListener(
        "abort",
        () => void longCalls.handlers["work.stop"]({ requestId: FILE_CHECK }, "work.stop"),
      );
      tell(UNDER_WAY);
      await run().catch(() => undefined);
    },
  };
}
