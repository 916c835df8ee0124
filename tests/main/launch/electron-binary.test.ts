import { chmodSync, mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { electronBinary, followFetch, installedElectron } from "#main/launch/electron-binary.ts";
import { readProgress, writeProgress } from "#main/launch/fetch-progress.ts";

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
  const progressFile = () => join(folder, "cache", "fetch.json");
  const find = (patience = 20_000) =>
    electronBinary({ packages, logFile: logFile(), progressFile: progressFile(), patience });

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

  it("a download of which nothing came is one line, and is not repeated on the same day", async () => {
    putInstaller("console.error('no route to host'); process.exit(1);");
    expect((await find()).line).toMatch(/^Electron could not be fetched \(.*fetch\.log\): /);
    putInstaller(arrive);
    expect((await find()).line).toContain("today");
    const yesterday = new Date(Date.now() - 25 * 60 * 60 * 1000);
    utimesSync(logFile(), yesterday, yesterday);
    expect((await find()).path).not.toBeNull();
  });

  /** An installer that loads from a server of its own: as much of 4 MB as it is told, then whatever `then` says. */
  const download = (share: number, then: string) => `
    const http = require("http");
    const server = http.createServer((request, response) => {
      response.writeHead(200, { "content-length": 4e6 });
      response.write(Buffer.alloc(4e6 * ${share}));
      if (${share} < 1) setTimeout(() => response.destroy(), 900);
      else response.end();
    }).listen(0, "127.0.0.1", async () => {
      const answer = await fetch("http://127.0.0.1:" + server.address().port);
      try {
        for await (const chunk of answer.body);
      } catch { process.exit(1); }
      ${then}
      setTimeout(() => process.exit(0), 700);
    });`;
  async function until(what: () => boolean): Promise<void> {
    while (!what()) await new Promise((resolve) => setTimeout(resolve, 20));
  }

  it("a slow download goes on for the next start; a start meanwhile says how far it is", async () => {
    putInstaller(download(1, arrive));
    const { path, line } = await find(50);
    expect(path).toBeNull();
    expect(line).toContain("is being fetched, for the next start");
    await until(() => readProgress(progressFile())?.percent === 100);
    rmSync(join(packages, "electron", "path.txt"), { force: true });
    expect(await find()).toEqual({
      path: null,
      line: expect.stringMatching(/still being fetched \(100 %\)/),
    });
    const lines: string[] = [];
    followFetch(progressFile(), (said) => lines.push(said), 20);
    await until(() => lines.some((said) => said.includes("has been fetched")));
    expect(lines[0]).toBe("Fetching Electron: 100 %");
  });

  it("a download that broke off is tried again at the next start", async () => {
    putInstaller(download(0.5, ""));
    expect((await find()).line).toMatch(/^Electron could not be fetched \(/);
    expect(readProgress(progressFile())).toMatchObject({ percent: 50, state: "failed" });
    putInstaller(arrive);
    expect((await find()).path).not.toBeNull();
  });

  it("a download that has not come on for half an hour has stopped, whoever has its process number now", () => {
    const file = join(folder, "fetch.json");
    writeProgress(file, { pid: process.pid, percent: 40, state: "fetching" });
    expect(readProgress(file)?.state).toBe("fetching");
    const before = new Date(Date.now() - 31 * 60 * 1000);
    utimesSync(file, before, before);
    expect(readProgress(file)?.state).toBe("failed");
  });

  it("a download whose process was killed has failed, and is tried again", async () => {
    putInstaller(download(0.25, ""));
    await find(50);
    await until(() => readProgress(progressFile())?.percent === 25);
    process.kill(readProgress(progressFile())?.pid ?? 0, "SIGKILL");
    await until(() => readProgress(progressFile())?.state === "failed");
    putInstaller(arrive);
    expect((await find()).path).not.toBeNull();
  });

  it("a missing package is said", async () => {
    expect((await find()).line).toContain("package electron is missing");
  });
});
