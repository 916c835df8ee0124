import { execFile } from "node:child_process";
import {
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { writeWorkbook } from "#main/workbook/sheet-book/workbook.ts";
import { writeFileWhole } from "#main/workbook/spreadsheet/write-file.ts";
import { checkZip } from "#main/workbook/spreadsheet/zip-check.ts";
import { bundleOf } from "./example-bundle.ts";

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "linefall-write-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const nothing = async (): Promise<void> => {};

describe("writing a file whole", () => {
  it("keeps the earlier file and leaves nothing behind when the writer fails half-way", async () => {
    const path = join(folder, "book.xlsx");
    writeFileSync(path, "earlier");
    const failing = writeFileWhole(
      path,
      async (stream) => {
        stream.write("half");
        throw new Error("the row could not be read");
      },
      nothing,
    );
    await expect(failing).rejects.toThrow("the row could not be read");
    expect(readFileSync(path, "utf8")).toBe("earlier");
    expect(readdirSync(folder)).toEqual(["book.xlsx"]);
  });

  it("keeps the earlier file when what was written does not read back", async () => {
    const path = join(folder, "book.xlsx");
    writeFileSync(path, "earlier");
    const failing = writeFileWhole(
      path,
      async (stream) => {
        stream.end("new");
      },
      async () => {
        throw new Error("does not agree");
      },
    );
    await expect(failing).rejects.toThrow("does not agree");
    expect(readFileSync(path, "utf8")).toBe("earlier");
    expect(readdirSync(folder)).toEqual(["book.xlsx"]);
  });

  it("fails with the reason of the file system instead of waiting for ever", async () => {
    const path = join(folder, "book.xlsx");
    const failing = writeFileWhole(
      path,
      (stream) =>
        new Promise<void>(() => {
          // A writer that waits for a drain that never comes, as on a full disk.
          stream.destroy(Object.assign(new Error("no space left on device"), { code: "ENOSPC" }));
        }),
      nothing,
    );
    await expect(failing).rejects.toMatchObject({ code: "ENOSPC" });
    expect(readdirSync(folder)).toEqual([]);
  });

  it("leaves an earlier workbook untouched when the rows cannot be walked to their end", async () => {
    const path = join(folder, "book.xlsx");
    const bundle = bundleOf({ rows: [{ label: "a", readings: { d: ["1", "20", "cal10"] } }] });
    await writeWorkbook(bundle, "live", path);
    const earlier = readFileSync(path);
    let walks = 0;
    const broken = {
      ...bundle,
      rows: function* () {
        walks += 1;
        yield* bundle.rows();
        if (walks > 1) throw new Error("the database went away");
      },
    };
    await expect(writeWorkbook(broken, "live", path)).rejects.toThrow("the database went away");
    expect(readFileSync(path).equals(earlier)).toBe(true);
    expect(readdirSync(folder)).toEqual(["book.xlsx"]);
  });

  it("leaves an earlier workbook untouched when the process is killed while writing", async () => {
    const path = join(folder, "book.xlsx");
    await writeWorkbook(
      bundleOf({ rows: [{ label: "a", readings: { d: ["1", "20", "cal10"] } }] }),
      "live",
      path,
    );
    const earlier = readFileSync(path);
    const child = execFile(process.execPath, [
      fileURLToPath(new URL("endless-export.ts", import.meta.url)),
      path,
    ]);
    const began = (): boolean => readdirSync(folder).some((name) => name.endsWith(".part"));
    for (let i = 0; i < 400 && !began(); i++) await setTimeout(25);
    expect(began()).toBe(true);
    const ended = new Promise((resolve) => child.once("exit", resolve));
    child.kill("SIGKILL");
    await ended;
    expect(readFileSync(path).equals(earlier)).toBe(true);
    await checkZip(path, "<row ");
  });
});

describe("reading a written workbook back", () => {
  it("refuses a file that was cut off and one with a changed byte", async () => {
    const path = join(folder, "book.xlsx");
    await writeWorkbook(
      bundleOf({ rows: [{ label: "a", readings: { d: ["1", "20", "cal10"] } }] }),
      "live",
      path,
    );
    const whole = readFileSync(path);
    const changed = Buffer.from(whole);
    const place = whole.indexOf("xl/worksheets/sheet2.xml") + 60;
    changed[place] = (changed[place] ?? 0) ^ 0xff;
    writeFileSync(path, changed);
    await expect(checkZip(path, "<row ")).rejects.toThrow();
    writeFileSync(path, whole);
    truncateSync(path, whole.length - 100);
    await expect(checkZip(path, "<row ")).rejects.toThrow(/cut off|shorter/);
    expect(existsSync(path)).toBe(true);
  });
});
