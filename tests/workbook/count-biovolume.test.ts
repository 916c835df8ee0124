import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { CallInput } from "#core/contract/calls.ts";
import type { Count } from "#core/contract/records/count.ts";
import { HAEMOCYTOMETER } from "#core/counting/methods/ready-bench-methods.ts";
import { UTERMOHL_FIELDS } from "#core/counting/methods/ready-plankton-methods.ts";
import { countBiovolumes } from "#core/counting/results/count-biovolumes.ts";
import { buildScene, calibrateTrain, type Scene } from "../support/bench-scenes.ts";
import { type CountOptions, handOf, measuredCells, openCount } from "../support/count-scene.ts";
import { finishedExport } from "../support/finished-export.ts";
import { type TempBench, tempBench } from "../support/temp-bench.ts";
import { disagreements, errorsIn } from "./compare-books.ts";
import { allRecalculated, editedCopy, readBook, recalculated } from "./other-programs.ts";

let bench: TempBench;
let scene: Scene;

beforeAll(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
}, 60_000);
afterAll(() => bench.end());

type Given = CallInput<"counts.giveCellVolume">["given"];

/** Counts, closes, and gives the volumes. */
async function counted(
  options: CountOptions,
  fields: readonly Readonly<Record<string, string>>[],
  volumes: Readonly<Record<string, Given>>,
): Promise<Count> {
  const { id: countId } = await openCount(bench, scene, options);
  const hand = handOf(bench, countId);
  for (const field of fields) {
    for (const [category, objects] of Object.entries(field)) await hand.press(category, objects);
    await hand.field();
  }
  const about = () => ({ requestId: bench.request(), countId });
  let count = await bench.call("counts.close", { ...about(), lastFieldCounted: false });
  for (const [category, given] of Object.entries(volumes)) {
    count = await bench.call("counts.giveCellVolume", { ...about(), category, given, reason: "" });
  }
  return count;
}

async function exported(countId: string): Promise<string> {
  const begun = await bench.call("counts.export", { countId, format: "live workbook", paper: "A4" });
  const { file } = await finishedExport(bench, begun);
  if (!file) throw new Error("nothing was written");
  return file.path;
}

const typed = (volume: string, expanded: string, carbon: "none" | "protists" = "none"): Given => ({
  carbon,
  of: { from: "typed", volume, expanded, source: "an invented list" },
});

/** Diatoms cluster, greens do not. Invented. */
const FIELDS = [1, 2, 14, 2, 1, 11, 3, 1, 9, 20].map((diatoms, i) => ({
  diatoms: String(diatoms),
  greens: String(3 + (i % 3)),
  ...(i % 4 === 0 ? { cryptophytes: "1" } : {}),
}));
const GROUPED = {
  ...UTERMOHL_FIELDS,
  name: "Phytoplankton in groups",
  categories: UTERMOHL_FIELDS.categories.map((one) =>
    one.key === "diatoms" || one.key === "greens" ? { ...one, group: "plants" } : one,
  ),
};

describe("the worksheet Biovolume", () => {
  const counts: Count[] = [];
  const paths: string[] = [];
  let theirs: string[] = [];
  beforeAll(async () => {
    const sheet = await measuredCells(bench, scene, [
      ["20", "41"],
      ["22", "45.5"],
      ["19.5", "40"],
      ["24", "39"],
    ]);
    const green = await measuredCells(
      bench,
      scene,
      [
        ["8", "9"],
        ["8.5", "9.5"],
      ],
      "greens",
    );
    const ofSheet = (sheetId: string, carbon: "diatoms" | "protists" | "none"): Given => ({
      carbon,
      of: { from: "sheet", sheetId, label: "", quantity: "volume" },
    });
    counts.push(
      await counted(
        {
          definition: GROUPED,
          inputs: {
            side: "25",
            readingUncertainty: "0.1",
            settledVolume: "10",
            settledVolumeUncertainty: "0.05",
          },
        },
        FIELDS,
        {
          diatoms: ofSheet(sheet.id, "diatoms"),
          greens: ofSheet(green.id, "protists"),
          cryptophytes: typed("220", "40"),
          dinoflagellates: typed("3500", ""),
        },
      ),
      // The same cells stand for two taxa: one scatter, not two.
      await counted({ definition: GROUPED }, FIELDS, {
        diatoms: ofSheet(sheet.id, "none"),
        greens: ofSheet(sheet.id, "protists"),
        cryptophytes: typed("220", "40", "protists"),
      }),
      // No factor in the density.
      await counted(
        { definition: HAEMOCYTOMETER, inputs: { dilution: "5" }, withTrain: false },
        [5, 4, 6, 4].map((unstained) => ({ unstained: String(unstained) })),
        { unstained: ofSheet(green.id, "protists") },
      ),
    );
    for (const { id } of counts) paths.push(await exported(id));
    theirs = allRecalculated(paths);
  }, 180_000);

  it.each([0, 1, 2])("recalculated elsewhere says what the program says, count %i", (i) => {
    const ours = readBook(paths[i] ?? "");
    const other = readBook(theirs[i] ?? "");
    expect(Object.keys(ours.sheets)).toEqual([
      "Results",
      "Densities",
      "Biovolume",
      "Fields",
      "Sequence",
      "Amendments",
      "About",
    ]);
    expect(errorsIn(other)).toEqual([]);
    expect(disagreements(ours, other)).toEqual([]);
    const report = Object.values(ours.sheets.Results?.cells ?? {}).map(({ value }) => value);
    expect(report).toContain("Biovolume and carbon");
  });

  it("follows a reviewer's change of one count through density, biovolume and the sum", () => {
    const [count] = counts;
    const path = paths[0] ?? "";
    if (!count?.results) throw new Error("the count has no results");
    const before = countBiovolumes(count, count.results);
    const column = Object.entries(readBook(path).sheets.Fields?.cells ?? {})
      .find(([address, cell]) => address.endsWith("1") && cell.value === "diatoms")?.[0]
      .replace("1", "");
    const book = readBook(recalculated(editedCopy(path, "Fields", `${column}2`, 65)));
    const cells = Object.entries(book.sheets.Biovolume?.cells ?? {});
    const volumeOf = (name: string) => {
      const row = cells
        .find(([address, cell]) => address.startsWith("A") && cell.value === name)?.[0]
        .slice(1);
      const head = cells.find(([, cell]) => cell.value === "biovolume (mm³/L)")?.[0].replace(/\d+/, "");
      return Number(book.sheets.Biovolume?.cells[`${head}${row}`]?.value);
    };
    const diatoms = Number(before.lines.find(({ category }) => category === "diatoms")?.volume.value);
    // 64 cells were counted; 1 became 65.
    expect(volumeOf("diatoms") / diatoms).toBeCloseTo(128 / 64, 10);
    const whole = Number(before.sums.find(({ group }) => group === null)?.volume.value);
    expect(volumeOf("all of them") / (whole + diatoms)).toBeCloseTo(1, 10);
  });
});
