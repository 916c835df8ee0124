import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { ATTACHMENT_PART_BYTES, LARGEST_ATTACHMENT_BYTES } from "#core/contract/records/attachment.ts";
import { BODY_LIMIT } from "#main/loopback/json-body.ts";
import { buildScene, type Scene } from "../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { attach, PNG } from "../../support/traceability-scenes.ts";

// Hundreds of entries, each on disk before it is acknowledged: a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 120_000 });

let bench: TempBench;
let scene: Scene;
const subject = () => ({ kind: "certificate" as const, id: scene.certificate.id });
const folder = () => join(bench.paths.dataFolder, "attachments");
const files = () => (existsSync(folder()) ? readdirSync(folder()) : []);

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

/** A PDF of some size, made of its first line and filling. */
const pdf = (bytes: number) => Buffer.concat([Buffer.from("%PDF-1.7\n"), Buffer.alloc(bytes, 0x20)]);

async function readBack(attachmentId: string): Promise<Buffer> {
  const parts: Buffer[] = [];
  for (let from: number | null = 0; from !== null; ) {
    const part: { base64: string; next: number | null } = await bench.call("attachments.read", {
      attachmentId,
      from,
    });
    parts.push(Buffer.from(part.base64, "base64"));
    from = part.next;
  }
  return Buffer.concat(parts);
}

it("a scan of several parts comes back byte by byte, kept once under its SHA-256", async () => {
  const content = pdf(ATTACHMENT_PART_BYTES * 2 + 17);
  const one = await attach(bench, subject(), content, "certificate.pdf");
  const other = await attach(
    bench,
    { kind: "stage micrometer", id: scene.micrometer.id },
    content,
    "again.pdf",
  );
  expect(one).toMatchObject({ mediaType: "application/pdf", bytes: content.length });
  expect(files()).toEqual([one.sha256]);
  expect((await readBack(other.id)).equals(content)).toBe(true);
  expect(await bench.call("attachments.list", { subject: subject() })).toEqual([one]);
  expect(await bench.call("trail.verify", {})).toMatchObject({ attachments: 2, differences: [] });
  const exported = await bench.call("attachments.export", { attachmentId: one.id });
  expect(readFileSync(exported?.path ?? "").equals(content)).toBe(true);
});

it("a part fits into the largest request of the loopback host", () => {
  expect(Math.ceil(ATTACHMENT_PART_BYTES / 3) * 4 + 500).toBeLessThan(BODY_LIMIT);
});

describe("what is no scan or photograph is not kept", () => {
  it.each([
    ["a program named as a picture", Buffer.from("MZ\u0090\u0000 this is no picture"), "scan.png"],
    ["a page with a script", Buffer.from("<html><script>1</script>"), "scan.pdf"],
    ["a picture of another kind", Buffer.from("GIF89a......"), "scan.gif"],
  ])("%s", async (_, content, fileName) => {
    const { uploadId } = await bench.call("attachments.begin", {
      attachment: { subject: subject(), fileName, bytes: content.length, caption: "" },
    });
    await bench.call("attachments.part", { uploadId, index: 0, base64: content.toString("base64") });
    const error = await bench.refusal("attachments.finish", { requestId: bench.request(), uploadId });
    expect(error).toMatchObject({ code: "attachment.type" });
    expect(files()).toEqual([]);
    expect(await bench.call("attachments.list", { subject: null })).toEqual([]);
  });

  it("what is too large, for nothing, or not whole", async () => {
    const begin = (change: object) => ({
      attachment: { subject: subject(), fileName: "a.png", bytes: PNG.length, caption: "", ...change },
    });
    const tooLarge = await bench.refusal("attachments.begin", begin({ bytes: LARGEST_ATTACHMENT_BYTES + 1 }));
    expect(tooLarge).toMatchObject({ field: "attachment.bytes" });
    expect(tooLarge.message).toContain("20 MB");
    const nowhere = begin({ subject: { kind: "microscope", id: "none" } });
    expect(await bench.refusal("attachments.begin", nowhere)).toMatchObject({ code: "subject.unknown" });
    const { uploadId } = await bench.call("attachments.begin", begin({ bytes: PNG.length + 1 }) as never);
    const part = { uploadId, index: 0, base64: PNG.toString("base64") };
    await bench.call("attachments.part", part);
    expect(await bench.call("attachments.part", part)).toEqual({ received: PNG.length });
    const skipped = { ...part, index: 5 };
    expect(await bench.refusal("attachments.part", skipped)).toMatchObject({ code: "upload.out-of-order" });
    const more = { ...part, index: 1 };
    expect(await bench.refusal("attachments.part", more)).toMatchObject({ code: "upload.too-long" });
    const finish = { requestId: bench.request(), uploadId };
    expect(await bench.refusal("attachments.finish", finish)).toMatchObject({ code: "upload.incomplete" });
    expect(files()).toEqual([]);
  });
});

it("a missing or changed file is found by verify, and never given out for the one attached", async () => {
  const { id, sha256 } = await attach(bench, subject(), PNG);
  const place = join(folder(), sha256);
  writeFileSync(place, Buffer.concat([PNG, Buffer.from("!")]));
  expect(await bench.refusal("attachments.read", { attachmentId: id, from: 0 })).toMatchObject({
    code: "attachment.damaged",
  });
  rmSync(place);
  const error = await bench.refusal("attachments.read", { attachmentId: id, from: 0 });
  expect(error).toMatchObject({ code: "attachment.missing" });
  expect(error.hint).toContain("Attach the file again");
  const { differences } = await bench.call("trail.verify", {});
  expect(differences).toMatchObject([{ stored: "missing attachment", expected: sha256 }]);
  await attach(bench, subject(), PNG);
  expect((await bench.call("trail.verify", {})).differences).toEqual([]);
});

it("an attachment of the wrong item is withdrawn with its reason and stays to be read", async () => {
  const { id } = await attach(bench, subject(), PNG);
  const withdraw = () => ({ requestId: bench.request(), attachmentId: id, reason: "belongs to SM 2" });
  await bench.call("attachments.withdraw", withdraw());
  expect(await bench.refusal("attachments.withdraw", withdraw())).toMatchObject({
    code: "attachment.withdrawn",
  });
  expect(await bench.call("attachments.list", { subject: null })).toMatchObject([
    { id, withdrawn: { reason: "belongs to SM 2" } },
  ]);
  expect((await readBack(id)).equals(PNG)).toBe(true);
});
