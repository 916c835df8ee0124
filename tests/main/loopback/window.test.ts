import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, afterEach, describe, expect, it } from "vitest";
import { installedElectron } from "#main/launch/electron-binary.ts";
import { browserPlaces, findBrowser } from "#main/loopback/find-browser.ts";
import { callThrough } from "../../support/call-through.ts";

const ROOT = fileURLToPath(new URL("../../../", import.meta.url));
const NODE = join(ROOT, "node_modules", ".bin", "node");
const HOST = join(ROOT, "src-main", "loopback", "main.ts");
const folder = mkdtempSync(join(tmpdir(), "linefall-window-"));
const ARGUMENTS_FILE = join(folder, "browser.arguments");
const BROWSER_FILE = join(folder, "browser.pid");

/**
 * Stands where the browser stands: a real one without a screen, which writes its process id and its arguments down, or
 * one that ends at once. A display is only claimed, since neither draws on it.
 */
function putBrowser(line: string): string {
  const file = join(folder, "browser");
  const noted = `echo $$ > ${BROWSER_FILE}\nprintf '%s\\n' "$@" > ${ARGUMENTS_FILE}`;
  writeFileSync(file, `#!/bin/sh\n${noted}\n${line}\n`, { mode: 0o755 });
  return file;
}

function start(bench: string, browser: string, program = HOST) {
  const child: ChildProcess = spawn(NODE, [program, "--data", bench], {
    stdio: ["ignore", "pipe", "pipe"],
    env: { ...process.env, DISPLAY: ":claimed", LINEFALL_BROWSER: browser, LINEFALL_FETCH_ELECTRON: "0" },
  });
  let output = "";
  const read = (chunk: Buffer) => {
    output += chunk.toString("utf8");
  };
  child.stdout?.on("data", read);
  child.stderr?.on("data", read);
  const ended = new Promise<number | null>((resolve) => child.on("exit", resolve));
  return { child, ended, output: () => output };
}

describe.skipIf(process.platform === "win32")("a program that opened its own window", () => {
  const started: ChildProcess[] = [];
  afterEach(() => {
    for (const child of started.splice(0)) child.kill("SIGKILL");
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 }));

  async function openWindow(bench: string, host = HOST) {
    const real = await findBrowser(
      browserPlaces({ platform: process.platform, home: "/", environment: { PATH: process.env.PATH } }),
    );
    expect(real, "a browser is needed: node tests/prepare.ts").not.toBeNull();
    const program = start(bench, putBrowser(`exec "${real}" --headless=new --disable-gpu "$@"`), host);
    started.push(program.child);
    await expect.poll(() => program.output(), { timeout: 30_000 }).toContain("The window is open.");
    return program;
  }

  it("ends when the window is closed", async () => {
    const program = await openWindow(join(folder, "closed"));
    process.kill(Number(readFileSync(BROWSER_FILE, "utf8")), "SIGTERM");
    expect(await program.ended).toBe(0);
    expect(program.output()).toMatch(/Linefall ends: its (last )?window has closed/);
  });

  it("tells the browser its address by a page only the person can read, never by an argument", async () => {
    const bench = join(folder, "told");
    const program = await openWindow(bench);
    const given = readFileSync(ARGUMENTS_FILE, "utf8");
    expect(given).toMatch(/^--app=file:\/\/\/.*\/open-window-[0-9a-f]{16}\.html$/m);
    expect(given).not.toMatch(/#|\/enter|[\w-]{43}$/m);
    // Used, it is gone.
    expect(readdirSync(bench).filter((name) => name.startsWith("open-window"))).toEqual([]);
    program.child.kill("SIGTERM");
    await program.ended;
  });

  it("keeps that page from others for as long as it is there, and takes it away at the end", async () => {
    const bench = join(folder, "unused");
    const program = start(bench, putBrowser("exec sleep 60"));
    started.push(program.child);
    await expect.poll(() => program.output(), { timeout: 20_000 }).toContain("opens in a window");
    const pages = () => readdirSync(bench).filter((name) => name.startsWith("open-window"));
    await expect.poll(pages).toHaveLength(1);
    const page = join(bench, pages()[0] ?? "");
    expect(statSync(page).mode & 0o777).toBe(0o600);
    expect(readFileSync(page, "utf8")).toMatch(/content="0;url=http:\/\/127\.0\.0\.1:\d+\/enter#[\w-]{43}"/);
    program.child.kill("SIGTERM");
    await program.ended;
    expect(pages()).toEqual([]);
  });

  it("closes the window when it is asked to end itself", async () => {
    const program = await openWindow(join(folder, "asked"));
    const browser = Number(readFileSync(BROWSER_FILE, "utf8"));
    program.child.kill("SIGTERM");
    expect(await program.ended).toBe(0);
    expect(() => process.kill(browser, 0)).toThrow(/ESRCH/);
  });

  it("opens the demo bench as a program of its own beside this one, with a window of its own", async () => {
    const bench = join(folder, "own");
    const program = start(bench, putBrowser("exec sleep 60"));
    started.push(program.child);
    const running = (at: string) =>
      JSON.parse(readFileSync(join(at, "running.json"), "utf8")) as { pid: number; invitation: string };
    await expect.poll(() => program.output(), { timeout: 20_000 }).toContain("opens in a window");
    await expect.poll(() => existsSync(join(bench, "running.json")), { timeout: 20_000 }).toBe(true);
    const own = running(bench);
    expect((await callThrough(own.invitation, "bench.openDemo")).reply).toMatchObject({ ok: true });
    const demo = `${bench}-demo`;
    await expect.poll(() => existsSync(join(demo, "running.json")), { timeout: 90_000 }).toBe(true);
    const beside = running(demo);
    expect(beside.pid).not.toBe(own.pid);
    expect((await callThrough(beside.invitation, "bench.status")).reply).toMatchObject({
      ok: true,
      value: { demo: true, offersDemo: false, databasePath: join(demo, "bench.sqlite") },
    });
    await expect.poll(() => readFileSync(ARGUMENTS_FILE, "utf8"), { timeout: 20_000 }).toContain(demo);
    process.kill(beside.pid, "SIGTERM");
    program.child.kill("SIGTERM");
    await program.ended;
    await expect.poll(() => existsSync(join(demo, "running.json")), { timeout: 20_000 }).toBe(false);
  }, 180_000);

  const packages = join(ROOT, "node_modules");
  it.skipIf(installedElectron(packages) !== null)(
    "is what npm start opens without Electron, in one line",
    async () => {
      const program = await openWindow(join(folder, "started"), join(ROOT, "src-main", "launch", "start.ts"));
      const lines = program.output().split("\n");
      expect(lines.filter((line) => line.includes("Electron"))).toEqual([
        "Electron is not used here (LINEFALL_FETCH_ELECTRON=0).",
      ]);
      program.child.kill("SIGINT");
      expect(await program.ended).toBe(0);
    },
  );

  it("keeps serving and says the address when the window does not open", async () => {
    const bench = join(folder, "failed");
    const program = start(bench, putBrowser("exit 1"));
    started.push(program.child);
    await expect.poll(() => program.output(), { timeout: 20_000 }).toMatch(/did not open.*\/enter#[\w-]{43}/);
    expect(program.child.exitCode).toBeNull();
    program.child.kill("SIGINT");
    expect(await program.ended).toBe(0);
  });
});
