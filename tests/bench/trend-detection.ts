import { decimal } from "#core/quantity/decimal.ts";
import { normalCdf } from "#core/statistics/distributions.ts";
import { stepFinding, type WitnessSeries } from "#core/trends/common-step.ts";
import { runSignals } from "#core/trends/run-rules.ts";
import type { RunRule } from "#core/vocabulary/trends.ts";
import { normalFrom } from "../support/seeded-normal.ts";
import {
  FIRST_DAY,
  simulatedHistory as history,
  MONTH,
  SCATTER,
  type Truth,
  verdictOf,
} from "../support/simulated-histories.ts";
import { printTable } from "./print-table.ts";

const SEEDS = 1000;

const TRUTHS: readonly Truth[] = [
  { name: "steady", at: () => 1 },
  { name: "drift 0.2 % a month", at: (month) => 1 + 0.002 * month },
  { name: "drift 0.02 % a month", at: (month) => 1 + 0.0002 * month },
  { name: "step 1 % half way", at: (month) => (month < 6 ? 1 : 1.01) },
  { name: "changer 1.25× left in once", at: (month) => (month === 6 ? 0.8 : 1) },
  { name: "micrometer replaced, 0.3 % off", at: (month) => (month < 6 ? 1 : 1.003), replacedAt: 6 },
];
const MONTHS = 12;

const percent = (count: number, of = SEEDS): string => `${((100 * count) / of).toFixed(1)} %`;

function detectionRow(truth: Truth): string[] {
  const counts = {
    steady: 0,
    "small change": 0,
    drifting: 0,
    jumped: 0,
    few: 0,
    signal: 0,
    lone: 0,
    placed: 0,
  };
  for (let seed = 1; seed <= SEEDS; seed += 1) {
    const { found, kind } = verdictOf(history(truth, MONTHS, normalFrom(seed)));
    if (kind === "steady" || kind === "small change" || kind === "drifting" || kind === "jumped") {
      counts[kind] += 1;
    } else counts.few += 1;
    const levels = found.baselines.flatMap(({ chart }) => chart?.signals ?? []);
    if (levels.some(({ weight }) => weight === "signal")) counts.signal += 1;
    if (found.lone.size === 1 && found.lone.has(6)) counts.lone += 1;
    if (found.steps.some(({ to }) => to === 6)) counts.placed += 1;
  }
  return [
    truth.name,
    percent(counts.steady),
    percent(counts["small change"]),
    percent(counts.drifting),
    percent(counts.jumped),
    percent(counts.signal),
    percent(counts.placed),
    percent(counts.lone),
  ];
}

/** Month in which the standing first says what is the matter, over the seeds in which it does within two years. */
function delayRow(truth: Truth, wanted: "drifting" | "jumped", from: number): string[] {
  const months: number[] = [];
  const seeds = SEEDS / 10;
  for (let seed = 1; seed <= seeds; seed += 1) {
    const whole = history(truth, 24, normalFrom(seed));
    for (let n = from + 1; n <= whole.length; n += 1) {
      if (verdictOf(whole.slice(0, n)).kind !== wanted) continue;
      months.push(n - from);
      break;
    }
  }
  months.sort((a, b) => a - b);
  const at = (share: number): string => String(months[Math.floor(share * (months.length - 1))] ?? "–");
  return [truth.name, wanted, at(0.5), at(0.9), percent(months.length, seeds)];
}

/** Nothing ever happens: what is said after n calibrations, and how often a jump was ever said on the way there. */
function steadyRow(name: string, scatter: number, n: number): string[] {
  const counts = { drifting: 0, jumped: 0, "small change": 0, ever: 0 };
  for (let seed = 1; seed <= SEEDS; seed += 1) {
    const points = history({ name, at: () => 1, scatter }, n, normalFrom(seed + 20_000));
    const said = points.map((_, at) => verdictOf(points.slice(0, at + 1)).kind);
    const last = said.at(-1);
    if (last === "drifting" || last === "jumped" || last === "small change") counts[last] += 1;
    if (said.includes("jumped")) counts.ever += 1;
  }
  return [
    name,
    String(n),
    percent(counts.drifting),
    percent(counts.jumped),
    percent(counts["small change"]),
    percent(counts.ever),
  ];
}

/** Four trains on two microscopes: does what they say together name the culprit? */
function culpritRow(name: string, wanted: string, changes: readonly number[]): string[] {
  let right = 0;
  for (let seed = 1; seed <= SEEDS; seed += 1) {
    const series = changes.map((change, train): WitnessSeries => {
      const truth: Truth = { name, at: (month) => (month < 6 ? 1 : 1 + change) };
      return {
        key: String(train),
        name: String(train),
        microscope: train < 2 ? "I" : "II",
        points: history(truth, MONTHS, normalFrom(seed * 10 + train)),
      };
    });
    if (stepFinding(series, decimal(Math.round(FIRST_DAY + 6 * MONTH))).pointsTo === wanted) right += 1;
  }
  return [name, wanted, percent(right)];
}

/** Mean number of values until a point lies beyond 3σ or `side` in a row lie on one side, by solving the chain of states. */
function expectedRunLength(side: number): number {
  const sameSide = (1 - 2 * normalCdf(-3)) / 2;
  // E(k) = 1 + q·E(k + 1) + q·E(1) after k on one side, E(side) = 0, q one side within 3σ; E(k) = a + b·E(1).
  let [a, b] = [0, 0];
  for (let k = side - 1; k >= 1; k -= 1) {
    [a, b] = [1 + sameSide * a, sameSide * b + sameSide];
  }
  const first = a / (1 - b);
  return 1 + 2 * sameSide * first;
}

function simulatedRunLength(rules: readonly RunRule[]): { readonly mean: number; readonly error: number } {
  const lengths: number[] = [];
  for (let seed = 1; seed <= SEEDS; seed += 1) {
    const normal = normalFrom(seed + 50_000);
    const values = [];
    let found: number | undefined;
    for (let size = 128; found === undefined && size <= 16_384; size *= 2) {
      while (values.length < size) values.push(decimal(normal()));
      found = runSignals({ values, centre: decimal(0), sigma: decimal(1), rules })[0]?.index;
    }
    lengths.push((found ?? 16_384) + 1);
  }
  const mean = lengths.reduce((sum, length) => sum + length, 0) / SEEDS;
  const variance = lengths.reduce((sum, length) => sum + (length - mean) ** 2, 0) / (SEEDS - 1);
  return { mean, error: Math.sqrt(variance / SEEDS) };
}

/** Detection and false alarms of factor histories over seeded simulations; every rate with what is expected beside it. */
export function benchTrendDetection(): void {
  console.log(`steady histories, ${SEEDS.toLocaleString("en-GB")} seeds each: false alarms`);
  printTable(
    ["truth", "calibrations", "drifting", "jumped", "small change", "jumped said at any time"],
    [3, 5, 8, 12].flatMap((n) => [
      steadyRow("scatter as budgeted", SCATTER, n),
      steadyRow("scatter a quarter of it", SCATTER / 4, n),
    ]),
  );
  console.log(`\n${MONTHS} monthly calibrations, ${SEEDS.toLocaleString("en-GB")} seeds each`);
  printTable(
    [
      "truth",
      "steady",
      "small change",
      "drifting",
      "jumped",
      "any rule fired",
      "step placed right",
      "one value apart found",
    ],
    TRUTHS.map(detectionRow),
  );
  console.log(`\nmonths from the change until it is said, ${SEEDS / 10} seeds, at most 24 calibrations`);
  const [, fast, slow, step] = TRUTHS as readonly [Truth, Truth, Truth, Truth];
  printTable(
    ["truth", "said", "median", "90 % by", "said within two years"],
    [delayRow(fast, "drifting", 0), delayRow(slow, "drifting", 0), delayRow(step, "jumped", 6)],
  );
  console.log("\nfour trains on two microscopes, one step of 0.3 %");
  printTable(
    ["where", "should point to", "does"],
    [
      culpritRow("in all four", "micrometer", [0.003, 0.003, 0.003, 0.003]),
      culpritRow("in both of one microscope", "microscope", [0.003, 0.003, 0, 0]),
      culpritRow("in one", "train", [0.003, 0, 0, 0]),
      culpritRow("in none", "nothing", [0, 0, 0, 0]),
    ],
  );
  const simulated = simulatedRunLength(["T1", "T2", "T3"]);
  console.log("\nmean number of values in control until a false signal, limits known");
  printTable(
    ["rules", "expected", "how"],
    [
      ["T1", (1 / (2 * normalCdf(-3))).toFixed(1), "1/0.0027"],
      [
        "T1, T2 with 8 in a row",
        expectedRunLength(8).toFixed(2),
        "chain of states; 152.73 in Champ and Woodall 1987, from memory",
      ],
      ["T1, T2", expectedRunLength(9).toFixed(1), "chain of states"],
      ["T1, T2, T3", `${simulated.mean.toFixed(0)} ± ${(2 * simulated.error).toFixed(0)}`, "simulated, 95 %"],
    ],
  );
}
