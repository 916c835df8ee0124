import { chmodSync, existsSync, mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { electronBinary, installedElectron } from "#main/launch/electron-binary.ts";

/** An installer that does what these lines say, as the package's own does. */
describe("the Electron binary", () => {
  let folder: string;
  let packages: string;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), "linefall-launch-"));
    packages = join(folder, "node_modules");
    mkdirSync(join(packages, "electron"), { recursive: true });
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true, maxRetries: 5 }));

  const logFile = () => join(folder, "cache", "fetch.log");
  const putInstaller = (text: string) => writeFileSync(join(packages, "electron", "install.js"), text);
  const arrive = `
    const fs = require("fs"), path = require("path");
    fs.mkdirSync(path.join(__dirname, "dist"));
    fs.writeFileSync(path.join(__dirname, "dist", "electron"), "");
    fs.writeFileSync(path.join(__dirname, "path.txt"), "electron");`;
  const find = (mayFetch = true, patience = 20_000) =>
    electronBinary({ packages, logFile: logFile(), mayFetch, patience });

  it("is found where its package put it", async () => {
    mkdirSync(join(packages, "electron", "dist"));
    const binary = join(packages, "electron", "dist", "electron");
    writeFileSync(binary, "");
    chmodSync(binary, 0o755);
    writeFileSync(join(packages, "electron", "path.txt"), "electron");
    putInstaller("throw new Error('must not be asked')");
    expect(await find()).toEqual({ path: binary, line: null });
  });

  it("is not believed when only its note is there", () => {
    writeFileSync(join(packages, "electron", "path.txt"), "electron");
    expect(installedElectron(packages)).toBeNull();
  });

  it("is fetched by the package's own installer", async () => {
    putInstaller(arrive);
    expect(await find()).toEqual({ path: join(packages, "electron", "dist", "electron"), line: null });
  });

  it("is not fetched where nothing may be fetched", async () => {
    putInstaller(arrive);
    const { path, line } = await find(false);
    expect(path).toBeNull();
    expect(line).toContain("browser window");
    expect(existsSync(logFile())).toBe(false);
  });

  it("a failed download is one line, and is not repeated on the same day", async () => {
    putInstaller("console.error('no route to host'); process.exit(1);");
    expect((await find()).line).toMatch(/^Electron could not be fetched \(.*fetch\.log\): /);
    putInstaller(arrive);
    expect((await find()).line).toContain("today");
    const yesterday = new Date(Date.now() - 25 * 60 * 60 * 1000);
    utimesSync(logFile(), yesterday, yesterday);
    expect((await find()).path).not.toBeNull();
  });

  it("a slow download goes on for the next start", async () => {
    putInstaller(`setTimeout(() => { ${arrive} }, 700);`);
    const { path, line } = await find(true, 50);
    expect(path).toBeNull();
    expect(line).toContain("still being fetched");
    while (installedElectron(packages) === null) await new Promise((resolve) => setTimeout(resolve, 20));
    expect((await find()).path).not.toBeNull();
  });

  it("a missing package is said", async () => {
    expect((await find()).line).toContain("package electron is missing");
  });
});
