import { spawn, spawnSync } from "node:child_process";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { refuseElectron } from "#main/loopback/run.ts";
import { findRunningHost } from "#main/loopback/running-host.ts";
import { callThrough } from "../../support/call-through.ts";
import { type LoopbackProgram, startLoopbackProgram } from "../../support/loopback-program.ts";

const ROOT = fileURLToPath(new URL("../../../", import.meta.url));
const NODE = join(ROOT, "node_modules", ".bin", "node");
const HOST = join(ROOT, "src-main", "loopback", "main.ts");

/** Runs a further start to its end, with no display. */
function runToEnd(...args: string[]) {
  const { DISPLAY: _display, WAYLAND_DISPLAY: _wayland, ...environment } = process.env;
  return spawnSync(NODE, [HOST, ...args], { encoding: "utf8", timeout: 30_000, env: environment });
}

describe("the loopback program", () => {
  let program: LoopbackProgram;
  beforeAll(async () => {
    program = await startLoopbackProgram();
  });
  afterAll(() => program.stop());

  it("answers the contract through a one-time address", async () => {
    const { status, reply } = await callThrough(program.freshAddress(), "bench.status");
    expect(status).toBe(200);
    expect(reply).toMatchObject({
      ok: true,
      value: {
        program: { host: "loopback" },
        databasePath: join(program.folder, "bench.sqlite"),
        demo: false,
        personInUse: null,
      },
    });
  });

  it("brings a refusal of the contract back with status 200 and its field", async () => {
    const { status, reply } = await callThrough(program.freshAddress(), "people.choose", { personId: 7 });
    expect(status).toBe(200);
    expect(reply).toMatchObject({ ok: false, error: { code: "input.invalid", field: "personId" } });
  });

  it("leaves a fresh address for the next start after each use, readable by this user only", async () => {
    const first = program.freshAddress();
    expect((await callThrough(first, "bench.status")).status).toBe(200);
    expect(program.freshAddress()).not.toBe(first);
    expect((await callThrough(first, "bench.status")).status).toBe(403);
    if (process.platform !== "win32") {
      expect(statSync(join(program.folder, "running.json")).mode & 0o777).toBe(0o600);
    }
  });

  it("a second start finds it, says where it is and leaves it running", async () => {
    const second = runToEnd("--no-window", "--data", program.folder);
    expect(second.status).toBe(0);
    const address = /http:\/\/127\.0\.0\.1:\d+\/enter#[\w-]{43}/.exec(second.stdout)?.[0] ?? "";
    expect(new URL(address).origin).toBe(program.origin);
    expect((await callThrough(address, "bench.status")).reply).toMatchObject({ ok: true });
  });

  it("prints no token but the one-time address, and no input of any call", () => {
    const tokens = program.output().match(/#[\w-]{43}/g);
    expect(tokens).toEqual([new URL(program.address).hash]);
  });

  it("ends in order on Ctrl+C and takes its announcement away; a kill -9 leaves one that nobody believes", async () => {
    await program.kill9();
    expect(existsSync(join(program.folder, "running.json"))).toBe(true);
    expect(await findRunningHost(program.folder)).toBeNull();
    await program.restart();
    expect((await callThrough(program.address, "bench.status")).reply).toMatchObject({ ok: true });
    expect(await program.end()).toBe(0);
    expect(program.output()).toContain("Linefall ends");
    expect(existsSync(join(program.folder, "running.json"))).toBe(false);
    await program.restart();
  });

  it("comes back where it was, since a window keeps there what is not stored; elsewhere where that is taken", async () => {
    const { origin } = program;
    await program.kill9();
    await program.restart();
    expect(program.origin).toBe(origin);
    await program.end();
    const other = createServer();
    const port = Number(new URL(origin).port);
    await new Promise<void>((resolve) => other.listen({ host: "127.0.0.1", port, exclusive: true }, resolve));
    try {
      await program.restart();
      expect(program.origin).not.toBe(origin);
      expect((await callThrough(program.address, "bench.status")).reply).toMatchObject({ ok: true });
    } finally {
      other.close();
    }
  });
});

describe("the demonstration bench", () => {
  const status = async (program: LoopbackProgram) =>
    (await callThrough(program.freshAddress(), "bench.status")).reply;

  it("says that it is invented, also when it is opened later as if it were real", async () => {
    const program = await startLoopbackProgram({ demo: true });
    expect(await status(program)).toMatchObject({ ok: true, value: { demo: true } });
    const overview = (await callThrough(program.freshAddress(), "bench.overview")).reply;
    expect(overview.value.counts.rows).toBeGreaterThan(0);
    await program.end();
    const again = await startLoopbackProgram({ folder: program.folder });
    expect(await status(again)).toMatchObject({ ok: true, value: { demo: true } });
    await again.stop();
    await program.stop();
  });

  it("is not built over a real bench", async () => {
    const program = await startLoopbackProgram();
    await program.end();
    const { status: code, stderr } = runToEnd("--no-window", "--demo", "--data", program.folder);
    expect([code, stderr]).toEqual([1, expect.stringContaining("real bench")]);
    await program.stop();
  });

  it("lives in a folder that is gone when the program ends", async () => {
    const temporary = mkdtempSync(join(tmpdir(), "linefall-throwaway-"));
    const run = spawn(NODE, [HOST, "--no-window", "--demo"], {
      env: { ...process.env, TMPDIR: temporary, TEMP: temporary },
    });
    const ended = new Promise((resolve) => run.on("exit", resolve));
    let output = "";
    run.stdout.on("data", (chunk: Buffer) => {
      output += chunk.toString("utf8");
    });
    await expect.poll(() => output, { timeout: 50_000 }).toContain("Linefall is at");
    expect(readdirSync(temporary)).toHaveLength(1);
    run.kill("SIGINT");
    expect(await ended).toBe(0);
    expect(readdirSync(temporary)).toEqual([]);
    rmSync(temporary, { recursive: true });
  });
});

describe("an announcement left in the bench's folder", () => {
  const folder = mkdtempSync(join(tmpdir(), "linefall-announced-"));
  afterAll(() => rmSync(folder, { recursive: true }));
  const token = "A".repeat(43);
  const put = (value: unknown, mode = 0o600) => {
    rmSync(join(folder, "running.json"), { force: true });
    writeFileSync(join(folder, "running.json"), JSON.stringify(value), { mode });
  };

  it.each([
    [
      "another program on that port",
      { address: "http://127.0.0.1:9", invitation: `http://127.0.0.1:9/enter#${token}` },
    ],
    [
      "an address elsewhere",
      { address: "https://attacker.example", invitation: `https://attacker.example/enter#${token}` },
    ],
    [
      "an invitation elsewhere",
      { address: "http://127.0.0.1:9", invitation: `https://attacker.example/enter#${token}` },
    ],
    [
      "switches hidden in it",
      { address: "http://127.0.0.1:9", invitation: `http://127.0.0.1:9/enter#${token} --x` },
    ],
    ["no address", {}],
  ])("with %s is not believed", async (_what, more) => {
    put({ pid: process.pid, ...more });
    expect(await findRunningHost(folder)).toBeNull();
  });

  it.skipIf(process.platform === "win32")("that others can read or write is not believed", async () => {
    const program = await startLoopbackProgram();
    const announced = JSON.parse(readFileSync(join(program.folder, "running.json"), "utf8"));
    put(announced);
    expect(await findRunningHost(folder)).toMatchObject({ address: program.origin });
    put(announced, 0o644);
    expect(await findRunningHost(folder)).toBeNull();
    await program.stop();
  });
});

describe("a start that cannot go on", () => {
  const folder = mkdtempSync(join(tmpdir(), "linefall-trouble-"));
  afterAll(() => rmSync(folder, { recursive: true }));

  it("says so in words for a file that is no bench, and leaves it alone", () => {
    const bench = join(folder, "foreign");
    mkdirSync(bench);
    const text = "this is no database, only a text that stands in its place\n";
    writeFileSync(join(bench, "bench.sqlite"), text);
    const { status, stderr } = runToEnd("--no-window", "--data", bench);
    expect(status).toBe(1);
    expect(stderr).toContain("bench.sqlite");
    expect(stderr).not.toMatch(/\bat \S+ \(|node:internal/);
    expect(readFileSync(join(bench, "bench.sqlite"), "utf8")).toBe(text);
  });

  it("names a wrong option and lists the right ones", () => {
    const { status, stderr } = runToEnd("--windowless");
    expect(status).toBe(2);
    expect(stderr).toContain("--windowless");
    expect(stderr).toContain("--no-window");
  });

  it("says which port is taken", async () => {
    const program = await startLoopbackProgram();
    const port = new URL(program.origin).port;
    const { status, stderr } = runToEnd("--no-window", "--data", join(folder, "empty"), "--port", port);
    expect(status).toBe(1);
    expect(stderr).toContain(`Port ${port} is taken`);
    await program.stop();
  });

  it("refuses to run inside Electron", () => {
    expect(() => refuseElectron({ node: "24.0.0", electron: "45.0.0" })).toThrow(
      "does not run inside Electron",
    );
    expect(() => refuseElectron({ node: "24.0.0" })).not.toThrow();
  });
});
