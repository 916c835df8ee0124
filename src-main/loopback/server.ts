import { createReadStream } from "node:fs";
import { stat } from "node:fs/promises";
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { isCallName } from "#core/contract/calls.ts";
import type { CallError, Reply } from "#core/contract/reply.ts";
import { WINDOW_SESSION } from "#core/contract/window-session.ts";
import type { BuiltFile, BuiltFiles } from "../ports/built-files.ts";
import { RESPONSE_HEADERS } from "../ports/content-policy.ts";
import type { DownloadFile, Downloads } from "./downloads.ts";
import { readJsonBody } from "./json-body.ts";
import type { Presence } from "./presence.ts";
import { type Refusal, refusalOf, refused, unknownCall, WITHOUT_SESSION } from "./request-guard.ts";
import { HOST_MARK } from "./running-host.ts";
import { createSessionTokens, type SessionTokens } from "./session-token.ts";

export interface LoopbackOptions {
  /** 0 takes any free port. */
  readonly port: number;
  /** Tried first where any port will do. */
  readonly preferredPort?: number;
  /** The built window: the program's own files, which hold nothing of a bench. */
  readonly files: BuiltFiles;
  /** The pages of this host itself: `/enter`, the scripts beside it and the icon. */
  readonly entryFiles: BuiltFiles;
  readonly downloads: Downloads;
  readonly dispatch: (name: string, rawInput: unknown) => Promise<Reply<unknown>>;
  /** Told which invitation is being exchanged for a session; the answer waits until this is done. */
  readonly onEntered?: (invitation: string) => Promise<void>;
  /** Told of windows that come and go; without it `/presence` does not exist. */
  readonly presence?: Presence;
}

export interface LoopbackServer {
  /** `http://127.0.0.1:PORT` */
  readonly address: string;
  /** A fresh one-time address: `http://127.0.0.1:PORT/enter#TOKEN`. */
  invite(): string;
  /** Stops listening, lets calls under way finish, and closes what is left. */
  close(): Promise<void>;
}

const JSON_TYPE = "application/json; charset=utf-8";
const HEADERS = { ...RESPONSE_HEADERS, [HOST_MARK.header]: HOST_MARK.value };

/**
 * The loopback host's door. It listens on 127.0.0.1 only and knows these requests:
 *
 * - `GET /enter`, `/enter.js`, `/icon.svg`: the entry page; its script sends the address's token
 * - `POST /enter` `{token}`: 200 and `{session}`, or 403
 * - `GET /` and the built files: the window, whose first script leads to `/enter` where it has no session
 * - `POST /call/NAME` with the session in its header, body the call's input: 200 and the Reply, refusals included
 * - `GET /export/ID`: a workbook exported in this run, as a download; its address is a secret told by a call
 * - `POST /presence` with the session: answered only when the program ends
 *
 * No cookie is set or read: cookies know no ports, so every program that serves a page on this machine would get them.
 *
 * The guard's own refusals are Replies as well, with status 400, 403, 404, 405, 413 or 415.
 * @throws when the port cannot be taken
 */
export async function startLoopbackServer(options: LoopbackOptions): Promise<LoopbackServer> {
  const server = createServer({ requestTimeout: 60_000 });
  await listeningOn(server, options);
  const host = `127.0.0.1:${(server.address() as AddressInfo).port}`;
  const door = createDoor(options, host);
  server.on("request", (request, response) => {
    door.answer(request, response).catch(() => response.destroy());
  });
  return {
    address: `http://${host}`,
    invite: () => `http://${host}/enter#${door.tokens.invite()}`,
    async close() {
      const closed = new Promise<void>((resolve) => server.close(() => resolve()));
      door.letWindowsGo();
      server.closeIdleConnections();
      await door.settled();
      server.closeAllConnections();
      await closed;
    },
  };
}

async function listeningOn(server: Server, { port, preferredPort = 0 }: LoopbackOptions): Promise<void> {
  if (port !== 0 || preferredPort === 0) return listening(server, port);
  // Taken by another program, or not for us: any other does as well.
  return listening(server, preferredPort).catch(() => listening(server, 0));
}

function listening(server: Server, port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once("error", (error: NodeJS.ErrnoException) => {
      server.removeAllListeners("listening");
      reject(
        error.code === "EADDRINUSE" ? new Error(`Port ${port} is taken: choose another, or none.`) : error,
      );
    });
    server.listen({ host: "127.0.0.1", port, exclusive: true }, () => {
      server.removeAllListeners("error");
      resolve();
    });
  });
}

interface Door {
  readonly tokens: SessionTokens;
  answer(request: IncomingMessage, response: ServerResponse): Promise<void>;
  letWindowsGo(): void;
  /** Resolves when every call under way has been answered. */
  settled(): Promise<void>;
}

function createDoor(options: LoopbackOptions, host: string): Door {
  const tokens = createSessionTokens();
  const callsUnderWay = new Set<Promise<void>>();
  const windows = new Set<ServerResponse>();

  async function answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const path = request.url ?? "";
    const head = {
      method: request.method ?? "",
      hosts: request.headersDistinct.host ?? [],
      origin: request.headers.origin,
      site: headerOf(request, "sec-fetch-site"),
      isEntry: path === "/enter" && headerOf(request, "sec-fetch-dest") === "document",
      contentType: request.headers["content-type"],
    };
    const refusal = refusalOf(head, host);
    if (refusal !== null) return refuse(response, refusal);
    return head.method === "GET" ? get(path, response) : post(path, request, response);
  }

  async function get(path: string, response: ServerResponse): Promise<void> {
    const entry = options.entryFiles.get(path === "/enter" ? "/enter.html" : path);
    if (entry !== undefined) return sendFile(response, entry);
    const file = options.files.get(path === "/" ? "/index.html" : path);
    if (file !== undefined) return sendFile(response, file);
    const download = options.downloads.find(path);
    if (download !== null) return sendDownload(response, download);
    return refuse(response, refused(404, "There is nothing at this address."));
  }

  async function post(path: string, request: IncomingMessage, response: ServerResponse): Promise<void> {
    if (path === "/enter") return enter(request, response);
    if (!tokens.admits(headerOf(request, WINDOW_SESSION.header))) return refuse(response, WITHOUT_SESSION);
    if (path === "/presence" && options.presence !== undefined) {
      return keepOpen(response, options.presence);
    }
    if (!path.startsWith("/call/"))
      return refuse(response, refused(404, "There is nothing at this address."));
    const name = path.slice("/call/".length);
    if (!isCallName(name)) return refuse(response, unknownCall(name));
    const call = dispatchCall(name, request, response);
    callsUnderWay.add(call);
    return call.finally(() => callsUnderWay.delete(call));
  }

  async function enter(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const body = await readJsonBody(request);
    if (body.refusal !== null) return refuse(response, body.refusal);
    const token = tokenOf(body.value);
    const session = token === null ? null : tokens.redeem(token);
    if (token === null || session === null) {
      return refuse(response, refused(403, "This address has been used already."));
    }
    await options.onEntered?.(token);
    const answer = Buffer.from(JSON.stringify({ session }));
    send(response, 200, answer, { "content-type": JSON_TYPE });
  }

  async function dispatchCall(
    name: string,
    request: IncomingMessage,
    response: ServerResponse,
  ): Promise<void> {
    const body = await readJsonBody(request);
    if (body.refusal !== null) return refuse(response, body.refusal);
    sendJson(response, 200, await options.dispatch(name, body.value));
  }

  async function keepOpen(response: ServerResponse, presence: Presence): Promise<void> {
    windows.add(response);
    presence.arrive();
    response.on("close", () => {
      windows.delete(response);
      presence.leave();
    });
    response.writeHead(200, { ...HEADERS, "content-type": "text/plain" });
    response.flushHeaders();
  }

  return {
    tokens,
    answer,
    letWindowsGo() {
      for (const response of windows) response.end();
    },
    async settled() {
      await Promise.allSettled(callsUnderWay);
    },
  };
}

function headerOf(request: IncomingMessage, name: string): string | undefined {
  const values = request.headersDistinct[name];
  return values?.join(", ");
}

function tokenOf(value: unknown): string | null {
  if (typeof value !== "object" || value === null || !Object.hasOwn(value, "token")) return null;
  const token = (value as { token: unknown }).token;
  return typeof token === "string" && token.length <= 200 ? token : null;
}

function refuse(response: ServerResponse, refusal: Refusal): void {
  // Whatever body is still on its way is not wanted: the connection ends with the answer.
  sendJson(response, refusal.status, failure(refusal.error), { connection: "close" });
}

function failure(error: CallError): Reply<never> {
  return { ok: false, error };
}

function sendJson(
  response: ServerResponse,
  status: number,
  reply: Reply<unknown>,
  headers: Record<string, string> = {},
): void {
  const body = Buffer.from(JSON.stringify(reply));
  send(response, status, body, { "content-type": JSON_TYPE, ...headers });
}

function sendFile(response: ServerResponse, file: BuiltFile): void {
  send(response, 200, file.body, { "content-type": file.type });
}

async function sendDownload(response: ServerResponse, file: DownloadFile): Promise<void> {
  const size = await stat(file.path).then(
    (found) => found.size,
    () => null,
  );
  if (size === null)
    return refuse(response, refused(404, `${file.fileName} is not there any more: export again.`));
  response.writeHead(200, {
    ...HEADERS,
    "content-type": "application/octet-stream",
    "content-length": size,
    "content-disposition": `attachment; filename*=UTF-8''${encodeURIComponent(file.fileName)}`,
  });
  createReadStream(file.path)
    .on("error", () => response.destroy())
    .pipe(response);
}

function send(response: ServerResponse, status: number, body: Buffer, headers: Record<string, string>): void {
  response.writeHead(status, { ...HEADERS, "content-length": String(body.length), ...headers });
  response.end(body);
}
