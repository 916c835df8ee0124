import { existsSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { calls } from "#core/contract/calls.ts";
import { signedHeadsInText } from "#core/contract/records/trail-signature.ts";
import { type Booted, type BootOptions, boot } from "../../electron-shaped/boot.ts";
import { buildOnce } from "../../support/built-program.ts";

const MAIN = process.env.LINEFALL_BUILT_MAIN ?? buildOnce();
const WINDOW = "linefall://bench/index.html";

describe("the built main process, started by Electron's own order", () => {
  let bench: string;
  const booted: Booted[] = [];
  beforeEach(() => {
    bench = mkdtempSync(join(tmpdir(), "linefall-boot-"));
  });
  afterEach(async () => {
    for (const one of booted.splice(0)) {
      one.process.kill("SIGKILL");
      await one.ended;
    }
    rmSync(bench, { recursive: true, force: true, maxRetries: 10, retryDelay: 100 });
  });

  function start(options: Partial<BootOptions> = {}): Booted {
    const one = boot({ main: MAIN, line: ["--data", bench], ...options });
    booted.push(one);
    return one;
  }
  async function opened(options: Partial<BootOptions> = {}): Promise<Booted> {
    const one = start(options);
    await expect
      .poll(async () => (await one.look()).order, { timeout: 20_000 })
      .toContain(`loadURL ${WINDOW}`);
    return one;
  }
  const call = async (one: Booted, name: string, input = {}) =>
    JSON.parse(
      String(
        await one.ask("invoke", {
          sender: { frame: "main" },
          channel: `linefall:${name}`,
          args: [JSON.stringify(input)],
        }),
      ),
    );

  it("waits for nothing at its top level, and asks for everything in its time", async () => {
    const one = await opened();
    const { order, schemes, served, windows } = await one.look();
    const at = (what: string) => order.indexOf(what);
    const early = [
      "registerSchemesAsPrivileged",
      "enableSandbox",
      "setPath userData",
      "requestSingleInstanceLock",
    ];
    for (const what of early) expect(at(what), what).toBeGreaterThanOrEqual(0);
    for (const what of early) expect(at(what), what).toBeLessThan(at("ready"));
    expect(at("setPath userData")).toBeLessThan(at("requestSingleInstanceLock"));
    expect(at("entry evaluated")).toBeLessThan(at("ready"));
    expect(at("ready")).toBeLessThan(at("BrowserWindow"));
    expect([schemes, served]).toEqual([["linefall"], ["linefall"]]);
    expect(windows).toMatchObject([{ visible: true, url: WINDOW }]);
  });

  it("signs heads with a key that the keychain seals, in the window's profile, again after the next start", async () => {
    const environment = { LINEFALL_STAND_IN_KEYCHAIN: "gnome_libsecret" };
    const profile = join(bench, "profile");
    const line = ["--data", join(bench, "bench"), "--profile", profile];
    const one = await opened({ line, environment });
    expect(await call(one, "trail.signing")).toMatchObject({ value: { keychain: "available", key: null } });
    const person = { name: "Ada Invented", initials: "AI", interpupillaryMm: "" };
    const registered = await call(one, "people.register", { requestId: "request-1", person });
    await call(one, "people.choose", { personId: registered.value.id });
    const on = await call(one, "trail.changeSigning", { requestId: "request-2", on: true });
    expect(on).toMatchObject({ ok: true, value: { isHere: true } });
    const kept = readFileSync(join(profile, "trail-key.json"), "utf8");
    expect(kept).not.toContain("PRIVATE KEY");
    expect(Buffer.from(JSON.parse(kept).sealed, "base64").toString("latin1")).not.toContain("PRIVATE KEY");
    if (process.platform !== "win32")
      expect(statSync(join(profile, "trail-key.json")).mode & 0o777).toBe(0o600);
    await one.ask("quit", null);
    await one.ended;
    const anchor = join(bench, "bench", "trail-heads.txt");
    // At closing, too, the head is signed: the window's process answers until the service process has ended.
    expect(signedHeadsInText(readFileSync(anchor, "utf8"))).toHaveLength(1);
    const again = await opened({ line, environment });
    expect(await call(again, "trail.signing")).toMatchObject({
      value: { isHere: true, key: { fingerprint: on.value.key.fingerprint } },
    });
    const noted = readFileSync(anchor, "utf8");
    expect(await call(again, "trail.compareHeads", { noted })).toMatchObject({
      value: { signatures: { agreeing: 1, wrong: [], unknown: [] } },
    });
  });

  it.each([
    ["basic_text", "not secret"],
    ["locked", "none"],
  ])("signs nothing where the desktop's keychain is %s, and says so", async (kind, keychain) => {
    const profile = join(bench, "profile");
    const line = ["--data", join(bench, "bench"), "--profile", profile];
    const one = await opened({ line, environment: { LINEFALL_STAND_IN_KEYCHAIN: kind } });
    expect(await call(one, "trail.signing")).toMatchObject({ value: { keychain, key: null, isHere: false } });
    const person = { name: "Ada Invented", initials: "AI", interpupillaryMm: "" };
    const registered = await call(one, "people.register", { requestId: "request-1", person });
    await call(one, "people.choose", { personId: registered.value.id });
    expect(await call(one, "trail.changeSigning", { requestId: "request-2", on: true })).toMatchObject({
      ok: false,
      error: { code: "keychain.unavailable" },
    });
    expect(existsSync(join(profile, "trail-key.json"))).toBe(false);
  });

  it("listens to everything its window and the system may tell it", async () => {
    const { listeners, handlersSet, accelerators, handlers } = await (await opened()).look();
    expect(listeners.app).toEqual(
      expect.arrayContaining(["second-instance", "web-contents-created", "will-quit", "window-all-closed"]),
    );
    expect(listeners.contents).toEqual(
      expect.arrayContaining([
        "render-process-gone",
        "will-attach-webview",
        "will-frame-navigate",
        "will-navigate",
        "will-prevent-unload",
        "will-redirect",
      ]),
    );
    expect(listeners.window).toEqual(expect.arrayContaining(["closed", "query-session-end", "session-end"]));
    expect(listeners.powerMonitor).toContain("shutdown");
    expect(listeners.session).toContain("will-download");
    expect(handlersSet).toEqual({
      permissionRequest: true,
      permissionCheck: true,
      device: true,
      beforeRequest: true,
      windowOpen: true,
    });
    expect(handlers).toEqual(expect.arrayContaining(Object.keys(calls).map((name) => `linefall:${name}`)));
    // The grid's own keys: undo, redo, and what would throw the page away.
    expect(accelerators.join(" ")).not.toMatch(/\+[ZRWY]\b/);
  });

  it("answers the window's calls and serves its files, and nobody else's", async () => {
    const one = await opened();
    expect(await call(one, "bench.status")).toMatchObject({
      ok: true,
      value: { program: { host: "electron" } },
    });
    const other = { frame: "other", url: "https://attacker.example/" } as const;
    const asked = { channel: "linefall:bench.status", args: ["{}"] };
    expect(await one.ask("invoke", { sender: other, ...asked })).toContain("access.refused");
    expect((await one.ask("serve", { url: WINDOW, method: "GET" }))?.status).toBe(200);
    expect((await one.ask("serve", { url: "linefall://bench/../main/main.js", method: "GET" }))?.status).toBe(
      404,
    );
    expect(await one.ask("serve", { url: "https://attacker.example/", method: "GET" })).toBeNull();
    expect(
      await one.ask("emit", { on: "contents", event: "will-navigate", url: "https://attacker.example/" }),
    ).toBe(true);
    expect(await one.ask("openWindow", { url: "https://attacker.example/" })).toBe("deny");
    const denied = { check: false, request: false };
    for (const permission of ["media", "geolocation", "notifications", "clipboard-read", "openExternal"])
      expect(await one.ask("permission", { permission, origin: "linefall://bench/" }), permission).toEqual(
        denied,
      );
  });

  it("ends with its window, the bench closed", async () => {
    const one = await opened();
    await call(one, "bench.status");
    await one.ask("close", null);
    expect(await one.ended).toBe(0);
    expect(existsSync(join(bench, "bench.sqlite-wal"))).toBe(false);
  });

  it("ends cleanly when the system shuts down, though the page would rather stay", async () => {
    const one = await opened();
    await call(one, "bench.status");
    const told = one.ask("emit", { on: "powerMonitor", event: "shutdown" });
    expect(await told).toBe(true);
    expect(await one.ended).toBe(0);
    expect(existsSync(join(bench, "bench.sqlite-wal"))).toBe(false);
  });

  it("brings the first window forward at a second start on the same bench", async () => {
    const first = await opened();
    const second = start();
    expect(await second.ended).toBe(0);
    await expect.poll(async () => (await first.look()).order).toContain("focus");
  });

  it("says in words why it cannot start, and ends with a code", async () => {
    writeFileSync(join(bench, "file"), "");
    const one = start({ line: ["--data", join(bench, "file", "bench")] });
    expect(await one.ended).toBe(1);
    expect(one.output()).toMatch(/cannot hold a bench/);
  });

  it("offers the window again when its process has gone", async () => {
    const one = await opened();
    await one.ask("answers", { buttons: [0] });
    await one.ask("emit", {
      on: "contents",
      event: "render-process-gone",
      args: [{ reason: "crashed", exitCode: 5 }],
    });
    await expect.poll(async () => (await one.look()).order).toContain("reload");
    expect((await call(one, "bench.status")).ok).toBe(true);
  });

  it("reads its line as a package does, which has no script on it", async () => {
    const one = await opened({ packaged: true });
    expect(await call(one, "bench.status")).toMatchObject({ ok: true });
    expect(existsSync(join(bench, "bench.sqlite"))).toBe(true);
    expect((await one.look()).windows[0]?.preferences).toMatchObject({ webPreferences: { devTools: false } });
  });
});

it("the stand-in hangs for an entry that waits for ready at its top level, as Electron does", async () => {
  const entry = fileURLToPath(new URL("../../electron-shaped/waits-at-top-level.mjs", import.meta.url));
  const one = boot({ main: entry, line: [] });
  await expect.poll(async () => (await one.look()).order).toContain("whenReady");
  await new Promise((resolve) => setTimeout(resolve, 500));
  expect((await one.look()).ready).toBe(false);
  one.process.kill("SIGKILL");
  await one.ended;
});
