import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { wantsElectron } from "#main/launch/launch.ts";
import {
  type ElectronEnd,
  type ElectronRun,
  electronArguments,
  runElectron,
} from "#main/launch/run-electron.ts";
import { browserForWindow, browserPlaces, hasDisplay } from "#main/loopback/find-browser.ts";
import { windowArguments } from "#main/loopback/launch-window.ts";
import { parseStart } from "#main/loopback/options.ts";
import { benchPaths, dataFolder, windowProfileFolder } from "#main/ports/data-folder.ts";
import { isNetworkPath } from "#main/store/bench-file/network-folder.ts";

const desk = { platform: "linux" as const, home: "/home/ada", environment: { DISPLAY: ":0" } };

const windows = { platform: "win32" as const, home: "C:\\Users\\ada", environment: {} };
const LOCAL = "C:\\Users\\ada\\AppData\\Local\\Linefall";

describe("which window a start asks for", () => {
  it("is Electron's, unless the options or the lack of a display say otherwise", () => {
    expect(wantsElectron(parseStart([]), desk)).toBe(true);
    expect(wantsElectron(parseStart(["--demo", "--data", "/bench"]), desk)).toBe(true);
    expect(wantsElectron(parseStart(["--no-window"]), desk)).toBe(false);
    expect(wantsElectron(parseStart(["--port", "8080"]), desk)).toBe(false);
    expect(wantsElectron(parseStart(["--recover", "1"]), desk)).toBe(false);
    expect(wantsElectron(parseStart(["--browser"]), desk)).toBe(false);
    expect(wantsElectron(parseStart([]), { ...desk, environment: {} })).toBe(false);
    const unwanted = { ...desk, environment: { DISPLAY: ":0", LINEFALL_FETCH_ELECTRON: "0" } };
    expect(wantsElectron(parseStart([]), unwanted)).toBe(false);
  });

  it.each([
    [{ platform: "linux" as const, environment: {} }, false],
    [{ platform: "linux" as const, environment: { DISPLAY: "" } }, false],
    [{ platform: "linux" as const, environment: { WAYLAND_DISPLAY: "wayland-0" } }, true],
    [{ platform: "freebsd" as const, environment: {} }, false],
    [{ platform: "darwin" as const, environment: {} }, true],
    [{ platform: "win32" as const, environment: {} }, true],
  ])("%j has a display: %s", (machine, display) => {
    expect(hasDisplay({ home: "/", ...machine })).toBe(display);
  });

  it.each([[["--port", "99999"]], [["--port", "x"]], [["--recover", "0"]], [["--open"]], [["file.db"]]])(
    "%j is refused with a sentence",
    (argv) => {
      expect(() => parseStart(argv)).toThrow(/--|argument/i);
    },
  );
});

describe("Electron's own arguments", () => {
  const plain = { application: "/app", folder: null, profile: null, asRoot: false, shownFile: "/s" };

  it("name the application, the bench and its profile, and lose the sandbox only for root", () => {
    expect(electronArguments(plain)).toEqual(["/app", "--shown", "/s"]);
    expect(electronArguments({ ...plain, folder: "/bench", profile: "/p", asRoot: true })).toEqual([
      ...["/app", "--no-sandbox", "--data", "/bench", "--profile", "/p", "--shown", "/s"],
    ]);
  });
});

describe.skipIf(process.platform === "win32")("an Electron", () => {
  let folder: string;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), "linefall-electron-"));
  });
  afterEach(() => rmSync(folder, { recursive: true }));

  function run(text: string, more: Partial<ElectronRun> = {}): Promise<ElectronEnd> {
    const binary = join(folder, "electron");
    writeFileSync(binary, `#!/bin/sh\n${text}\n`, { mode: 0o755 });
    const shownFile = join(folder, "shown");
    const asked = { binary, application: "/app", folder: null, profile: null, asRoot: false, shownFile };
    return runElectron({ ...asked, ...more });
  }
  const SHOW = 'for last; do :; done; : > "$last"';

  it("that does not start is told from one that ends", async () => {
    expect(await run("", { binary: join(folder, "missing") })).toBe("did not start");
    expect(await run("exit 127")).toBe("did not start");
    expect(await run("kill -SEGV $$")).toBe("did not start");
    expect(await run("exit 1")).toBe(1);
    expect(await run(`${SHOW}; exit 0`)).toBe(0);
    vi.stubEnv("ELECTRON_RUN_AS_NODE", "1");
    expect(await run('[ -z "$ELECTRON_RUN_AS_NODE" ]')).toBe(0);
    vi.unstubAllEnvs();
  });

  it("that shows no window is noticed and ended; one that does is left alone", async () => {
    const pid = join(folder, "pid");
    expect(await run(`echo $$ > ${pid}; exec sleep 60`, { patience: 300 })).toBe("no window");
    expect(() => process.kill(Number(readFileSync(pid, "utf8")), 0)).toThrow("ESRCH");
    expect(await run(`${SHOW}; sleep 1; exit 3`, { patience: 300 })).toBe(3);
  });
});

describe("the browser window", () => {
  it("is an app window with a profile of its own, and keeps its sandbox except for root", () => {
    const args = windowArguments("http://127.0.0.1:1/enter#t", "/bench/window-profile", false);
    expect(args).toContain("--app=http://127.0.0.1:1/enter#t");
    expect(args).toContain("--user-data-dir=/bench/window-profile");
    expect(args).toContain("--disable-background-networking");
    expect(args).not.toContain("--no-sandbox");
    expect(args.filter((arg) => arg.includes("remote-debugging"))).toEqual([]);
    expect(windowArguments("a", "b", true)).toContain("--no-sandbox");
  });

  it("is looked for where each system keeps browsers, the named one first and alone", () => {
    const named = { ...desk, environment: { LINEFALL_BROWSER: "/opt/b", PATH: "/usr/bin" } };
    expect(browserPlaces(named)).toEqual(["/opt/b"]);
    const linux = browserPlaces({ ...desk, environment: { PATH: "relative:/usr/bin" } });
    expect(linux[0]).toBe("/usr/bin/chromium");
    expect(linux.every((place) => place.startsWith("/usr/bin/"))).toBe(true);
    const mac = browserPlaces({ platform: "darwin", home: "/Users/ada", environment: {} });
    expect(mac).toContain("/Users/ada/Applications/Chromium.app/Contents/MacOS/Chromium");
    const windows = browserPlaces({
      platform: "win32",
      home: "C:\\Users\\ada",
      environment: { PROGRAMFILES: "C:\\Program Files" },
    });
    expect(windows).toContain("C:\\Program Files\\Microsoft\\Edge\\Application\\msedge.exe");
  });

  it("is not there without a display or a browser, and the reason is said", async () => {
    const none = await browserForWindow({ ...desk, environment: {} });
    expect(none).toEqual({ browser: null, why: expect.stringContaining("no display") });
    const empty = await browserForWindow({ ...desk, environment: { DISPLAY: ":0", PATH: "/nowhere" } });
    expect(empty).toEqual({ browser: null, why: expect.stringContaining("LINEFALL_BROWSER") });
  });
});

describe("the bench's folder", () => {
  it.each([
    [{ ...desk }, "/home/ada/.local/share/linefall"],
    [{ ...desk, environment: { XDG_DATA_HOME: "/data" } }, "/data/linefall"],
    [{ ...desk, environment: { XDG_DATA_HOME: "relative" } }, "/home/ada/.local/share/linefall"],
    [{ ...desk, environment: { LINEFALL_DATA: "/srv/bench", XDG_DATA_HOME: "/data" } }, "/srv/bench"],
    [{ ...desk, environment: { LINEFALL_DATA: "" } }, "/home/ada/.local/share/linefall"],
    [{ ...desk, platform: "darwin" as const }, "/home/ada/Library/Application Support/Linefall"],
    [{ ...windows, environment: { LOCALAPPDATA: "D:\\Local" } }, "D:\\Local\\Linefall"],
    [{ ...windows }, LOCAL],
  ])("%j: %s", (surroundings, folder) => {
    expect(dataFolder(surroundings, () => false)).toBe(folder);
  });

  it("on Windows stays where an earlier version put the bench, unless there is one in the local folder", () => {
    const roaming = "C:\\Users\\ada\\AppData\\Roaming\\Linefall";
    expect(dataFolder(windows, (folder) => folder === roaming)).toBe(roaming);
    expect(dataFolder(windows, () => true)).toBe(LOCAL);
    const moved = { ...windows, environment: { APPDATA: "D:\\Roaming" } };
    expect(dataFolder(moved, (folder) => folder === "D:\\Roaming\\Linefall")).toBe("D:\\Roaming\\Linefall");
  });

  it("lies apart from the window's profile, of which each bench has its own", () => {
    for (const machine of [desk, windows, { ...desk, platform: "darwin" as const }]) {
      const bench = dataFolder(machine, () => false);
      const profile = windowProfileFolder(machine, bench);
      const separator = machine === windows ? "\\" : "/";
      expect(profile.startsWith(bench + separator)).toBe(false);
      expect(bench.startsWith(profile)).toBe(false);
      expect(windowProfileFolder(machine, `${bench}2`)).not.toBe(profile);
    }
  });

  it.each([
    ["\\\\server\\share\\bench", true],
    ["//server/share", true],
    ["\\\\?\\UNC\\server\\share", true],
    ["\\\\?\\C:\\bench", false],
    ["\\\\.\\C:\\bench", false],
    ["C:\\bench", false],
    ["/home/ada", false],
  ])("%s is on another computer: %s", (path, network) => {
    expect(isNetworkPath(path)).toBe(network);
  });

  it("holds everything of the bench", () => {
    const { dataFolder: folder, ...files } = benchPaths("/bench");
    expect(folder).toBe("/bench");
    expect(Object.values(files).every((path) => path.startsWith("/bench/"))).toBe(true);
  });
});
