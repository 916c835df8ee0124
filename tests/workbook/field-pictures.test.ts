import { readFileSync } from "node:fs";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { Count } from "#core/contract/records/count.ts";
import type { ExportFormat } from "#core/contract/records/exchange.ts";
import { UTERMOHL_FIELDS } from "#core/counting/methods/ready-plankton-methods.ts";
import { buildScene, calibrateTrain } from "../support/bench-scenes.ts";
import { handOf, openCount } from "../support/count-scene.ts";
import { finishedExport } from "../support/finished-export.ts";
import { type TempBench, tempBench } from "../support/temp-bench.ts";
import { attach, PNG } from "../support/traceability-scenes.ts";
import { disagreements, errorsIn } from "./compare-books.ts";
import { type ReadSheet, readBook, recalculated } from "./other-programs.ts";

/* Counts, positions and pictures are invented. */

let bench: TempBench;
let count: Count;
let sha256: string;

beforeAll(async () => {
  bench = await tempBench();
  const scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  count = await openCount(bench, scene, { definition: UTERMOHL_FIELDS });
  const hand = handOf(bench, count.id);
  await hand.press();
  await hand.field({ x: "", y: "", square: "M23" });
  await hand.press();
  await hand.press();
  ({ sha256 } = await attach(bench, { kind: "count field", id: count.id, field: 2 }, PNG, "cluster.png"));
  const wrong = await attach(bench, { kind: "count field", id: count.id, field: 1 }, PNG, "wrong.png");
  await bench.call("attachments.withdraw", {
    requestId: bench.request(),
    attachmentId: wrong.id,
    reason: "of another slide",
  });
});
afterAll(() => bench.end());

async function exported(format: ExportFormat): Promise<string> {
  const begun = await bench.call("counts.export", { countId: count.id, format, paper: "A4" });
  const { file } = await finishedExport(bench, begun);
  if (!file) throw new Error("nothing was written");
  return file.path;
}

function column(sheet: ReadSheet | undefined, heading: string): unknown[] {
  const cells = sheet?.cells ?? {};
  const [place = "?"] = Object.entries(cells).find(([, cell]) => cell.value === heading) ?? [];
  const letters = place.replace(/\d+$/, "");
  return [2, 3].map((line) => cells[`${letters}${line}`]?.value ?? null);
}

it("names square and pictures of a field behind its counts, and changes no figure", async () => {
  const path = await exported("live workbook");
  const book = readBook(path);
  const { Fields: fields } = book.sheets;
  expect(column(fields, "finder-slide square")).toEqual([null, "M23"]);
  expect(column(fields, "pictures")).toEqual([null, "cluster.png"]);
  expect(column(fields, "pictures, SHA-256")).toEqual([null, sha256]);
  expect(column(fields, "total")).toEqual([1, 2]);
  const again = readBook(recalculated(path));
  expect(errorsIn(again)).toEqual([]);
  expect(disagreements(book, again)).toEqual([]);
});

it("tells them in the table and in JSON, where the withdrawn one stands with its reason", async () => {
  const [head, first, second] = readFileSync(await exported("csv"), "utf8").split("\r\n");
  expect(head).toContain('"finder-slide square","pictures","audit trail up to"');
  expect(first).not.toContain("wrong.png");
  expect(second).toContain('"M23","cluster.png",');
  const document = JSON.parse(readFileSync(await exported("json"), "utf8"));
  expect(document.pictures).toMatchObject([
    { fileName: "wrong.png", withdrawn: { reason: "of another slide" } },
    { fileName: "cluster.png", sha256, subject: { kind: "count field", field: 2 } },
  ]);
});
