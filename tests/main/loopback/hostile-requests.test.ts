import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { WINDOW_SESSION } from "#core/contract/window-session.ts";
import { CONTENT_POLICY } from "#main/ports/content-policy.ts";
import { ask, askRaw } from "../../support/raw-http.ts";
import { type OpenDoor, openDoor } from "./door.ts";

/** Attacks of a page in the same browser, of another program on this machine and of a curious person. */
describe("hostile requests over real HTTP", () => {
  let door: OpenDoor;
  beforeAll(async () => {
    door = await openDoor();
  });
  afterAll(() => door.close());

  async function postFrom(changed: Record<string, string>, body?: string | Buffer) {
    const before = door.dispatched.length;
    const answer = await door.post("/call/bench.status", changed, body);
    return {
      status: answer.status,
      reply: JSON.parse(answer.body),
      reached: door.dispatched.length - before,
    };
  }

  it.each([
    ["no session", { [WINDOW_SESSION.header]: "" }, 403],
    ["a made-up session", { [WINDOW_SESSION.header]: "AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA" }, 403],
    ["the name of another machine (DNS rebinding)", { host: "bench.attacker.example:PORT" }, 403],
    ["the name localhost", { host: "localhost:PORT" }, 403],
    ["a host without the port", { host: "127.0.0.1" }, 403],
    ["a host that only begins like ours", { host: "127.0.0.1:PORT.attacker.example" }, 403],
    ["a page of another site", { origin: "https://attacker.example" }, 403],
    [
      "a page on another port of this machine",
      { origin: "http://127.0.0.1:1", "sec-fetch-site": "same-site" },
      403,
    ],
    ["an origin that only begins like ours", { origin: "http://127.0.0.1:PORT.attacker.example" }, 403],
    ["a sandboxed frame", { origin: "null", "sec-fetch-site": "cross-site" }, 403],
    ["no origin", { origin: "" }, 403],
    ["no Sec-Fetch-Site", { "sec-fetch-site": "" }, 403],
    ["Sec-Fetch-Site of a neighbour", { "sec-fetch-site": "same-site" }, 403],
    ["plain text, as a form can send across origins", { "content-type": "text/plain" }, 415],
    ["a form", { "content-type": "application/x-www-form-urlencoded" }, 415],
    ["JSON by name only", { "content-type": "application/json-patch+json" }, 415],
    ["no content type", { "content-type": "" }, 415],
  ])("%s: refused before any service", async (_what, changed, status) => {
    const withPort = Object.fromEntries(
      Object.entries(changed).map(([name, value]) => [name, value.replace("PORT", String(door.port))]),
    );
    const answer = await postFrom(withPort);
    expect(answer.status).toBe(status);
    expect(answer.reached).toBe(0);
    expect(answer.reply).toMatchObject({ ok: false, error: { message: expect.any(String) } });
  });

  it.each([
    ["malformed JSON", '{"a":', 400],
    ["an empty body", "", 400],
    ["bytes that are not UTF-8", Buffer.from([0x22, 0xff, 0xfe, 0x22]), 400],
    ["a body of more than 1 MB", `"${"x".repeat(1_048_576)}"`, 413],
  ])("%s: refused before any service", async (_what, body, status) => {
    const answer = await postFrom({}, body);
    expect(answer).toMatchObject({
      status,
      reached: 0,
      reply: { ok: false, error: { code: "input.invalid" } },
    });
  });

  it("refuses an oversized body that does not announce its length", async () => {
    const answer = await postFrom({ "transfer-encoding": "chunked" }, `"${"x".repeat(2_000_000)}"`);
    expect(answer).toMatchObject({ status: 413, reached: 0 });
  });

  it("takes a body of just under 1 MB", async () => {
    const answer = await postFrom({}, `"${"x".repeat(1_000_000)}"`);
    expect(answer).toMatchObject({ status: 200, reached: 1 });
  });

  it.each([
    "rows.obliterate",
    "__proto__",
    "constructor",
    "toString",
    "hasOwnProperty",
    "bench.status/",
    "",
    "bench%2estatus",
  ])("there is no call “%s”", async (name) => {
    const before = door.dispatched.length;
    const answer = await door.post(`/call/${name}`);
    expect(answer.status).toBe(404);
    expect(JSON.parse(answer.body)).toMatchObject({ ok: false, error: { code: "call.unknown" } });
    expect(door.dispatched.length).toBe(before);
  });

  it("hands __proto__ in a body on as data, without touching any prototype", async () => {
    await door.post("/call/bench.status", {}, '{"__proto__":{"admin":true}}');
    const input = door.dispatched.at(-1)?.input as object;
    expect(Object.hasOwn(input, "__proto__")).toBe(true);
    expect(Object.getPrototypeOf(input)).toBe(Object.prototype);
    expect(({} as { admin?: boolean }).admin).toBeUndefined();
  });

  it.each([
    ["OPTIONS", 403],
    ["HEAD", 405],
    ["PUT", 405],
    ["DELETE", 405],
    ["PATCH", 405],
    ["TRACE", 405],
  ])("%s is answered %i, without CORS headers", async (method, status) => {
    const headers = {
      ...door.own,
      [WINDOW_SESSION.header]: await door.session(),
      "access-control-request-method": "POST",
    };
    const answer = await ask(door.port, { method, path: "/call/bench.status", headers });
    expect(answer.status).toBe(status);
    expect(Object.keys(answer.headers).filter((name) => name.startsWith("access-control"))).toEqual([]);
  });

  it("does not carry out a call by GET", async () => {
    const before = door.dispatched.length;
    expect((await door.get("/call/bench.status")).status).toBe(404);
    expect(door.dispatched.length).toBe(before);
  });

  it.each([
    "/../secret.txt",
    "/..%2fsecret.txt",
    "/%2e%2e/secret.txt",
    "/assets/../../secret.txt",
    "/..\\secret.txt",
    "//secret.txt",
    "/window.js/../../secret.txt",
    "/export/../../secret.txt",
    "/export/%2e%2e%2fsecret.txt",
    "/index.html%00.js",
    "/window.js?x",
  ])("path %s leads nowhere", async (path) => {
    const answer = await askRaw(
      door.port,
      `GET ${path} HTTP/1.1\r\nHost: 127.0.0.1:${door.port}\r\nConnection: close\r\n\r\n`,
    );
    expect(answer).toMatch(/^HTTP\/1\.1 404 /);
    expect(answer).not.toContain("outside the window");
  });

  it("refuses two Host lines, a Host hidden behind an absolute target, and no Host", async () => {
    const own = `Host: 127.0.0.1:${door.port}\r\n`;
    const rest = `Connection: close\r\n\r\n`;
    const twice = await askRaw(door.port, `GET / HTTP/1.1\r\n${own}Host: attacker.example\r\n${rest}`);
    const absolute = await askRaw(door.port, `GET http://attacker.example/ HTTP/1.1\r\n${own}${rest}`);
    const none = await askRaw(door.port, `GET / HTTP/1.1\r\n${rest}`);
    const old = await askRaw(door.port, `GET / HTTP/1.0\r\n${rest}`);
    expect(twice).toMatch(/^HTTP\/1\.1 (400|403) /);
    expect(absolute).toMatch(/^HTTP\/1\.1 404 /);
    expect(none).toMatch(/^HTTP\/1\.1 (400|403) /);
    expect(old).toMatch(/^HTTP\/1\.[01] (400|403) /);
  });

  it("shows the window's files to no other site", async () => {
    expect((await door.get("/", { "sec-fetch-site": "cross-site" })).status).toBe(403);
    expect((await door.get("/window.js", { "sec-fetch-site": "same-site" })).status).toBe(403);
    expect((await door.get("/enter", { "sec-fetch-site": "cross-site" })).status).toBe(403);
    const led = { "sec-fetch-site": "cross-site", "sec-fetch-dest": "document" };
    expect((await door.get("/", led)).status).toBe(403);
    expect((await door.get("/enter", led)).status, "the page that a launched browser opens").toBe(200);
    expect((await door.get("/window.js", { host: `attacker.example:${door.port}` })).status).toBe(403);
    expect((await door.get("/enter", { host: `attacker.example:${door.port}` })).status).toBe(403);
  });

  it("sends the content policy and no-store with every answer, refusals included", async () => {
    const answers = [
      await door.get("/"),
      await door.get("/enter"),
      await door.get("/nowhere"),
      await door.post("/call/bench.status"),
      await door.post("/call/bench.status", { origin: "https://attacker.example" }),
    ];
    expect(answers.map((answer) => answer.status)).toEqual([200, 200, 404, 200, 403]);
    for (const { headers } of answers) {
      expect(headers["content-security-policy"]).toBe(CONTENT_POLICY);
      expect(headers["cache-control"]).toBe("no-store");
      expect(headers["x-content-type-options"]).toBe("nosniff");
      expect(headers["referrer-policy"]).toBe("no-referrer");
      expect(headers["cross-origin-resource-policy"]).toBe("same-origin");
      expect(headers["access-control-allow-origin"]).toBeUndefined();
    }
  });
});
