import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { notedHeads } from "#main/exchange/noted-heads.ts";
import { verifyCommand } from "#main/launch/verify-command.ts";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { everyExport } from "../../support/every-export.ts";
import { workbookOf } from "../../support/finished-export.ts";
import { rewriteTrail } from "../../support/rewritten-trail.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { uploadFile } from "./upload.ts";

vi.setConfig({ testTimeout: 60_000, hookTimeout: 60_000 });

let bench: TempBench;
let scene: Scene;
let elsewhere: string;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
  elsewhere = mkdtempSync(join(tmpdir(), "linefall-elsewhere-"));
});
afterEach(async () => {
  rmSync(elsewhere, { recursive: true });
  await bench.end();
});

async function verify(...parameters: string[]): Promise<{ code: number; text: string }> {
  let text = "";
  const code = await verifyCommand([bench.paths.databaseFile, ...parameters], (more) => {
    text += more;
  });
  return { code, text };
}

const headNow = async () => (await bench.call("trail.head", {})) ?? "";

const NONE_SIGNED = { agreeing: 0, keys: [], wrong: [], unknown: [] };

describe("every export and report", () => {
  it("is held against the trail in the window, as text that was kept", async () => {
    const kept = await headNow();
    const last = Number(kept.split(":")[0]);
    await enterLength(bench, scene, "row-2", "41", "61");
    const noted = `From the foot of a report: Audit trail up to ${kept}\nand from a copy ${kept.slice(0, kept.indexOf(":") + 17)}`;
    expect(await bench.call("trail.compareHeads", { noted })).toEqual({
      compared: 2,
      agreesUpTo: last,
      differing: [],
      signatures: NONE_SIGNED,
    });
    const other = { sequence: last + 1, hash: "0123456789abcdef" };
    const beyond = { sequence: last + 1000, hash: kept.slice(-64) };
    const text = [kept, beyond, other].map((one) =>
      typeof one === "string" ? one : `${one.sequence}:${one.hash}`,
    );
    expect(await bench.call("trail.compareHeads", { noted: text.join(" ") })).toEqual({
      compared: 3,
      agreesUpTo: last,
      differing: [other, beyond],
      signatures: NONE_SIGNED,
    });
    await expect(bench.call("trail.compareHeads", { noted: "412" })).rejects.toThrow(
      /no line of the trail with its hash/,
    );
  });

  it("names the line and hash up to which the trail went; a count's table only once it has a field", async () => {
    for (const { path, head } of await everyExport(bench, scene, elsewhere)) {
      const { heads, unread } = await notedHeads(path);
      expect(unread).toEqual([]);
      const found = heads.map((one) => `${one.sequence}:${one.hash}`);
      expect(found, path).toEqual(readFileSync(path, "utf8").split("\n").length < 3 ? [] : [head]);
    }
    expect((await bench.call("reports.sheet", { sheetId: scene.sheet.id })).trailHead).toBe(await headNow());
    const letter = await bench.call("trace.letter", {
      subject: { kind: "certificate", id: scene.certificate.id },
      from: null,
      to: null,
      replacement: null,
    });
    expect(letter.text).toContain(`Audit trail up to ${await headNow()}`);
  });

  it("gives away a history that was written anew, whichever of them was kept", async () => {
    const kept = await everyExport(bench, scene, elsewhere);
    const last = Number((await headNow()).split(":")[0]);
    await enterLength(bench, scene, "row-2", "41", "61");
    const same = await verify("--heads", elsewhere);
    expect(same.text).toContain(`History up to line ${last} is the one that was noted elsewhere.`);
    expect(same.code).toBe(0);
    await bench.program.close();
    rewriteTrail(bench.paths.databaseFile, 3);
    for (const { path } of kept) {
      if ((await notedHeads(path)).heads.length === 0) continue;
      const { code, text } = await verify("--heads", path);
      expect(code, path).toBe(1);
      expect(text).toContain(`${path} knows it with the hash`);
    }
    const all = await verify("--heads", elsewhere);
    expect(all.text).toMatch(/History was written anew somewhere from line 1 to line \d+\./);
    await bench.reopen();
  });
});

describe("the anchor file beside the bench", () => {
  const anchor = () => join(bench.paths.dataFolder, "trail-heads.txt");
  const noted = async () => (await notedHeads(anchor())).heads.map((one) => `${one.sequence}:${one.hash}`);

  it("notes the head with every backup and at every closing, once each, and is the person's alone", async () => {
    const atBackup = await headNow();
    await bench.call("backups.make", { requestId: bench.request() });
    expect(await noted()).toEqual([atBackup]);
    if (process.platform !== "win32") expect(statSync(anchor()).mode & 0o777).toBe(0o600);
    await enterLength(bench, scene, "row-2", "41", "61");
    const atClose = await headNow();
    await bench.reopen();
    await bench.reopen();
    expect(await noted()).toEqual([atBackup, atClose]);
  });

  it("is refused when it is not there, and what cannot be read is said", async () => {
    expect(await verify("--heads", join(elsewhere, "nowhere"))).toMatchObject({
      code: 2,
      text: expect.stringContaining("could not be read"),
    });
    writeFileSync(join(elsewhere, "broken.xlsx"), "no workbook");
    const { code, text } = await verify("--heads", elsewhere);
    expect(code).toBe(0);
    expect(text).toContain("Not looked at for heads");
  });
});

describe("a workbook held against the bench", () => {
  const check = async (path: string) =>
    bench.call("exchange.check", { uploadId: await uploadFile(bench, path) });
  const exported = async () => (await workbookOf(bench, scene.sheet.id, "values"))?.path ?? "";

  it("is unchanged although the trail has gone on, and the sheet was closed since", async () => {
    const path = await exported();
    bench.clock.set("2026-03-02T10:00:00.000Z");
    await bench.call("sheets.close", { requestId: bench.request(), sheetId: scene.sheet.id, words: "" });
    expect(await check(path)).toMatchObject({ verdict: "unchanged" });
    // Nor does the one made after the closing say otherwise, which names who closed it.
    expect(await check(await exported())).toMatchObject({ verdict: "unchanged" });
  });

  it("differs where the line that it names has another hash on the bench", async () => {
    const path = await exported();
    await bench.program.close();
    rewriteTrail(bench.paths.databaseFile, 3);
    await bench.reopen();
    expect(await check(path)).toMatchObject({ verdict: "changed", differing: 1 });
  });
});
