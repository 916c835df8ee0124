import { type IpcMainInvokeEvent, ipcMain, type WebContents } from "electron";
import { calls } from "#core/contract/calls.ts";
import type { Reply } from "#core/contract/reply.ts";
import { isWindowAddress } from "./app-protocol.ts";
import { channelOf } from "./channel.ts";

export interface CallDoor {
  readonly dispatch: (name: string, rawInput: unknown) => Promise<Reply<unknown>>;
  /** The contents of the program's window; null while there is none. */
  readonly ownContents: () => WebContents | null;
  readonly log: (line: string) => void;
}

/** Lets the window, and nothing else, make every call of the contract. The only file that touches `ipcMain`. */
export function registerCalls({ dispatch, ownContents, log }: CallDoor): void {
  for (const name of Object.keys(calls)) {
    ipcMain.handle(channelOf(name), async (event, input: unknown): Promise<Reply<unknown>> => {
      if (isFromWindow(event, ownContents())) return dispatch(name, input);
      log(`refused ${name} from ${event.senderFrame?.url ?? "a frame that has gone"}`);
      const message = "The call does not come from the program's own window.";
      return { ok: false, error: { code: "access.refused", message } };
    });
  }
}

/** The sender is our window, the frame its main frame, and the page ours. */
function isFromWindow(event: IpcMainInvokeEvent, own: WebContents | null): boolean {
  const frame = event.senderFrame;
  return (
    own !== null &&
    frame !== null &&
    event.sender === own &&
    frame === own.mainFrame &&
    isWindowAddress(frame.url)
  );
}
