import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { CallInput, CallName, CallOutput } from "#core/contract/calls.ts";
import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import type { Reply } from "#core/contract/reply.ts";
import { classReport } from "#core/practice/class-report.ts";
import { EXERCISES } from "#core/vocabulary/practice.ts";
import { assemble } from "#main/assemble.ts";
import { buildDemoBench } from "#main/demo/build-demo.ts";
import { SHEET_PLANS } from "#main/demo/pollen-sheets.ts";
import {
  DRIFT_OVER_HISTORY,
  DRIFTING,
  JUMP_AT_SERVICE,
  JUMPING,
  SERVICE_DAYS_AGO,
  type TrainPlace,
} from "#main/demo/true-factors.ts";
import type { Program } from "#main/program.ts";
import { countedIds, fixedClock } from "../../support/fixed-clock.ts";
import { type TempFolder, tempFolder } from "../../support/temp-bench.ts";

const TODAY = "2026-06-15";
const DAY_MS = 86_400_000;
/** Eighteen months of acts, each of them on disk, while other tests want the disk too. */
const PATIENCE_MS = 120_000;

interface OpenDemo {
  readonly folder: TempFolder;
  readonly program: Program;
}

async function openDemo(options: { today?: string; seed?: number } = { today: TODAY }): Promise<OpenDemo> {
  const folder = tempFolder();
  await buildDemoBench(folder.paths, options);
  const program = await assemble({
    paths: folder.paths,
    clock: fixedClock(`${options.today ?? TODAY}T12:00:00.000Z`),
    ids: countedIds("later"),
    host: "loopback",
    programVersion: "0.0.0-test",
    demo: true,
  });
  return { folder, program };
}

async function close({ folder, program }: OpenDemo): Promise<void> {
  await program.close();
  folder.remove();
}

async function callOn<N extends CallName>(
  program: Program,
  name: N,
  input: CallInput<N>,
): Promise<CallOutput<N>> {
  const reply = (await program.dispatch(name, input)) as Reply<CallOutput<N>>;
  if (!reply.ok) throw new Error(`${name}: ${JSON.stringify(reply.error)}`);
  return reply.value;
}

async function trailHashes(program: Program): Promise<string[]> {
  const lines: string[] = [];
  for (let before: number | null = null; ; ) {
    const page: CallOutput<"trail.page"> = await callOn(program, "trail.page", { before, count: 500 });
    lines.push(...page.map((line) => line.hash));
    const last = page.at(-1);
    if (!last || last.sequence === 1) return lines;
    before = last.sequence;
  }
}

describe("the invented demo bench", () => {
  let demo: OpenDemo;
  let rows: SpecimenRow[] = [];
  const call = <N extends CallName>(name: N, input: CallInput<N>): Promise<CallOutput<N>> =>
    callOn(demo.program, name, input);

  beforeAll(async () => {
    demo = await openDemo();
    const sheets = await call("sheets.list", {});
    const pages = await Promise.all(
      sheets.map((sheet) => call("rows.page", { sheetId: sheet.id, from: 1, count: 1000 })),
    );
    rows = pages.flatMap((page) => page.rows);
  }, PATIENCE_MS);
  afterAll(() => close(demo));

  async function historyOf(place: TrainPlace): Promise<CalibrationRecord[]> {
    const overview = await call("bench.overview", {});
    const stand = overview.microscopes.find(({ microscope }) =>
      microscope.name.toLowerCase().startsWith(place.stand),
    );
    const objective = stand?.microscope.objectives.find((one) => one.position === place.position);
    const eyepiece = stand?.microscope.eyepieces[place.eyepiece];
    const train = stand?.trains.find(
      ({ train: one }) => one.objectiveId === objective?.id && one.eyepieceId === eyepiece?.id,
    )?.train;
    return (await call("calibrations.list", { trainId: train?.id ?? "" })).reverse();
  }

  it("verifies clean: every size from its readings, every factor, every hash", async () => {
    const report = await call("trail.verify", {});
    expect(report.differences).toEqual([]);
    expect(report.measurements).toBeGreaterThan(300);
    expect(report.calibrations).toBeGreaterThan(60);
  });

  it("has the people, stands, reticles, micrometers and rows that are promised", async () => {
    const people = await call("people.list", {});
    expect(people).toHaveLength(3);
    expect(new Set(people.map((person) => person.interpupillaryMm)).size).toBe(3);
    const stands = await call("microscopes.list", {});
    expect(stands).toHaveLength(2);
    expect(stands.flatMap((stand) => stand.objectives)).toHaveLength(6);
    expect(stands.flatMap((stand) => stand.eyepieces)).toHaveLength(4);
    const sheets = await call("sheets.list", {});
    expect(sheets.length).toBeGreaterThanOrEqual(5);
    expect(rows.length).toBeGreaterThanOrEqual(200);
    expect(rows.filter((row) => row.struck !== null).length).toBeGreaterThanOrEqual(5);
  });

  it("has a count of 500 grains with its fields, paused over night, with undone presses, classes and a density", async () => {
    const [head, ...more] = await call("counts.list", {});
    expect(more).toEqual([]);
    const countId = head?.id ?? "";
    const { count, fields } = await call("counts.state", { countId });
    const { results } = count;
    expect(count).toMatchObject({ state: "closed", currentField: fields.length });
    expect(Number(results?.total)).toBeGreaterThanOrEqual(500);
    expect(fields.length).toBeGreaterThan(25);
    expect(results?.stopping.met).toBe(true);
    expect(results?.categories[1]?.share?.class).toMatch(/predominant|secondary/);
    expect(results?.densities[0]).toMatchObject({ unit: "/mm²", factor: { power: -2 } });
    expect(fields.every((field) => field.position !== null)).toBe(true);
    const { events } = await call("counts.events", { countId, from: 1, count: 1000 });
    expect(events.filter((event) => event.struckBy !== null).length).toBeGreaterThan(2);
    const gaps = events.map((event, i) => Date.parse(event.at) - Date.parse(events[i - 1]?.at ?? event.at));
    expect(Math.max(...gaps)).toBeGreaterThan(12 * 3_600_000);
    expect(count.secondsBefore).toBeLessThan(3600);
  });

  it("has a class of practice with results in every exercise, good and bad, and readings of a slide by all", async () => {
    const [of, ...more] = await call("practice.classes", {});
    expect(more).toEqual([]);
    if (!of) throw new Error("no class");
    const attempts = await call("practice.list", { personId: null });
    const readings = await call("practice.slideReadings", { classId: of.id });
    const { exercises, study } = classReport(of, attempts, readings);
    expect(exercises.map(({ exercise }) => exercise.name)).toEqual([...EXERCISES]);
    expect(study?.readers).toHaveLength(3);
    const verdicts = attempts.map(({ result }) => result?.verdict);
    expect(verdicts).toContain("met");
    expect(verdicts).toContain("not met");
    const states = (await call("practice.competence", {})).map(({ state }) => state);
    expect(states).toContain("proven");
    expect(states).toContain("not proven");
  });

  it("has one micrometer whose certificate is overdue and one whose certificate was replaced", async () => {
    const micrometers = await call("micrometers.list", {});
    expect(micrometers).toHaveLength(3);
    const overdue = micrometers.filter((one) =>
      one.certificates.every((certificate) => certificate.dueOn < TODAY),
    );
    expect(overdue).toHaveLength(1);
    const replaced = micrometers.filter((one) => one.certificates.length === 2);
    expect(replaced).toHaveLength(1);
    const [before, after] = replaced[0]?.certificates ?? [];
    expect(before?.lines.map((line) => Number(line.error))).toEqual(
      after?.lines.map((line) => 0 - Number(line.error)),
    );
    const calibrations = await call("calibrations.list", { trainId: null });
    const withdrawn = calibrations.filter((one) => one.state === "withdrawn");
    expect(withdrawn).toHaveLength(1);
    expect(withdrawn[0]?.endReason).toContain("wrong sign");
    const [replacement, ...others] = await call("certificates.replacements", {});
    expect(others).toEqual([]);
    expect(replacement).toMatchObject({ certificateId: before?.id, replacedBy: after?.id });
    expect(replacement?.reason).toContain("Invented");
  });

  it("has a reviewed sheet that still rests on the replaced certificate, with what the corrected one would make of it", async () => {
    const [replacement] = await call("certificates.replacements", {});
    const { certificateId = "", replacedBy = "" } = replacement ?? {};
    const forward = await call("trace.forward", {
      subject: { kind: "certificate", id: certificateId },
      from: null,
      to: null,
      replacement: { kind: "certificate", certificateId: replacedBy },
    });
    expect(forward.sheets).toHaveLength(1);
    expect(forward.sheets[0]).toMatchObject({ signOff: "reviewed", rows: 33, results: 66 });
    // Errors of +0.36 µm in 200 µm, taken with the wrong sign: lengths were about 0.36 % too short. Invented inputs.
    const change = Number(forward.sheets[0]?.largestRelativeChange);
    expect(change).toBeGreaterThan(0.003);
    expect(change).toBeLessThan(0.0042);
  });

  it("has a train that drifts and one that jumps after the service, both plain in the factors", async () => {
    const drifting = (await historyOf(DRIFTING)).map((one) => Number(one.result?.factor));
    expect(drifting.length).toBeGreaterThanOrEqual(8);
    const change = (drifting.at(-1) ?? 0) / (drifting[0] ?? 1) - 1;
    expect(change).toBeGreaterThan(DRIFT_OVER_HISTORY * 0.75);
    expect(change).toBeLessThan(DRIFT_OVER_HISTORY * 1.25);
    const half = Math.floor(drifting.length / 2);
    const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
    const earlier = mean(drifting.slice(0, half));
    const later = mean(drifting.slice(half));
    // A drift, not a jump: about half of it lies between the means of the two halves.
    expect((later / earlier - 1) / DRIFT_OVER_HISTORY).toBeGreaterThan(0.35);
    expect((later / earlier - 1) / DRIFT_OVER_HISTORY).toBeLessThan(0.65);

    const jumping = await historyOf(JUMPING);
    const service = Date.parse(TODAY) - SERVICE_DAYS_AGO * DAY_MS;
    const factor = (one: CalibrationRecord): number => Number(one.result?.factor);
    const before = jumping.filter((one) => Date.parse(one.startedAt) < service).map(factor);
    const after = jumping.filter((one) => Date.parse(one.startedAt) > service).map(factor);
    expect(Math.min(before.length, after.length)).toBeGreaterThanOrEqual(4);
    expect(mean(after) / mean(before) - 1).toBeCloseTo(JUMP_AT_SERVICE, 2);
    const within = (values: readonly number[]): number =>
      (Math.max(...values) - Math.min(...values)) / mean(values);
    expect(Math.max(within(before), within(after))).toBeLessThan(Math.abs(JUMP_AT_SERVICE) / 3);
  });

  it("shows a bench with every kind of state, last calibrated a few days ago", async () => {
    const overview = await call("bench.overview", {});
    const states = new Set(overview.microscopes.flatMap((one) => one.trains.map((train) => train.state)));
    for (const state of ["ready", "calibration overdue", "certificate overdue", "not calibrated"] as const) {
      expect(states, state).toContain(state);
    }
    const calibrations = await call("calibrations.list", { trainId: null });
    const newest = Math.max(...calibrations.map((one) => Date.parse(one.inForceAt ?? "")));
    expect((Date.parse(TODAY) - newest) / DAY_MS).toBeLessThan(10);
    const oldest = Math.min(...calibrations.map((one) => Date.parse(one.startedAt)));
    expect((Date.parse(TODAY) - oldest) / DAY_MS).toBeGreaterThan(530);
  });

  it("has rows that are flagged, rows without a size and an amendment", async () => {
    const flags = new Set(rows.flatMap((row) => row.measurements.flatMap((one) => one.flags)));
    for (const flag of [
      "few-divisions",
      "person-differs",
      "certificate-overdue",
      "edges-reversed",
      "off-scale",
    ] as const) {
      expect(flags, flag).toContain(flag);
    }
    const without = rows.filter((row) => row.measurements.some((one) => one.missing !== null));
    expect(without.length).toBeGreaterThanOrEqual(5);
    const amended = await call("trail.page", { before: null, count: 500 });
    expect(amended.length).toBe(500);
    expect(amended.map((line) => line.act)).toContain("rows.strike");
  });

  it("gives every label sizes that its pollen could have", () => {
    for (const plan of SHEET_PLANS) {
      for (const [kind] of plan.grains) {
        const sizes = rows
          .filter((row) => row.label === kind.label && row.struck === null)
          .flatMap((row) => row.measurements.filter((one) => one.dimension !== "e" && one.size !== null))
          .filter((one) => !one.flags.includes("off-scale"))
          .map((one) => Number(one.size?.value));
        const mean = sizes.reduce((a, b) => a + b, 0) / sizes.length;
        const [expected, deviation] = kind.polar;
        expect(Math.abs(mean - expected), kind.label).toBeLessThan(deviation * 1.2);
      }
    }
  });

  it("says everywhere that it is invented", async () => {
    const texts = [
      ...(await call("people.list", {})).map((one) => one.name),
      ...(await call("microscopes.list", {})).map((one) => one.maker),
      ...(await call("micrometers.list", {})).map((one) => one.maker),
      ...(await call("micrometers.list", {})).flatMap((one) => one.certificates.map((c) => c.laboratory)),
      ...(await call("methods.list", {})).map((one) => one.definition.note),
      ...(await call("countMethods.list", {})).flatMap((one) => [one.definition.note, one.definition.source]),
      (await call("laboratory.settings", {})).name,
      ...(await call("sheets.list", {})).flatMap((one) => [one.sample, one.note]),
      ...(await call("calibrations.list", { trainId: null })).map((one) => one.remark),
    ];
    for (const text of texts) expect(text.toLowerCase()).toContain("invented");
    expect((await call("bench.status", {})).demo).toBe(true);
  });

  it(
    "is the same bench for the same seed and date, and another for another seed",
    async () => {
      const again = await openDemo();
      const other = await openDemo({ today: TODAY, seed: 7 });
      const hashes = await trailHashes(demo.program);
      expect(await trailHashes(again.program)).toEqual(hashes);
      expect((await trailHashes(other.program))[0]).not.toBe(hashes[0]);
      const report = await callOn(other.program, "trail.verify", {});
      expect(report.differences).toEqual([]);
      await close(again);
      await close(other);
    },
    3 * PATIENCE_MS,
  );
});
