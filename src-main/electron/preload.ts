import { contextBridge, ipcRenderer } from "electron";
import type { Reply } from "#core/contract/reply.ts";
import { channelOf } from "./channel.ts";

/**
 * All that the window sees of Electron: `window.linefall`. A call goes to the main process by its contract name and
 * comes back as a Reply; it never rejects.
 */
const bridge = {
  host: "electron",
  async call(name: string, input: unknown): Promise<Reply<unknown>> {
    try {
      return await ipcRenderer.invoke(channelOf(String(name)), input);
    } catch {
      // Either the main process is gone or it knows no such call; the original error names internals only.
      const message = "The program does not answer this window.";
      const hint = "Close the window and start Linefall again; what was acknowledged is stored.";
      return { ok: false, error: { code: "host.lost", message, hint } };
    }
  },
} as const;

contextBridge.exposeInMainWorld("linefall", bridge);
