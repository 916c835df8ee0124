import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Reply } from "#core/contract/reply.ts";
import { WINDOW_SESSION } from "#core/contract/window-session.ts";
import { createDownloads } from "#main/loopback/downloads.ts";
import { readEntryFiles } from "#main/loopback/entry-files.ts";
import type { Presence } from "#main/loopback/presence.ts";
import { startLoopbackServer } from "#main/loopback/server.ts";
import { readFixedFiles } from "#main/ports/built-files.ts";
import { type Answer, type Asked, ask } from "../../support/raw-http.ts";

/** What reached the services: nothing, when the guard does its work. */
export interface Dispatched {
  readonly name: string;
  readonly input: unknown;
}

/** A real server on a real port, with a small window and services that only write down what reaches them. */
export async function openDoor(options: { presence?: Presence; reply?: () => Promise<Reply<unknown>> } = {}) {
  const folder = mkdtempSync(join(tmpdir(), "linefall-door-"));
  const window = join(folder, "window");
  const exportFolder = join(folder, "exports");
  for (const made of [window, exportFolder]) mkdirSync(made);
  writeFileSync(join(window, "index.html"), "<!doctype html><title>bench</title>");
  writeFileSync(join(window, "window.js"), "export {};");
  writeFileSync(join(folder, "secret.txt"), "outside the window");
  const dispatched: Dispatched[] = [];
  let entered = 0;
  const downloads = createDownloads(exportFolder);
  const server = await startLoopbackServer({
    port: 0,
    files: await readFixedFiles(window),
    entryFiles: await readEntryFiles(),
    downloads,
    async dispatch(name, input) {
      dispatched.push({ name, input });
      return (await options.reply?.()) ?? { ok: true, value: { name } };
    },
    async onEntered() {
      entered += 1;
    },
    ...(options.presence === undefined ? {} : { presence: options.presence }),
  });
  const port = Number(new URL(server.address).port);
  const own = {
    host: `127.0.0.1:${port}`,
    origin: server.address,
    "sec-fetch-site": "same-origin",
    "content-type": "application/json",
  };
  const tokenOf = (address: string) => new URL(address).hash.slice(1);

  async function enter(token = tokenOf(server.invite())): Promise<Answer> {
    return ask(port, { method: "POST", path: "/enter", headers: own, body: JSON.stringify({ token }) });
  }
  async function session(): Promise<string> {
    return JSON.parse((await enter()).body).session;
  }
  return {
    server,
    port,
    own,
    downloads,
    exportFolder,
    dispatched,
    enteredTimes: () => entered,
    enter,
    session,
    tokenOf,
    /** A POST as the window makes it, changed as the attack wants: an empty header value takes it away. */
    async post(
      path: string,
      changed: Record<string, string> = {},
      body: Asked["body"] = "{}",
    ): Promise<Answer> {
      const all = { ...own, [WINDOW_SESSION.header]: await session(), ...changed };
      const headers = Object.fromEntries(Object.entries(all).filter(([, value]) => value !== ""));
      return ask(port, { method: "POST", path, headers, body });
    },
    async get(path: string, changed: Record<string, string> = {}): Promise<Answer> {
      const all = { host: own.host, "sec-fetch-site": "same-origin", ...changed };
      const headers = Object.fromEntries(Object.entries(all).filter(([, value]) => value !== ""));
      return ask(port, { path, headers });
    },
    async close() {
      await server.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

export type OpenDoor = Awaited<ReturnType<typeof openDoor>>;
