import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import type { TrailLine } from "#core/contract/records/trail.ts";
import { actOfStored, subjectOfStored } from "#core/contract/stored-names.ts";
import { TRAIL_DETAILS } from "#core/contract/trail-events/trail-event.ts";
import { canonicalJson } from "#main/store/canonical-json.ts";
import { buildScene, calibrateTrain, enterLength, trainOfPosition } from "../../support/bench-scenes.ts";
import { openCount } from "../../support/count-scene.ts";
import { theActsLeft } from "../../support/every-act.ts";
import { countedIds } from "../../support/fixed-clock.ts";
import { fullBench } from "../../support/full-bench.ts";
import { headSignerInMemory } from "../../support/head-signer-in-memory.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { exportJson } from "../exchange/exported.ts";
import { uploadBytes } from "../exchange/upload.ts";

vi.setConfig({ testTimeout: 300_000, hookTimeout: 300_000 });

const SCHEMAS: Readonly<Record<string, Readonly<Record<string, { parse(detail: unknown): unknown }>>>> =
  TRAIL_DETAILS;

/** Subjects of acts that are told as another subject of the same act is, and that no scene here does. */
const AS_OTHERS: readonly string[] = [
  "registers.setServiceState microscope",
  "registers.setServiceState objective",
  "registers.setServiceState eyepiece",
  "events.record microscope",
  "records.correct objective",
  "records.correct eyepiece",
];

const keyOf = ({ act, subject }: TrailLine): string => `${actOfStored(act)} ${subjectOfStored(subject)}`;

async function linesOf(bench: TempBench): Promise<TrailLine[]> {
  const lines: TrailLine[] = [];
  for (let before: number | null = null; ; before = lines.at(-1)?.sequence ?? null) {
    const page = await bench.call("trail.page", { before, count: 200 });
    lines.push(...page);
    if (page.length < 200) return lines;
  }
}

/** A check that failed and is taken back, after it a row and a count; then a backup from before all that is set back. */
async function withdrawnAndRestored(bench: TempBench): Promise<TrailLine[]> {
  const { call, request } = bench;
  const scene = await buildScene(bench);
  await calibrateTrain(bench, scene, {});
  const { fileName } = await call("backups.make", { requestId: request() });
  const { id: checkId } = await call("checks.record", {
    requestId: request(),
    check: {
      trainId: trainOfPosition(scene, 1).id,
      stageMicrometerId: scene.micrometer.id,
      certificateId: scene.certificate.id,
      settings: [{ reticleLeft: "0", reticleRight: "86.4", lineLeft: "0", lineRight: "100" }],
      temperature: "",
      remark: "",
    },
  });
  await enterLength(bench, scene, "row-1", "40", "60");
  await openCount(bench, scene);
  await call("checks.withdraw", { requestId: request(), checkId, reason: "another objective" });
  const lines = await linesOf(bench);
  await call("backups.restore", { requestId: request(), fileName, reason: "a mistake in the afternoon" });
  return [...lines, ...(await linesOf(bench))];
}

/** The sheets of a bench read into another one. */
async function readIn(from: TempBench): Promise<TrailLine[]> {
  const empty = await tempBench({ ids: countedIds("new") });
  const sheets = await from.call("sheets.list", {});
  const text = await exportJson(
    from,
    sheets.map(({ id }) => id),
  );
  const uploadId = await uploadBytes(empty, "sheets.json", Buffer.from(text));
  const { people } = await empty.call("documents.look", { uploadId });
  const personId = people[0]?.id ?? null;
  await empty.call("documents.readIn", { requestId: empty.request(), uploadId, personId });
  const lines = await linesOf(empty);
  await empty.end();
  return lines;
}

describe("every line of the trail", () => {
  let bench: TempBench;
  let other: TempBench;
  let lines: TrailLine[] = [];

  beforeAll(async () => {
    [bench, other] = [await tempBench({ headSigner: headSignerInMemory() }), await tempBench()];
    await theActsLeft(bench, await fullBench(bench));
    lines = [...(await linesOf(bench)), ...(await readIn(bench)), ...(await withdrawnAndRestored(other))];
  });
  afterAll(async () => {
    await bench.end();
    await other.end();
  });

  it("is written as its act says, with no key more and none left out", () => {
    for (const line of lines) {
      const schema = SCHEMAS[actOfStored(line.act)]?.[subjectOfStored(line.subject)];
      expect(schema, `a schema for ${keyOf(line)}`).toBeDefined();
      const parsed = schema?.parse(JSON.parse(line.detail));
      expect(canonicalJson(parsed), keyOf(line)).toBe(line.detail);
    }
  });

  it("is of one of the acts there are, and every act is tried", () => {
    const tried = new Set(lines.map(keyOf));
    const all = Object.entries(SCHEMAS).flatMap(([act, of]) => Object.keys(of).map((one) => `${act} ${one}`));
    expect(all.filter((key) => !tried.has(key))).toEqual(AS_OTHERS);
  });

  it("is refused with a key that its act does not write, and without one that it does", () => {
    for (const line of lines) {
      const schema = SCHEMAS[actOfStored(line.act)]?.[subjectOfStored(line.subject)];
      const detail = JSON.parse(line.detail);
      expect(() => schema?.parse({ ...detail, unheardOf: 1 }), keyOf(line)).toThrow();
    }
    const closed = lines.find((line) => line.act === "sheets.close");
    const { words: _, ...wordless } = JSON.parse(closed?.detail ?? "{}");
    expect(() => SCHEMAS["sheets.close"]?.sheet?.parse(wordless)).toThrow();
  });
});
