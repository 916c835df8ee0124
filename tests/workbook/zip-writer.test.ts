import { createHash, randomBytes } from "node:crypto";
import { createWriteStream, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Writable } from "node:stream";
import { setImmediate } from "node:timers/promises";
import { afterAll, describe, expect, it } from "vitest";
import { checkZip } from "#main/workbook/spreadsheet/zip-check.ts";
import { ZipWriter } from "#main/workbook/spreadsheet/zip-writer.ts";
import { zipPartsOf } from "./other-programs.ts";

const AT = new Date("2026-03-03T10:20:30.000Z");
const folder = mkdtempSync(join(tmpdir(), "linefall-zip-"));
afterAll(() => rmSync(folder, { recursive: true }));

async function packed(name: string, fill: (zip: ZipWriter) => void): Promise<string> {
  const path = join(folder, name);
  const out = createWriteStream(path);
  const closed = new Promise<void>((resolve) => out.once("close", () => resolve()));
  const zip = new ZipWriter(out, AT);
  fill(zip);
  await zip.finish();
  await closed;
  return path;
}

const sha256 = (data: Buffer | string) => createHash("sha256").update(data).digest("hex");

describe("packing parts into a file", () => {
  it("gives a file in which another program finds every part, in the order they were begun", async () => {
    const noise = randomBytes(300_000);
    const lines = Array.from({ length: 40_000 }, (_, at) => `<row r="${at + 1}">µ ≤ 40</row>`);
    const path = await packed("parts.zip", (zip) => {
      const sheet = zip.open("/xl/worksheets/sheet1.xml");
      // Begun and ended while the part before is still being written, as a sheet's relations are.
      zip.add("xl/größe.xml", "ä");
      zip.add("empty", "");
      for (const line of lines) sheet.write(line);
      sheet.end();
      zip.add("xl/media/image0.png", noise);
    });
    const stamp = [2026, 3, 3, 10, 20, 30];
    expect(zipPartsOf(path)).toEqual([
      ["xl/worksheets/sheet1.xml", stamp, sha256(lines.join(""))],
      ["xl/größe.xml", stamp, sha256("ä")],
      ["empty", stamp, sha256("")],
      ["xl/media/image0.png", stamp, sha256(noise)],
    ]);
    expect((await checkZip(path, "<row ")).map(({ hits }) => hits)).toEqual([40_000, 0, 0, 0]);
  });

  it("gives the same bytes for the same parts", async () => {
    const files = await Promise.all(
      ["one.zip", "two.zip"].map((name) => packed(name, (zip) => zip.add("part", "text".repeat(99_999)))),
    );
    const [one, two] = files.map((file) => readFileSync(file));
    expect(one).toEqual(two);
  });

  it("says when the disk is behind, and goes on when it has caught up", async () => {
    let taken: () => void = () => undefined;
    const release = () => {
      const done = taken;
      taken = () => undefined;
      done();
    };
    const slow = new Writable({
      highWaterMark: 1,
      write(_bytes, _encoding, done) {
        taken = done;
      },
    });
    const part = new ZipWriter(slow, AT).open("part");
    part.write(randomBytes(1_000_000));
    part.write(randomBytes(1_000_000));
    expect(part.isFull).toBe(true);
    let room = false;
    void part.roomAgain().then(() => {
      room = true;
    });
    for (let turn = 0; turn < 20; turn += 1) await setImmediate();
    expect(room).toBe(false);
    const going = setInterval(release, 0);
    await expect.poll(() => room).toBe(true);
    clearInterval(going);
    expect(part.isFull).toBe(false);
  });

  it("passes on what the disk says when it is full", async () => {
    const full = new Writable({ write: (_bytes, _encoding, done) => done(new Error("no space left")) });
    full.on("error", () => {});
    const zip = new ZipWriter(full, AT);
    zip.add("part", randomBytes(500_000));
    await expect(zip.finish()).rejects.toThrow("no space left");
  });
});
