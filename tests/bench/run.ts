import { parseArgs } from "node:util";
import { benchControlAlarms } from "./control-alarms.ts";
import { benchCountCoverage } from "./count-coverage.ts";
import { benchCoverage } from "./coverage.ts";
import { benchEntering } from "./entering.ts";
import { benchExport } from "./export.ts";
import { benchExportBesideEntry } from "./export-beside-entry.ts";
import { benchFalseAlarms } from "./false-alarms.ts";
import { benchFlagRates } from "./flag-rates.ts";
import { benchHeap } from "./heap.ts";
import { benchLists } from "./lists.ts";
import { benchLiveCounting } from "./live-counting.ts";
import { benchLiveSummary } from "./live-summary.ts";
import { benchLongLife, type LongLifeOptions } from "./long-life/run.ts";
import { benchMeasureKeys } from "./measure-keys.ts";
import { benchPracticeView } from "./practice-view.ts";
import { benchPressing } from "./pressing.ts";
import { benchPressingKeys } from "./pressing-keys.ts";
import { benchReevaluation } from "./re-evaluation.ts";
import { benchSizes } from "./sizes-with-uncertainty.ts";
import { benchTrendDetection } from "./trend-detection.ts";
import { benchTrendKeys } from "./trend-keys.ts";
import { benchWindowHold } from "./window-hold.ts";

interface Bench {
  readonly name: string;
  /** Prints its own table; ratios matter, times depend on the machine. */
  readonly run: (options: LongLifeOptions) => Promise<void>;
}

const BENCHES: readonly Bench[] = [
  { name: "sizes", run: async () => benchSizes() },
  { name: "entering", run: benchEntering },
  { name: "measure-keys", run: benchMeasureKeys },
  { name: "pressing", run: benchPressing },
  { name: "pressing-keys", run: benchPressingKeys },
  { name: "counting", run: async () => benchLiveCounting() },
  { name: "count-coverage", run: async () => benchCountCoverage() },
  { name: "summary", run: async () => benchLiveSummary() },
  { name: "lists", run: benchLists },
  { name: "export", run: async () => benchExport() },
  { name: "export-beside-entry", run: benchExportBesideEntry },
  { name: "re-evaluation", run: benchReevaluation },
  { name: "coverage", run: async () => benchCoverage() },
  {
    name: "false-alarms",
    run: async () => {
      benchFalseAlarms();
      benchControlAlarms();
    },
  },
  { name: "flag-rates", run: async () => benchFlagRates() },
  { name: "trends", run: async () => benchTrendDetection() },
  { name: "trend-keys", run: benchTrendKeys },
  { name: "long-life", run: benchLongLife },
  { name: "heap", run: benchHeap },
  { name: "practice-view", run: async () => benchPracticeView() },
  { name: "window-hold", run: benchWindowHold },
];

/*
 * `npm run bench` runs all, `npm run bench -- sizes` the named ones, `--full` the long way round; a bench of ten years in
 * parts: `npm run bench -- long-life --rows 100000 --part verify,backup-space --kept FOLDER`.
 */
const { values: options, positionals: wanted } = parseArgs({
  allowPositionals: true,
  options: {
    full: { type: "boolean" },
    rows: { type: "string" },
    part: { type: "string" },
    kept: { type: "string" },
  },
});
const unknown = wanted.filter((name) => !BENCHES.some((bench) => bench.name === name));
if (unknown.length > 0) {
  console.error(`No bench ${unknown.join(", ")}. There are: ${BENCHES.map(({ name }) => name).join(", ")}`);
  process.exitCode = 1;
} else {
  for (const bench of BENCHES.filter(({ name }) => wanted.length === 0 || wanted.includes(name))) {
    console.log(`\n${bench.name} (Node ${process.versions.node})`);
    await bench.run(options);
  }
}
