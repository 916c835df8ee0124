import { createHash } from "node:crypto";
import {
  copyFileSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { assemble, recoverBench } from "#main/assemble.ts";
import { verifyCommand } from "#main/launch/verify-command.ts";
import { stemOf } from "#main/store/bench-file/backup-file-name.ts";
import { BenchUnopenable } from "#main/store/bench-file/bench-unopenable.ts";
import { rebuildCopy } from "#main/store/bench-file/copy-chain.ts";
import { buildScene, enterLength, type Scene } from "../../../support/bench-scenes.ts";
import { countedIds, fixedClock } from "../../../support/fixed-clock.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;
/** What each copy held when it was made. */
let held: Map<string, Buffer>;
let rows: number;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  held = new Map();
  rows = 0;
});
afterEach(() => bench.end());

const pathOf = (fileName: string): string => join(bench.paths.backupFolder, fileName);
const names = (): string[] => readdirSync(bench.paths.backupFolder).sort();
const list = () => bench.call("backups.list", {});

/** One row more and a copy of that. */
async function copy(): Promise<string> {
  rows += 1;
  await enterLength(bench, scene, `row-${rows}`, "40", "60");
  const { fileName } = await bench.call("backups.make", { requestId: bench.request() });
  held.set(stemOf(fileName), readFileSync(pathOf(fileName)));
  return stemOf(fileName);
}
async function copies(count: number): Promise<string[]> {
  const stems: string[] = [];
  for (let made = 0; made < count; made += 1) stems.push(await copy());
  return stems;
}

function rebuilt(fileName: string): Buffer | string[] {
  const to = join(bench.paths.dataFolder, "rebuilt");
  rmSync(to, { force: true });
  const faults = rebuildCopy(bench.paths.backupFolder, fileName, to);
  return faults.length > 0 ? faults : readFileSync(to);
}
const digest = (content: Buffer | string[]): string =>
  Buffer.isBuffer(content) ? createHash("sha256").update(content).digest("hex") : content.join();
async function expectAllAsTheyWere(): Promise<void> {
  const files = await list();
  for (const { fileName } of files) {
    const content = held.get(stemOf(fileName));
    if (content) expect(digest(rebuilt(fileName))).toBe(digest(content));
  }
}
const check = async (fileName: string) => bench.call("backups.check", { fileName });

it("the newest stays a bench file, the others hold what differs and come back byte for byte", async () => {
  await copies(8);
  const files = await list();
  expect(files.map(({ fileName }) => fileName.split(".").at(-1))).toEqual([
    "sqlite",
    ...Array.from({ length: 7 }, () => "condensed"),
  ]);
  await expectAllAsTheyWere();
  const whole = held.get(stemOf(files[0]?.fileName ?? ""))?.length ?? 0;
  const all = files.reduce((sum, { bytes }) => sum + bytes, 0);
  expect(all / whole).toBeLessThan(3);
  for (const [at, { fileName }] of files.entries()) {
    expect(await check(fileName)).toMatchObject({ fileName, rows: rows - at });
  }
});

it("a copy is found, looked into and restored under the name it had before", async () => {
  const [first = ""] = await copies(3);
  expect(names()).toContain(`${first}.condensed`);
  const fileName = `${first}.sqlite`;
  expect(await check(fileName)).toMatchObject({ rows: rows - 2 });
  await bench.call("backups.restore", { requestId: bench.request(), fileName, reason: "tried" });
  const page = await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 9 });
  expect(page.total).toBe(rows - 2);
  await expectAllAsTheyWere();
});

it("of one day one daily copy stays: what needed one that goes is kept from a newer one", async () => {
  for (let day = 3; day <= 20; day += 1) {
    for (const hour of ["08", "17"]) {
      bench.clock.set(`2026-03-${String(day).padStart(2, "0")}T${hour}:00:00.000Z`);
      rows += 1;
      await enterLength(bench, scene, `row-${rows}`, "40", "60");
      await bench.reopen();
      const [newest] = await list();
      if (newest) held.set(stemOf(newest.fileName), readFileSync(pathOf(newest.fileName)));
    }
  }
  const files = await list();
  expect(files).toHaveLength(14);
  expect(new Set(files.map(({ madeAt }) => madeAt.slice(0, 10))).size).toBe(14);
  expect(files.every(({ fileName }) => held.has(stemOf(fileName)))).toBe(true);
  expect(names()).toHaveLength(14);
  await expectAllAsTheyWere();
}, 120_000);

it("whole copies that an earlier program made are condensed with the next one, and held against what they were", async () => {
  await copies(5);
  for (const { fileName } of await list()) {
    const content = held.get(stemOf(fileName));
    rmSync(pathOf(fileName));
    if (content) writeFileSync(pathOf(`${stemOf(fileName)}.sqlite`), content);
  }
  expect(names().every((name) => name.endsWith(".sqlite"))).toBe(true);
  await copy();
  expect(names().filter((name) => name.endsWith(".sqlite"))).toHaveLength(1);
  await expectAllAsTheyWere();
});

it("verify reads a condensed copy where it lies and leaves nothing", async () => {
  const [first = ""] = await copies(2);
  const before = names();
  let text = "";
  const code = await verifyCommand([pathOf(`${first}.condensed`)], (more) => {
    text += more;
  });
  expect(text).toContain("All agrees.");
  expect(code).toBe(0);
  expect(names()).toEqual(before);
});

describe("damage to one file", () => {
  const refusal = async (fileName: string) => {
    const error = await bench.refusal("backups.check", { fileName });
    expect(error.code).toBe("backup.unusable");
    return error.message;
  };

  it("to the newest: those that need it name it, the one that stands alone is offered", async () => {
    const stems = await copies(4);
    const [first = "", second = "", third = "", newest = ""] = stems;
    const path = pathOf(`${newest}.sqlite`);
    const [bytes, before] = [readFileSync(path), held.get(third) ?? Buffer.alloc(0)];
    // A letter within a cell, which no look at its pages finds, on a page that the copy before it shares.
    const isShared = (at: number): boolean =>
      bytes
        .subarray(at - (at % 4096), at - (at % 4096) + 4096)
        .equals(before.subarray(at - (at % 4096), at - (at % 4096) + 4096));
    let at = bytes.indexOf("Stand A");
    while (at >= 0 && !isShared(at)) at = bytes.indexOf("Stand A", at + 1);
    bytes.write("Z", at);
    writeFileSync(path, bytes);
    expect(await refusal(`${third}.condensed`)).toMatch(
      new RegExp(`${newest}\\.sqlite does not hold what it held; the newest .* is ${second}|${first}`),
    );
    const offered = /the newest backup that does without it is (\S+\.condensed)/.exec(
      await refusal(`${third}.condensed`),
    )?.[1];
    expect(digest(rebuilt(offered ?? ""))).toBe(digest(held.get(stemOf(offered ?? "")) ?? []));
    // The next copy does not make the damage part of the others: it is told.
    await copy();
    expect(bench.program.notices.join()).toContain(`${newest}.sqlite does not hold what it held`);
    expect(names()).toContain(`${newest}.sqlite`);
  });

  it("to a condensed one: every one that needs it names it and none comes back otherwise", async () => {
    const stems = await copies(5);
    // From the oldest on: the first stands alone, the last is the newest.
    const damaged = stems[2] ?? "";
    const path = pathOf(`${damaged}.condensed`);
    const bytes = readFileSync(path);
    const size = statSync(path).size;
    bytes.fill(0x55, size - 3000, size - 1000);
    bytes.fill(0x55, 4096 * 2 + 2000, 4096 * 3);
    writeFileSync(path, bytes);
    for (const stem of stems) {
      const now = rebuilt(names().find((name) => name.startsWith(stem)) ?? "");
      if (Buffer.isBuffer(now)) expect(digest(now)).toBe(digest(held.get(stem) ?? []));
      else expect(now.join()).toContain(damaged);
    }
    expect(await refusal(`${damaged}.condensed`)).toContain(`${damaged}.condensed`);
  });

  it("a part that was taken away is named, and comes back with it", async () => {
    const [, , third = "", newest = ""] = await copies(4);
    const away = join(bench.paths.dataFolder, "elsewhere.sqlite");
    renameSync(pathOf(`${newest}.sqlite`), away);
    expect(await refusal(`${third}.condensed`)).toContain(`${newest}.sqlite is not there`);
    copyFileSync(away, pathOf(`${newest}.sqlite`));
    expect(await check(`${third}.condensed`)).toMatchObject({ rows: rows - 1 });
  });

  it("to the bench and the newest copy: the recovery offers the newest that can be rebuilt", async () => {
    const stems = await copies(3);
    await bench.program.close();
    for (const name of names().filter((one) => one.includes("daily"))) rmSync(pathOf(name));
    const content = held.get(stems[2] ?? "");
    rmSync(pathOf(`${stems[2]}.condensed`), { force: true });
    if (content) writeFileSync(pathOf(`${stems[2]}.sqlite`), content.subarray(0, 40_000));
    writeFileSync(bench.paths.databaseFile, readFileSync(bench.paths.databaseFile).subarray(0, 30_000));
    const options = {
      paths: bench.paths,
      clock: fixedClock("2026-04-01T09:00:00.000Z"),
      ids: countedIds("later"),
      host: "loopback",
      programVersion: "0.0.0-test",
    } as const;
    const trouble = await assemble(options).catch((error: unknown) => error);
    if (!(trouble instanceof BenchUnopenable)) throw new Error(String(trouble));
    const [offer] = trouble.offers;
    expect(offer).toMatchObject({ kind: "restore", fileName: expect.stringContaining(".condensed") });
    if (!offer) throw new Error("no offer");
    await recoverBench(options, offer);
    await bench.reopen();
    const page = await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 1 });
    expect([1, 2].map((less) => rows - less)).toContain(page.total);
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  });
});
