import { chmodSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { lackOf, NEEDS, type Need } from "../../support/needs.ts";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "linefall-needs-"));
});
afterEach(() => {
  vi.unstubAllEnvs();
  rmSync(folder, { recursive: true });
});

function need(start: string): Need {
  const found = NEEDS.find(({ what }) => what.startsWith(start));
  if (found === undefined) throw new Error(`no need called ${start}`);
  return found;
}

/** Puts a program first in PATH that tells its version, ends well whatever it is asked, and does nothing. */
function idleProgram(name: string): void {
  const path = join(folder, name);
  writeFileSync(path, "#!/bin/sh\necho 1.0\n");
  chmodSync(path, 0o755);
  vi.stubEnv("PATH", `${folder}${delimiter}${process.env.PATH}`);
}

describe.skipIf(process.platform === "win32")("what the tests need beyond npm", () => {
  it("is there when its work comes out right", async () => {
    expect(await lackOf(need("pdftotext"))).toBeNull();
    expect(await lackOf(need("openpyxl"))).toBeNull();
  });

  it("is missing when a program only tells its version", async () => {
    idleProgram("soffice");
    expect(await lackOf(need("LibreOffice"))).toMatch(/tryout-Rows\.csv/);
    idleProgram("pdftotext");
    expect(await lackOf(need("pdftotext"))).toBe(
      'asked for the text of a page it gave "1.0" instead of "fortytwo"',
    );
    idleProgram("chrome");
    vi.stubEnv("LINEFALL_TEST_BROWSER", join(folder, "chrome"));
    expect(await lackOf(need("Chromium"))).not.toBeNull();
  });

  it("is missing when openpyxl is there but cannot read pictures, for want of Pillow", async () => {
    mkdirSync(join(folder, "PIL"));
    writeFileSync(join(folder, "PIL", "__init__.py"), "raise ImportError('no Pillow here')\n");
    vi.stubEnv("PYTHONPATH", folder);
    expect(await lackOf(need("openpyxl"))).toContain("install Pillow");
  });
});
