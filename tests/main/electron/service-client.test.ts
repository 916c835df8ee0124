import { randomUUID } from "node:crypto";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { type ServiceClient, type ServiceOptions, startService } from "#main/electron/service-client.ts";
import type { CopyOrder } from "#main/ports/copy-work.ts";
import { doCopyWork } from "#main/store/bench-file/copy-work-here.ts";
import { createClient } from "#renderer/bridge/client.ts";
import { transportOver } from "#renderer/bridge/transport.ts";
import { layOlderBench } from "../../support/older-bench.ts";
import { SERVICE_ENTRY, ServiceChildStandIn } from "../../support/service-child.ts";

/** A real service process on a real bench; killed as a crash or the system would. */
describe("the service process", { timeout: 120_000 }, () => {
  let folder: string;
  let children: ServiceChildStandIn[];
  let service: ServiceClient;
  const told = { onRestarted: vi.fn(), onLost: vi.fn(), log: vi.fn() };
  const answers = {
    exportPath: vi.fn(async (): Promise<string | null> => null),
    copyWork: vi.fn(async (order: CopyOrder): Promise<readonly string[]> => doCopyWork(order)),
    demo: vi.fn(async () => null),
    headKey: vi.fn(async (): Promise<string | null> => null),
    folder: vi.fn(async () => null),
    pdf: vi.fn(async () => new Uint8Array([37, 80, 68, 70])),
    recovery: vi.fn(async (): Promise<number | null> => null),
  };

  beforeEach(() => {
    vi.clearAllMocks();
    folder = mkdtempSync(join(tmpdir(), "linefall-service-"));
    children = [];
  });
  afterEach(async () => {
    for (const child of children) child.process.kill("SIGKILL");
    rmSync(folder, { recursive: true, force: true, maxRetries: 10, retryDelay: 100 });
  });

  function start(changes: Partial<ServiceOptions> = {}): void {
    service = startService({
      fork: () => {
        const child = new ServiceChildStandIn(SERVICE_ENTRY);
        children.push(child);
        return child;
      },
      bench: { folder, demo: false, exportFolder: join(folder, "exports"), programVersion: "0.0.0-test" },
      answers,
      ...told,
      ...changes,
    });
  }
  const kill = () => children.at(-1)?.process.kill("SIGKILL");
  const client = () => createClient(transportOver((name, input) => service.call(name, input)));
  const person = (name: string) => ({
    requestId: `request-of-${name}`,
    person: { name, initials: name.slice(0, 2), interpupillaryMm: "" },
  });
  async function names(): Promise<string[]> {
    const reply = await client()("people.list", {});
    if (!reply.ok) throw new Error(reply.error.message);
    return reply.value.map(({ name }) => name);
  }

  it("answers calls that came before its bench was open", async () => {
    start();
    expect(JSON.parse(await service.call("bench.status", "{}"))).toMatchObject({
      ok: true,
      value: { program: { host: "electron", version: "0.0.0-test" } },
    });
    expect(JSON.parse(await service.call("bench.status", "{"))).toMatchObject({
      ok: false,
      error: { code: "input.invalid" },
    });
    await service.close();
    expect(children[0]?.process.exitCode).toBe(0);
  });

  it("tells how far it is while an older bench is brought up to date, which other calls wait for", async () => {
    layOlderBench(folder);
    start();
    const status = service.call("bench.status", "{}");
    let isOpen = false;
    void status.then(() => {
      isOpen = true;
    });
    const parts = new Set<string>();
    while (!isOpen) {
      const { value } = JSON.parse(await service.call("bench.opening", "{}")) as {
        value: { part: string } | null;
      };
      if (value) parts.add(value.part);
      await pause(1);
    }
    expect([...parts].join()).toContain("bringing it up to date");
    expect(JSON.parse(await status)).toMatchObject({ ok: true });
    expect(JSON.parse(await service.call("bench.opening", "{}"))).toEqual({ ok: true, value: null });
    await service.close();
  });

  it("is started again when it dies, and what was acknowledged is there", async () => {
    start();
    expect(await client()("people.register", person("Ada"))).toMatchObject({ ok: true });
    kill();
    await vi.waitFor(() => expect(told.onRestarted).toHaveBeenCalledTimes(1), 60_000);
    expect(await names()).toEqual(["Ada"]);
    expect(told.onLost).not.toHaveBeenCalled();
    await service.close();
  });

  it("an act on its way when it dies is sent again by the window and done once", async () => {
    start();
    await service.opened;
    const underWay = ["Ada", "Ben", "Cas", "Dee"].map((name) => client()("people.register", person(name)));
    kill();
    for (const reply of await Promise.all(underWay)) expect(reply).toMatchObject({ ok: true });
    expect((await names()).sort()).toEqual(["Ada", "Ben", "Cas", "Dee"]);
    expect(children).toHaveLength(2);
    await service.close();
  });

  it("is given up when it dies three times within a minute, and no call waits for ever", async () => {
    let now = 0;
    start({ now: () => now });
    for (let times = 1; times <= 2; times += 1) {
      await service.call("bench.status", "{}");
      kill();
      await vi.waitFor(() => expect(told.onRestarted).toHaveBeenCalledTimes(times), 60_000);
      now += 31_000;
    }
    // The first end is more than a minute ago by now: it counts no longer.
    kill();
    await vi.waitFor(() => expect(told.onRestarted).toHaveBeenCalledTimes(3), 60_000);
    kill();
    await vi.waitFor(() => expect(told.onLost).toHaveBeenCalledTimes(1), 60_000);
    expect(JSON.parse(await service.call("bench.status", "{}"))).toMatchObject({
      error: { code: "host.lost" },
    });
    await service.close();
  });

  it("says when its bench is open elsewhere, and does not try again", async () => {
    start();
    await service.opened;
    const first = service;
    start();
    await expect(service.opened).rejects.toMatchObject({
      message: expect.stringContaining("is open already"),
      hint: expect.any(String),
    });
    await service.close();
    await first.close();
    expect(children).toHaveLength(2);
  });

  it("says when it ends before it has opened anything", async () => {
    const endsAtOnce = join(folder, "ends.mjs");
    writeFileSync(endsAtOnce, "process.exit(9);");
    start({
      fork: () => {
        const child = new ServiceChildStandIn(endsAtOnce);
        children.push(child);
        return child;
      },
    });
    await expect(service.opened).rejects.toThrow("could not start");
    expect(told.onLost).not.toHaveBeenCalled();
    await service.close();
  });

  it("a signal meant for the whole program leaves the closing of the bench to the window's process", async () => {
    start();
    await service.opened;
    for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) children[0]?.process.kill(signal);
    expect(await client()("people.register", person("Ada"))).toMatchObject({ ok: true });
    await service.close();
    expect(children).toHaveLength(1);
  });

  it("has a backup copied and checked beside it, and does it itself where that cannot be", async () => {
    start();
    const backup = () => client()("backups.make", { requestId: randomUUID() });
    expect(await backup()).toMatchObject({ ok: true });
    const inBackups = expect.stringContaining(join(folder, "backups"));
    expect(answers.copyWork.mock.calls.map(([order]) => order)).toEqual([
      { kind: "copy", file: join(folder, "bench.sqlite"), to: inBackups },
      { kind: "check", file: inBackups },
      expect.objectContaining({ kind: "condense" }),
    ]);
    answers.copyWork.mockImplementationOnce(doCopyWork).mockResolvedValueOnce(["page 7 is missing"]);
    expect(await backup()).toMatchObject({ ok: false });
    const none = new Error("no process could be started");
    answers.copyWork.mockRejectedValueOnce(none).mockRejectedValueOnce(none);
    expect(await backup()).toMatchObject({ ok: true });
    await service.close();
  });
});
