import { afterEach, beforeEach, expect, it } from "vitest";
import type { Count } from "#core/contract/records/count.ts";
import { UTERMOHL_FIELDS } from "#core/counting/methods/ready-plankton-methods.ts";
import { buildScene, calibrateTrain } from "../../support/bench-scenes.ts";
import { handOf, openCount } from "../../support/count-scene.ts";
import { plainPng } from "../../support/plain-png.ts";
import { tamper } from "../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { attach, PNG } from "../../support/traceability-scenes.ts";

let bench: TempBench;
let count: Count;
const subject = (field: number) => ({ kind: "count field" as const, id: count.id, field });
const ofCount = () => bench.call("attachments.ofCount", { countId: count.id });
const about = () => ({ requestId: bench.request(), countId: count.id });
const begin = (field: number) =>
  bench.refusal("attachments.begin", {
    attachment: { subject: subject(field), fileName: "a.png", bytes: PNG.length, caption: "" },
  });

beforeEach(async () => {
  bench = await tempBench();
  const scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  count = await openCount(bench, scene, { definition: UTERMOHL_FIELDS });
  const hand = handOf(bench, count.id);
  await hand.press();
  await hand.field();
  await hand.press();
});
afterEach(() => bench.end());

it("a picture belongs to a field that the count has begun, and stays as it is once the count is closed", async () => {
  const picture = await attach(bench, subject(2), plainPng(4, 3), "cluster.png");
  expect(picture.subject).toEqual(subject(2));
  expect(await ofCount()).toEqual([picture]);
  expect(await bench.call("attachments.list", { subject: subject(1) })).toEqual([]);
  expect(await bench.call("attachments.list", { subject: subject(2) })).toEqual([picture]);
  expect((await begin(3)).code).toBe("subject.unknown");
  const without = { kind: "count field", id: count.id };
  const unnamed = { attachment: { subject: without, fileName: "a.png", bytes: 9, caption: "" } };
  expect((await bench.refusal("attachments.begin", unnamed)).code).toBe("input.invalid");

  await bench.call("counts.close", { ...about(), lastFieldCounted: true });
  expect(await begin(1)).toMatchObject({
    code: "count.closed",
    message: expect.stringContaining(count.number),
  });
  const withdraw = { attachmentId: picture.id, reason: "of another slide" };
  expect(
    (await bench.refusal("attachments.withdraw", { requestId: bench.request(), ...withdraw })).code,
  ).toBe("count.closed");
  await bench.call("counts.reopen", { ...about(), reason: "a picture of another slide" });
  await bench.call("attachments.withdraw", { requestId: bench.request(), ...withdraw });
  expect(await ofCount()).toMatchObject([{ withdrawn: { reason: "of another slide" } }]);
  expect((await bench.call("trail.verify", {})).differences).toEqual([]);
});

it("a document is no picture for a field", async () => {
  const content = Buffer.from("%PDF-1.7\n");
  const { uploadId } = await bench.call("attachments.begin", {
    attachment: { subject: subject(1), fileName: "scan.pdf", bytes: content.length, caption: "" },
  });
  await bench.call("attachments.part", { uploadId, index: 0, base64: content.toString("base64") });
  const refused = await bench.refusal("attachments.finish", { requestId: bench.request(), uploadId });
  expect(refused.code).toBe("attachment.type");
  expect(await ofCount()).toEqual([]);
});

it("a field lies at a square of a finder slide, refused where it is none; verify names one changed from outside", async () => {
  const place = (position: { x: string; y: string; square?: string }) => ({ ...about(), field: 2, position });
  const refused = await bench.refusal("counts.placeField", place({ x: "", y: "", square: "23M" }));
  expect(refused).toMatchObject({ field: "position.square" });
  await bench.call("counts.placeField", place({ x: "", y: "", square: "M23" }));
  const position = async () => (await bench.call("counts.state", { countId: count.id })).fields[1]?.position;
  expect(await position()).toEqual({ x: "", y: "", square: "M23" });
  // A position that says nothing is none.
  await bench.call("counts.placeField", place({ x: " ", y: "" }));
  expect(await position()).toBeNull();
  await bench.call("counts.placeField", place({ x: "12.5", y: "80", square: "M23" }));
  await attach(bench, subject(2), PNG);
  expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  tamper(
    bench.paths.databaseFile,
    "UPDATE tally_field SET square_typed = 'M24' WHERE square_typed IS NOT NULL; UPDATE attachment SET subject_field = 1",
  );
  const { differences } = await bench.call("trail.verify", {});
  expect(differences.map(({ stored, expected }) => [stored, expected])).toEqual(
    expect.arrayContaining([
      ["M24", "M23"],
      ["1", "2"],
    ]),
  );
});
