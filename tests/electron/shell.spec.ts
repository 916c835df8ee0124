import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { _electron, type ElectronApplication, expect, type Page, test } from "@playwright/test";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));
const PACKAGE = join(ROOT, "node_modules", "electron");

/** The installed binary; the package itself is not imported, as that would start a download. */
function binary(): string | null {
  const note = join(PACKAGE, "path.txt");
  const path = existsSync(note) ? join(PACKAGE, "dist", readFileSync(note, "utf8").trim()) : "";
  return path !== "" && existsSync(path) ? path : null;
}

const executablePath = binary();
test.skip(
  executablePath === null,
  "the Electron binary is not installed here: npx install-electron fetches it",
);

/** The shell on the real binary: what a stand-in for the module cannot show. */
test.describe("the Electron shell", () => {
  let folder: string;
  let app: ElectronApplication;
  let window: Page;

  test.beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "linefall-electron-"));
    const { ELECTRON_RUN_AS_NODE: _plainNode, ...env } = process.env;
    app = await _electron.launch({
      executablePath: executablePath ?? "",
      cwd: ROOT,
      args: [".", "--data", folder, ...(process.getuid?.() === 0 ? ["--no-sandbox"] : [])],
      env: env as Record<string, string>,
    });
    window = await app.firstWindow();
  });
  test.afterAll(async () => {
    await app?.close();
    rmSync(folder, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 });
  });

  test("shows the bench under its own origin, without Node and without a policy violation", async () => {
    await expect(window.locator("#window-root")).not.toBeEmpty();
    expect(window.url()).toBe("linefall://bench/index.html");
    const seen = await window.evaluate(() => ({
      require: typeof Reflect.get(globalThis, "require"),
      process: typeof Reflect.get(globalThis, "process"),
      bridge: Object.keys(Reflect.get(globalThis, "linefall") as object).sort(),
    }));
    expect(seen).toEqual({
      require: "undefined",
      process: "undefined",
      bridge: ["call", "host", "tellUnsaved"],
    });
  });

  test("answers a call of the contract, and refuses an unknown one", async () => {
    const answers = await window.evaluate(async () => {
      const { call } = Reflect.get(globalThis, "linefall") as {
        call(name: string, input: string): Promise<string>;
      };
      const unknown = await call("__proto__", "{}").catch(() => "refused");
      return [JSON.parse(await call("bench.status", "{}")) as unknown, unknown];
    });
    expect(answers[0]).toMatchObject({ ok: true, value: { program: { host: "electron" } } });
    expect(answers[1]).toBe("refused");
  });

  test("goes nowhere, opens nothing, loads nothing from elsewhere and is granted nothing", async () => {
    const tried = await window.evaluate(async () => {
      const opened = globalThis.open("https://attacker.example/");
      globalThis.location.href = "https://attacker.example/";
      const stopped = () => "stopped";
      return {
        opened: opened === null,
        fetched: await fetch("https://attacker.example/").then(() => "loaded", stopped),
        evaluated: await Promise.resolve()
          .then(() => new Function("return 1")())
          .catch(stopped),
        notified: await Notification.requestPermission(),
      };
    });
    expect(tried).toEqual({ opened: true, fetched: "stopped", evaluated: "stopped", notified: "denied" });
    expect(window.url()).toBe("linefall://bench/index.html");
    expect(app.windows()).toHaveLength(1);
  });

  test("finds nothing outside the built window", async () => {
    const statuses = await app.evaluate(async ({ net }) => {
      const paths = ["/index.html", "/../package.json", "/%2e%2e/package.json", "/..%2fmain/main.js"];
      const answers = paths.map((path) => net.fetch(`linefall://bench${path}`));
      return (await Promise.all(answers)).map((answer) => answer.status);
    });
    expect(statuses).toEqual([200, 404, 404, 404]);
  });

  test("runs its window sandboxed and isolated", async () => {
    const preferences = await app.evaluate(({ BrowserWindow }) => {
      const contents = BrowserWindow.getAllWindows()[0]?.webContents;
      // Not in the public types; the only read-out of what the window really got.
      return (
        contents as unknown as { getLastWebPreferences(): Record<string, unknown> }
      ).getLastWebPreferences();
    });
    expect(preferences).toMatchObject({ contextIsolation: true, sandbox: true, nodeIntegration: false });
  });
});
