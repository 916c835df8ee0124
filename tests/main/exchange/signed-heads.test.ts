import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { signedHeadsInText, UNSIGNED } from "#core/contract/records/trail-signature.ts";
import { notedHeads } from "#main/exchange/noted-heads.ts";
import { openWorkbookFile } from "#main/exchange/workbook-file.ts";
import { verifyCommand } from "#main/launch/verify-command.ts";
import type { HeadSigner } from "#main/ports/head-signer.ts";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { everyExport } from "../../support/every-export.ts";
import { workbookOf } from "../../support/finished-export.ts";
import { headSignerInMemory } from "../../support/head-signer-in-memory.ts";
import { rewriteLines, rewriteTrail } from "../../support/rewritten-trail.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { editedCopy } from "../../workbook/other-programs.ts";
import { uploadFile } from "./upload.ts";

let bench: TempBench;
let scene: Scene;
/** What the host's keychain does now; changed by a test. */
let signer: HeadSigner;

beforeEach(async () => {
  signer = headSignerInMemory();
  const headSigner: HeadSigner = {
    state: () => signer.state(),
    present: () => signer.present(),
    make: () => signer.make(),
    sign: (key, text) => signer.sign(key, text),
  };
  bench = await tempBench({ headSigner });
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

const change = (on: boolean) => bench.call("trail.changeSigning", { requestId: bench.request(), on });
const anchor = (): string => join(bench.paths.dataFolder, "trail-heads.txt");
const noted = (): string => readFileSync(anchor(), "utf8");
const compared = async (text: string) => (await bench.call("trail.compareHeads", { noted: text })).signatures;

async function verify(...parameters: string[]): Promise<{ code: number; text: string }> {
  let text = "";
  const code = await verifyCommand([bench.paths.databaseFile, ...parameters], (more) => {
    text += more;
  });
  return { code, text };
}

describe("heads of the trail", () => {
  it("are not signed until somebody chooses it, which the trail tells once, with the key", async () => {
    await bench.call("backups.make", { requestId: bench.request() });
    expect(noted()).not.toContain(" signed ");
    expect(await bench.call("trail.signing", {})).toEqual({
      keychain: "available",
      key: null,
      isHere: false,
    });
    const on = await change(true);
    expect(on).toMatchObject({ keychain: "available", isHere: true });
    expect(on.key?.fingerprint).toMatch(/^[0-9a-f]{16}$/);
    const head = await bench.call("trail.head", {});
    expect(await change(true)).toEqual(on);
    expect(await bench.call("trail.head", {})).toBe(head);
    expect(on.key?.line).toBe(Number(head?.split(":")[0]));
  });

  it("are signed in the file beside the bench, at backups, closing and in the copy to keep, and agree", async () => {
    await change(true);
    await bench.call("backups.make", { requestId: bench.request() });
    await enterLength(bench, scene, "row-1", "23.0", "51.5");
    const saved = await bench.call("trail.saveHeads", {});
    await bench.reopen();
    expect(signedHeadsInText(noted())).toHaveLength(2);
    expect(signedHeadsInText(readFileSync(saved?.path ?? "", "utf8"))).toHaveLength(2);
    const key = (await bench.call("trail.signing", {})).key;
    expect(await compared(noted())).toEqual({
      agreeing: 2,
      keys: [{ fingerprint: key?.fingerprint, line: key?.line }],
      wrong: [],
      unknown: [],
    });
    const { code, text } = await verify("--heads", anchor());
    expect(code).toBe(0);
    expect(text).toContain(`2 signatures agree; made with ${key?.fingerprint} (line ${key?.line})`);
    expect(text).toContain("is the one that was noted elsewhere");
  });

  it("whose line, hash, instant or signature was changed are named", async () => {
    await change(true);
    await bench.call("backups.make", { requestId: bench.request() });
    const [signed] = signedHeadsInText(noted());
    const line =
      noted()
        .split("\n")
        .find((one) => one.includes(" signed ")) ?? "";
    const sequence = Number(signed?.head.split(":")[0]);
    const other = (text: string): string => (text.startsWith("A") ? "B" : "A") + text.slice(1);
    for (const forged of [
      line.replace(signed?.at ?? "", "2025-01-01T00:00:00.000Z"),
      line.replace(signed?.signature ?? "", other(signed?.signature ?? "")),
      line.replace(/:[0-9a-f]/, (found) => (found === ":0" ? ":1" : ":0")),
    ]) {
      expect(forged).not.toBe(line);
      expect(await compared(forged)).toMatchObject({ agreeing: 0, wrong: [{ sequence }], unknown: [] });
    }
    writeFileSync(anchor(), line.replace(signed?.at ?? "", "2025-01-01T00:00:00.000Z"));
    const { code, text } = await verify("--heads", anchor());
    expect(code).toBe(1);
    expect(text).toContain(`DIFFERS  head of line ${sequence}: its signature was not made over it`);
  });

  it("of a history that was written anew are given away, with another key named or without", async () => {
    await change(true);
    await bench.call("backups.make", { requestId: bench.request() });
    const kept = noted();
    await bench.program.close();
    rewriteTrail(bench.paths.databaseFile, 3);
    await bench.reopen();
    // The key stands still; the heads are others.
    expect((await bench.call("trail.compareHeads", { noted: kept })).differing).not.toEqual([]);
    await bench.program.close();
    const publicKey = await headSignerInMemory().make();
    rewriteLines(bench.paths.databaseFile, (line) =>
      line.act === "trail.changeSigning" ? { ...line, detail: JSON.stringify({ publicKey }) } : line,
    );
    await bench.reopen();
    expect((await compared(kept)).unknown).toHaveLength(1);
    writeFileSync(anchor(), kept);
    const { code, text } = await verify("--heads", anchor());
    expect(code).toBe(1);
    expect(text).toContain("which this trail does not name");
  });

  it("signed with earlier keys agree as well, after another computer has its own or signing has ended", async () => {
    const first = (await change(true)).key;
    await bench.call("backups.make", { requestId: bench.request() });
    const early = noted();
    signer = headSignerInMemory();
    expect(await bench.call("trail.signing", {})).toMatchObject({ isHere: false, key: first });
    await enterLength(bench, scene, "row-1", "23.0", "51.5");
    await bench.call("backups.make", { requestId: bench.request() });
    // The key is not here: the newest head is noted all the same.
    expect(signedHeadsInText(noted())).toHaveLength(1);
    const second = (await change(true)).key;
    expect(second?.fingerprint).not.toBe(first?.fingerprint);
    await bench.call("backups.make", { requestId: bench.request() });
    expect((await compared(noted())).keys.map(({ fingerprint }) => fingerprint)).toEqual([
      first?.fingerprint,
      second?.fingerprint,
    ]);
    expect(await change(false)).toMatchObject({ key: null });
    await enterLength(bench, scene, "row-2", "23.0", "51.5");
    await bench.call("backups.make", { requestId: bench.request() });
    expect(noted().trim().split("\n").at(-1)).not.toContain(" signed ");
    expect(await compared(early)).toMatchObject({ agreeing: 1, wrong: [], unknown: [] });
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  });

  it("are noted unsigned where the keychain does not answer, and nothing waits long for it", async () => {
    await change(true);
    signer = { ...signer, sign: () => new Promise(() => undefined) };
    const before = performance.now();
    await bench.call("backups.make", { requestId: bench.request() });
    expect(performance.now() - before).toBeLessThan(15_000);
    expect(noted()).not.toContain(" signed ");
    expect(noted()).toContain(String(await bench.call("trail.head", {})));
    signer = headSignerInMemory();
  });
});

describe("what is exported", () => {
  let elsewhere: string;
  beforeEach(async () => {
    await calibrateTrain(bench, scene);
    elsewhere = mkdtempSync(join(tmpdir(), "linefall-elsewhere-"));
  });
  afterEach(() => rmSync(elsewhere, { recursive: true }));

  const reported = async () => (await bench.call("reports.sheet", { sheetId: scene.sheet.id })).headSigned;
  const workbook = async () => (await workbookOf(bench, scene.sheet.id, "values"))?.path ?? "";
  const check = async (path: string) =>
    bench.call("exchange.check", { uploadId: await uploadFile(bench, path) });

  it("bears the signature of its head in every workbook, JSON file and report, and all of them agree", async () => {
    await change(true);
    await enterLength(bench, scene, "row-1", "23.0", "51.5");
    const all = await everyExport(bench, scene, elsewhere);
    const bearing = all.filter(({ path }) => /\.(xlsx|json|txt)$/.test(path));
    expect(bearing).toHaveLength(9);
    for (const { path, head } of bearing) {
      const { heads, signed } = await notedHeads(path);
      expect(heads, path).toHaveLength(1);
      expect(
        signed.map((one) => one.head),
        path,
      ).toEqual([head]);
    }
    const { code, text } = await verify("--heads", elsewhere);
    expect(text).toContain("9 signatures agree");
    expect(code).toBe(0);
    expect(await compared((await reported()) ?? "")).toMatchObject({ agreeing: 1, wrong: [], unknown: [] });
  });

  it("gives a changed signature away, in the window and from outside", async () => {
    await change(true);
    const path = await workbook();
    const book = await openWorkbookFile(path);
    let place = "";
    for await (const cells of book.cells("About")) {
      for (const { row, value } of cells) if (String(value).includes(" signed ")) place = `A${row}`;
    }
    await book.close();
    expect(await check(path)).toMatchObject({ verdict: "unchanged" });
    expect(await check(editedCopy(path, "About", place, 7))).toMatchObject({
      differing: 1,
      differences: [{ worksheet: "About", cell: place }],
    });
    // With the key gone from this computer the signature still holds.
    signer = headSignerInMemory();
    expect(await check(path)).toMatchObject({ verdict: "unchanged" });
    const begun = (await everyExport(bench, scene, elsewhere)).find((one) => one.path.endsWith(".json"));
    expect(readFileSync(begun?.path ?? "", "utf8")).toContain(UNSIGNED.notOpened);
  });

  it("says in words when no key stands, and when the key does not open", async () => {
    expect(await reported()).toBe(UNSIGNED.noKey);
    expect(await check(await workbook())).toMatchObject({ verdict: "unchanged" });
    await change(true);
    expect(signedHeadsInText((await reported()) ?? "")).toHaveLength(1);
    signer = { ...signer, sign: async () => null };
    expect(await reported()).toBe(UNSIGNED.notOpened);
    await change(false);
    expect(await reported()).toBe(UNSIGNED.noKey);
  });
});

describe("a host without a keychain", () => {
  it("says so, and refuses to begin", async () => {
    const other = await tempBench();
    await buildScene(other);
    expect(await other.call("trail.signing", {})).toEqual({ keychain: "browser", key: null, isHere: false });
    expect(
      await other.refusal("trail.changeSigning", { requestId: other.request(), on: true }),
    ).toMatchObject({ code: "keychain.unavailable" });
    expect(await other.call("trail.changeSigning", { requestId: other.request(), on: false })).toMatchObject({
      key: null,
    });
    await other.end();
  });
});
