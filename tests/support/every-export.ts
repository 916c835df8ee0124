import { copyFileSync } from "node:fs";
import { basename, join } from "node:path";
import type { ExportProgress } from "#core/contract/records/exchange.ts";
import type { Scene } from "./bench-scenes.ts";
import { openCount } from "./count-scene.ts";
import { finishedExport } from "./finished-export.ts";
import type { TempBench } from "./temp-bench.ts";

export interface KeptExport {
  readonly path: string;
  /** The head it must name: the hash in full, or its first 16 digits where each record bears it. */
  readonly head: string;
}

/** Every kind of export there is, each kept in a folder as a customer keeps it. */
export async function everyExport(bench: TempBench, scene: Scene, elsewhere: string): Promise<KeptExport[]> {
  const made: KeptExport[] = [];
  async function keep(written: string | undefined, digits: 16 | 64 = 64): Promise<void> {
    const path = join(elsewhere, basename(written ?? ""));
    copyFileSync(written ?? "", path);
    const head = (await bench.call("trail.head", {})) ?? "";
    made.push({ path, head: head.slice(0, head.indexOf(":") + 1 + digits) });
  }
  async function finished(begun: ExportProgress | null, digits?: 16): Promise<void> {
    await keep((await finishedExport(bench, begun)).file?.path, digits);
  }
  const short = (format: string): 16 | undefined => (format === "csv" ? 16 : undefined);
  const sheetIds = [scene.sheet.id];
  for (const format of ["live workbook", "values workbook", "json", "csv"] as const) {
    await finished(await bench.call("exports.begin", { sheetIds, format, paper: "A4" }), short(format));
  }
  const count = await openCount(bench, scene);
  for (const format of ["live workbook", "json", "csv"] as const) {
    const begun = await bench.call("counts.export", { countId: count.id, format, paper: "A4" });
    await finished(begun, short(format));
  }
  const [method] = await bench.call("countMethods.list", {});
  const series = { familyId: method?.familyId ?? "", kind: "recovery", paper: "A4" } as const;
  await finished(await bench.call("counts.controlsWorkbook", series));
  const trainId = scene.trains[0]?.id ?? "";
  await finished(await bench.call("trends.workbook", { trainId, png: null }));
  const course = await bench.call("practice.makeClass", {
    requestId: bench.request(),
    name: "Course of March",
    seed: null,
    slide: "",
    intervals: 1,
    repeats: 1,
    names: ["Una Pupil"],
  });
  await finished(await bench.call("practice.classWorkbook", { classId: course.id }));
  const view = { unit: "factor" as const, withTolerance: false, days: null };
  await finished(await bench.call("trends.picture", { trainId, view }), 16);
  const side = { view: "microscope", id: scene.microscope.id } as const;
  await finished(await bench.call("trends.seriesPicture", side), 16);
  await keep((await bench.call("trail.saveHeads", {}))?.path);
  return made;
}
