import { existsSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { calls } from "#core/contract/calls.ts";
import { placesFromArguments, startElectronHost } from "#main/electron/start.ts";
import { answers, electron, recorded, startAfresh } from "../../support/electron-stand-in.ts";
import { COPY_WORK_ENTRY, SERVICE_ENTRY } from "../../support/service-child.ts";

vi.mock("electron", async () => (await import("../../support/electron-stand-in.ts")).electron);

/** The whole host on a real bench; only Electron itself is a stand-in. */
/** A process of its own starts and ends each time; on a busy machine that takes a while. */
const PATIENCE = { timeout: 60_000 };

describe("the Electron host", PATIENCE, () => {
  let folder: string;
  let built: string;
  beforeEach(() => {
    startAfresh();
    vi.spyOn(console, "log").mockImplementation(() => {});
    vi.spyOn(console, "error").mockImplementation(() => {});
    folder = mkdtempSync(join(tmpdir(), "linefall-host-"));
    built = join(folder, "built");
    profile = ["--profile", join(folder, "profile")];
    mkdirSync(built);
    writeFileSync(join(built, "index.html"), "<title>bench</title>");
  });
  afterEach(async () => {
    await quit();
    vi.restoreAllMocks();
    rmSync(folder, { recursive: true, force: true });
  }, PATIENCE.timeout);

  const bench = () => join(folder, "bench");
  let profile: string[];
  const start = () =>
    startElectronHost(["--data", bench(), ...profile], {
      window: built,
      service: SERVICE_ENTRY,
      copyWork: COPY_WORK_ENTRY,
    });
  const invoke = async (name: string, event: unknown): Promise<unknown> =>
    JSON.parse((await recorded.handlers.get(`linefall:${name}`)?.(event as never, "{}" as never)) as string);

  /** Closes the bench as quitting does, when one was opened. */
  async function quit(): Promise<void> {
    const event = { preventDefault: vi.fn() };
    const quitsBefore = recorded.quits;
    electron.app.emit("will-quit", event);
    if (event.preventDefault.mock.calls.length > 0) {
      await vi.waitFor(() => expect(recorded.quits).toBeGreaterThan(quitsBefore), PATIENCE);
    }
  }

  it("opens its window on a real bench and answers the window's calls", async () => {
    await start();
    expect(recorded.errorBoxes).toEqual([]);
    expect(recorded.order.slice(0, 4)).toEqual(["scheme", "sandbox", "lock", "ready"]);
    expect(recorded.switches).toEqual(process.platform === "linux" ? ["enable-speech-dispatcher"] : []);
    expect(recorded.handlers.size).toBe(Object.keys(calls).length);
    const contents = recorded.windows[0]?.webContents;
    const answer = await invoke("bench.status", { sender: contents, senderFrame: contents?.mainFrame });
    expect(answer).toMatchObject({
      ok: true,
      // Nothing to tell of a bench that begins now: its folder is this person's own from the start.
      value: { program: { host: "electron", version: "9.9.9" }, demo: false, notices: [] },
    });
  });

  it("builds the demo bench in a folder that has none, and says that everything on it is invented", async () => {
    vi.stubEnv("LINEFALL_DATA", bench());
    await startElectronHost(["--demo", ...profile], {
      window: built,
      service: SERVICE_ENTRY,
      copyWork: COPY_WORK_ENTRY,
    });
    expect(recorded.errorBoxes).toEqual([]);
    const contents = recorded.windows[0]?.webContents;
    const answer = await invoke("bench.status", { sender: contents, senderFrame: contents?.mainFrame });
    expect(answer).toMatchObject({ ok: true, value: { demo: true, offersDemo: false } });
    // Beside the person's own bench, which is not even made.
    expect(existsSync(join(`${bench()}-demo`, "bench.sqlite"))).toBe(true);
    expect(existsSync(bench())).toBe(false);
    vi.unstubAllEnvs();
  });

  it("says to its launcher that the person sees something: the window, or why there is none", async () => {
    const shown = join(folder, "shown");
    profile.push("--shown", shown);
    await start();
    expect(existsSync(shown)).toBe(false);
    recorded.windows[0]?.webContents.emit("did-finish-load");
    expect(existsSync(shown)).toBe(true);
    await quit();
    startAfresh();
    rmSync(shown);
    const trouble = { window: join(folder, "nowhere"), service: SERVICE_ENTRY, copyWork: COPY_WORK_ENTRY };
    await startElectronHost(["--data", bench(), ...profile], trouble);
    expect(recorded.errorBoxes).toHaveLength(1);
    expect(existsSync(shown)).toBe(true);
  });

  it("confines every page, denies every permission and installs its menu before the window opens", async () => {
    await start();
    expect(recorded.windows[0]?.webContents.openHandler?.({ url: "x" })).toEqual({ action: "deny" });
    expect(recorded.windows[0]?.webContents.listenerCount("will-navigate")).toBe(1);
    expect(electron.session.defaultSession.checkHandler?.()).toBe(false);
    expect(recorded.menus).toHaveLength(1);
  });

  it("keeps its profile apart from the bench, one for each bench by whatever name it is opened", async () => {
    vi.stubEnv("XDG_DATA_HOME", join(folder, "data"));
    answers.singleInstance = false;
    const profileAt = async (...argv: string[]): Promise<string> => {
      await startElectronHost(argv, { window: built, service: SERVICE_ENTRY, copyWork: COPY_WORK_ENTRY });
      return recorded.paths.get("userData") ?? "";
    };
    const first = await profileAt("--data", bench());
    expect(first.startsWith(bench())).toBe(false);
    expect(existsSync(first)).toBe(true);
    expect(await profileAt("--data", join(folder, "another"))).not.toBe(first);
    symlinkSync(bench(), join(folder, "by-link"));
    expect(await profileAt("--data", join(folder, "by-link"))).toBe(first);
    expect(await profileAt("--data", bench(), "--profile", join(folder, "p"))).toBe(join(folder, "p"));
    expect(recorded.errorBoxes).toEqual([]);
    vi.unstubAllEnvs();
  });

  it("a second start ends without touching the bench, and the first comes to the front", async () => {
    answers.singleInstance = false;
    await start();
    expect(recorded.quits).toBe(1);
    expect(recorded.windows).toEqual([]);
    expect(existsSync(join(bench(), "bench.sqlite"))).toBe(false);
    startAfresh();
    await start();
    const window = recorded.windows[0];
    if (window !== undefined) window.minimized = true;
    electron.app.emit("second-instance");
    expect([window?.minimized, window?.focused]).toEqual([false, 1]);
  });

  it("copies the bench, checks the copy, and makes older ones small, in a process of its own each", async () => {
    await start();
    const contents = recorded.windows[0]?.webContents;
    const event = { sender: contents, senderFrame: contents?.mainFrame };
    const handler = recorded.handlers.get("linefall:backups.make");
    const text = await handler?.(
      event as never,
      JSON.stringify({ requestId: "request-of-a-backup" }) as never,
    );
    expect(JSON.parse(text as string)).toMatchObject({ ok: true, value: { why: "on request" } });
    expect(recorded.services).toHaveLength(4);
    for (const beside of recorded.services.slice(1)) {
      await vi.waitFor(() => expect(beside.process.exitCode).toBe(0), PATIENCE);
    }
  });

  it("a start while it is ending opens a window when it has ended", async () => {
    await start();
    recorded.windows[0]?.emit("closed");
    electron.app.emit("second-instance");
    electron.app.emit("second-instance");
    expect(recorded.order.filter((step) => step === "relaunch")).toHaveLength(1);
    expect(recorded.windows[0]?.focused).toBe(0);
  });

  it("closes the bench before the process goes, once, however often it is asked", async () => {
    await start();
    electron.app.emit("window-all-closed");
    expect(recorded.quits).toBe(1);
    const event = { preventDefault: vi.fn() };
    electron.app.emit("will-quit", event);
    electron.app.emit("will-quit", event);
    expect(event.preventDefault).toHaveBeenCalledTimes(2);
    await vi.waitFor(() => expect(recorded.quits).toBeGreaterThan(1), PATIENCE);
    electron.app.emit("will-quit", event);
    expect(event.preventDefault).toHaveBeenCalledTimes(2);
    expect(existsSync(join(bench(), "bench.sqlite-wal"))).toBe(false);
    expect(recorded.services[0]?.process.exitCode).toBe(0);
    const contents = recorded.windows[0]?.webContents;
    const late = await invoke("bench.status", { sender: contents, senderFrame: contents?.mainFrame });
    expect(late).toMatchObject({ ok: false, error: { code: "host.lost" } });
  });

  it("says why a bench does not open, and ends with code 1", async () => {
    mkdirSync(bench());
    writeFileSync(
      join(bench(), "bench.sqlite"),
      "this is no database, only a text that stands in its place\n",
    );
    answers.button = 99;
    await start();
    expect(recorded.errorBoxes).toHaveLength(1);
    expect(recorded.errorBoxes[0]?.[0]).toContain("bench.sqlite");
    expect(recorded.exitCodes).toEqual([1]);
  });

  it("says that the window was not built, and ends with code 1", async () => {
    await startElectronHost(["--data", bench(), ...profile], {
      window: join(folder, "nowhere"),
      service: SERVICE_ENTRY,
      copyWork: COPY_WORK_ENTRY,
    });
    expect(recorded.errorBoxes[0]?.[1]).toContain("npm run build");
    expect(recorded.exitCodes).toEqual([1]);
  });

  it("says that the bench's folder cannot be used, which it finds before Electron is ready", async () => {
    writeFileSync(bench(), "a file where the folder should be\n");
    await start();
    expect(recorded.errorBoxes[0]?.[0]).toContain(bench());
    expect(recorded.order.at(-1)).toBe("ready");
    expect(recorded.exitCodes).toEqual([1]);
    expect(console.error).toHaveBeenCalledWith(expect.stringContaining(bench()));
    expect(recorded.windows).toEqual([]);
  });

  it("offers to load a window again that stopped", async () => {
    await start();
    const contents = recorded.windows[0]?.webContents;
    contents?.emit("render-process-gone", {}, { reason: "crashed" });
    await vi.waitFor(() => expect(contents?.reloads).toBe(1));
    contents?.emit("render-process-gone", {}, { reason: "clean-exit" });
    expect(contents?.reloads).toBe(1);
  });

  it("reads the folders among whatever else is on the line", () => {
    const none = { data: null, demo: false, profile: null, shown: null };
    expect(placesFromArguments(["--data", "/bench", "--inspect=0", "file"])).toEqual({
      ...none,
      data: "/bench",
    });
    expect(
      placesFromArguments(["--enable-logging", "--data=/bench", "--profile", "/p", "--shown", "/s"]),
    ).toEqual({
      data: "/bench",
      demo: false,
      profile: "/p",
      shown: "/s",
    });
    expect(placesFromArguments(["--no-sandbox", "--demo"])).toEqual({ ...none, demo: true });
    expect(placesFromArguments(["--data"])).toEqual(none);
    expect(placesFromArguments([])).toEqual(none);
  });
});
