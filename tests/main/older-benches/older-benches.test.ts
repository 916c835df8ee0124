import { cpSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { gunzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { SheetDocument } from "#core/contract/records/sheet-document.ts";
import { assemble } from "#main/assemble.ts";
import type { Program } from "#main/program.ts";
import { countedIds, fixedClock } from "../../support/fixed-clock.ts";
import { type TempFolder, tempBench, tempFolder } from "../../support/temp-bench.ts";
import { callOn, exportJson } from "../exchange/exported.ts";
import { uploadBytes } from "../exchange/upload.ts";

vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

/**
 * A bench as version 0.1.0 of the program left it, with every kind of act in its trail, and the JSON files of its two
 * sheets as that version wrote them. Invented. Among its calibrations are one of a single setting and one that repeats
 * the same lines, by the mean of ratios with k = 2.
 */
const FOLDER = fileURLToPath(new URL("0.1.0", import.meta.url));
const unpacked = (name: string): Buffer => gunzipSync(readFileSync(join(FOLDER, `${name}.gz`)));
const documents = ["sheet-1.json", "sheet-2.json"].map((name) => unpacked(name));
const parsed = documents.map((text) => SheetDocument.parse(JSON.parse(text.toString("utf8"))));

function fingerprints({ sheets }: SheetDocument): object[] {
  return sheets.map(({ sheet, dataSha256, historySha256 }) => ({ id: sheet.id, dataSha256, historySha256 }));
}

describe("a bench of version 0.1.0", () => {
  let folder: TempFolder;
  let program: Program;

  beforeAll(async () => {
    folder = tempFolder();
    mkdirSync(folder.paths.dataFolder, { recursive: true });
    writeFileSync(folder.paths.databaseFile, unpacked("bench.sqlite"));
    cpSync(join(FOLDER, "attachments"), join(folder.paths.dataFolder, "attachments"), { recursive: true });
    const clock = fixedClock("2027-06-01T08:00:00.000Z");
    const ids = countedIds("later");
    program = await assemble({
      paths: folder.paths,
      clock,
      ids,
      host: "loopback",
      programVersion: "0.0.0-test",
    });
  });
  afterAll(async () => {
    await program.close();
    folder.remove();
  });

  it("opens, and verify finds every result and every line of its trail as it was", async () => {
    const report = await callOn(program)("trail.verify", {});
    expect(report.differences).toEqual([]);
    expect(report).toMatchObject({ measurements: 9, calibrations: 7, signOffs: 3, supersededResults: 7 });
    expect(report.trailLines).toBeGreaterThanOrEqual(112);
  });

  it("exports its sheets under the fingerprints that its own version gave them", async () => {
    for (const before of parsed) {
      const ids = before.sheets.map(({ sheet }) => sheet.id);
      const text = await exportJson({ call: callOn(program) }, ids);
      const now = SheetDocument.parse(JSON.parse(text));
      expect(fingerprints(now)).toEqual(fingerprints(before));
    }
  });

  it("keeps every calibration as it was put in force", async () => {
    const call = callOn(program);
    const factors: string[] = [];
    for (const trainId of new Set(parsed.flatMap(({ sheets }) => sheets.flatMap((one) => trainsOf(one))))) {
      for (const { id } of await call("calibrations.list", { trainId })) {
        const record = await call("calibrations.get", { calibrationId: id });
        factors.push(`${record.state}: ${record.result?.shownFactor} ± ${record.result?.shownUncertainty}`);
      }
    }
    expect(factors).toMatchInlineSnapshot(`
      [
        "in force: 10.415 ± 0.024",
        "superseded: 10.141 ± 0.023",
        "superseded: 10.101 ± 0.023",
        "superseded: 10.121 ± 0.023",
        "in force: 2.594 ± 0.024",
        "withdrawn: 2.521 ± 0.023",
        "superseded: 2.5207 ± 0.0065",
      ]
    `);
  });
});

function trainsOf(one: SheetDocument["sheets"][number]): string[] {
  return one.calibrations.map(({ trainId }) => trainId);
}

it.each([0, 1])("a sheet file of version 0.1.0 is read into an empty bench: file %i", async (at) => {
  const empty = await tempBench({ ids: countedIds("new") });
  const before = parsed[at];
  const uploadId = await uploadBytes(empty, "sheet.json", documents[at] ?? Buffer.alloc(0));
  const look = await empty.call("documents.look", { uploadId });
  const personId = look.people[0]?.id ?? null;
  await empty.call("documents.readIn", { requestId: empty.request(), uploadId, personId });
  const ids = before?.sheets.map(({ sheet }) => sheet.id) ?? [];
  const now = SheetDocument.parse(JSON.parse(await exportJson(empty, ids)));
  expect(before === undefined ? null : fingerprints(before)).toEqual(fingerprints(now));
  expect((await empty.call("trail.verify", {})).differences).toEqual([]);
  await empty.end();
});
