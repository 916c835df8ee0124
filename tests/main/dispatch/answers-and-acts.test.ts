import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { type CallName, calls, changedBy, isCallName, type KeptRead, restsOn } from "#core/contract/calls.ts";
import { TAGS, type Tag } from "#core/contract/tags.ts";
import { buildScene } from "../../support/bench-scenes.ts";
import { theActsLeft } from "../../support/every-act.ts";
import { fullBench } from "../../support/full-bench.ts";
import { headSignerInMemory } from "../../support/head-signer-in-memory.ts";
import { changedReads, everyAnswer, KEPT_READS } from "../../support/kept-answers.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { correctCertificate, tellStory, untilDone } from "../../support/traceability-scenes.ts";

const PATIENCE_MS = 600_000;
let bench: TempBench;

beforeEach(async () => {
  bench = await tempBench({ headSigner: headSignerInMemory() });
});
afterEach(() => bench.end());

const sharesATag = (read: KeptRead, tags: readonly string[]): boolean =>
  restsOn(read).some((tag) => tags.includes(tag));

/** Every act there is but those that change everything. */
const ACTS = Object.keys(calls)
  .filter(isCallName)
  .filter((name) => changedBy(name).length > 0 && changedBy(name).length < TAGS.length);
/** What no act changes by itself. */
const OF_JOBS: ReadonlySet<Tag> = new Set(["notices"]);

interface Seen {
  readonly act: CallName;
  readonly reads: readonly KeptRead[];
  /** What the host told a window that asked what had changed. */
  readonly told: readonly Tag[];
}

/** Looked at together with the act that follows it, which is to come before its job is done. */
const WITH_THE_NEXT: ReadonlySet<CallName> = new Set(["reevaluations.begin"]);

/** Later than everything that the bench of these tests is told. */
const EVENING = "2026-03-02T23:00:00.000Z";

/** The same bench, each of whose acts is looked at: which answers are other ones after it than before. */
async function watched(inner: TempBench, seen: Seen[]): Promise<TempBench> {
  let before = await everyAnswer(inner, EVENING);
  let { now } = await inner.call("bench.changes", { since: null });
  return {
    ...inner,
    program: inner.program,
    async call(name, input) {
      const value = await inner.call(name, input);
      if (changedBy(name).length === 0) return value;
      if (WITH_THE_NEXT.has(name)) {
        seen.push({ act: name, reads: [], told: [] });
        return value;
      }
      const told = await inner.call("bench.changes", { since: now });
      const after = await everyAnswer(inner, EVENING);
      seen.push({ act: name, reads: changedReads(before, after), told: told.changed });
      before = after;
      now = told.now;
      return value;
    },
  };
}

describe("an act and the answers it changes", () => {
  it("share a tag, whatever the act and whatever the answer", { timeout: PATIENCE_MS }, async () => {
    const seen: Seen[] = [];
    const hand = await watched(bench, seen);
    await theActsLeft(hand, await fullBench(hand));
    const forgotten = seen.flatMap(({ act, reads, told }) =>
      reads.filter((read) => !sharesATag(read, told)).map((read) => `${act} → ${read}`),
    );
    expect([...new Set(forgotten)].sort()).toEqual([]);
    const done = new Set(seen.map(({ act }) => act));
    expect(ACTS.filter((name) => !done.has(name))).toEqual([]);
  });

  it("share one that is known on both sides", () => {
    const changed = new Set(ACTS.flatMap((name) => changedBy(name)));
    const reads = new Set(KEPT_READS.flatMap((name) => restsOn(name)));
    expect(TAGS.filter((tag) => !reads.has(tag))).toEqual([]);
    expect(TAGS.filter((tag) => !changed.has(tag) && !OF_JOBS.has(tag))).toEqual([]);
  });
});

describe("what others have changed is told to every window", () => {
  it("by a re-evaluation that goes on after its call", { timeout: PATIENCE_MS }, async () => {
    const story = await tellStory(bench);
    const corrected = await correctCertificate(bench, story.scene);
    const { id } = await bench.call("reevaluations.begin", {
      requestId: bench.request(),
      reevaluation: {
        subject: { kind: "certificate", id: story.scene.certificate.id },
        from: null,
        to: null,
        sheetIds: null,
        replacement: { kind: "certificate", certificateId: corrected.id },
        reason: "the certificate was corrected",
      },
    });
    const { now } = await bench.call("bench.changes", { since: null });
    await untilDone(bench, id);
    const told = await bench.call("bench.changes", { since: now });
    expect(told.changed).toEqual(expect.arrayContaining(["rows", "re-evaluations", "trail"]));
    expect(await bench.call("bench.changes", { since: told.now })).toEqual({ now: told.now, changed: [] });
  });

  it("by the first write of a day, which makes a backup", async () => {
    await buildScene(bench);
    const { now } = await bench.call("bench.changes", { since: null });
    bench.clock.set("2026-03-03T08:00:00.000Z");
    await bench.call("people.register", {
      requestId: bench.request(),
      person: { name: "Ben Early", initials: "BE", interpupillaryMm: "" },
    });
    const told = async () => (await bench.call("bench.changes", { since: now })).changed;
    await expect.poll(told).toEqual(["people", "trail", "backups"]);
  });

  it("by a program that has been started again: then everything may be another", async () => {
    const { now } = await bench.call("bench.changes", { since: null });
    expect((await bench.call("bench.changes", { since: { ...now, run: "before" } })).changed).toEqual([
      ...TAGS,
    ]);
  });

  it("and nothing by an act that was refused", async () => {
    const { now } = await bench.call("bench.changes", { since: null });
    await bench.refusal("people.choose", { personId: "nobody" });
    expect((await bench.call("bench.changes", { since: now })).changed).toEqual([]);
  });
});
