import { type IpcMainEvent, type IpcMainInvokeEvent, ipcMain, type WebContents } from "electron";
import { calls } from "#core/contract/calls.ts";
import { isWindowAddress } from "./app-protocol.ts";
import { channelOf, UNSAVED_CHANNEL } from "./channel.ts";

/** A question is read by a person: no longer than one can be. */
const MOST_WORDS = 12;
const LONGEST_WORD = 200;

export interface CallDoor {
  /** Passes a call on as JSON text; resolves with its Reply as JSON text. */
  readonly call: (name: string, input: string) => Promise<string>;
  /** The contents of the program's window; null while there is none. */
  readonly ownContents: () => WebContents | null;
  readonly log: (line: string) => void;
}

/** Lets the window, and nothing else, make every call of the contract. */
export function registerCalls({ call, ownContents, log }: CallDoor): void {
  for (const name of Object.keys(calls)) {
    ipcMain.handle(channelOf(name), async (event, input: unknown): Promise<string> => {
      if (!isFromWindow(event, ownContents())) {
        log(`refused ${name} from ${event.senderFrame?.url ?? "a frame that has gone"}`);
        return refusal("access.refused", "The call does not come from the program's own window.");
      }
      return typeof input === "string"
        ? call(name, input)
        : refusal("input.invalid", "The call is not JSON text.");
    });
  }
}

function refusal(code: string, message: string): string {
  return JSON.stringify({ ok: false, error: { code, message } });
}

/** Hears from this window, and no other, what of it is not stored. */
export function hearUnsaved(own: WebContents, onWords: (words: readonly string[]) => void): void {
  ipcMain.on(UNSAVED_CHANNEL, (event, words: unknown) => {
    if (!isFromWindow(event, own) || !Array.isArray(words)) return;
    onWords(words.slice(0, MOST_WORDS).map((word) => String(word).slice(0, LONGEST_WORD)));
  });
}

/** The sender is our window, the frame its main frame, and the page ours. */
function isFromWindow(event: IpcMainInvokeEvent | IpcMainEvent, own: WebContents | null): boolean {
  const frame = event.senderFrame;
  return (
    own !== null &&
    frame !== null &&
    event.sender === own &&
    frame === own.mainFrame &&
    isWindowAddress(frame.url)
  );
}
