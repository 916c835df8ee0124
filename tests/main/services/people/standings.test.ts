import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";
import { as, PIN } from "../../../support/traceability-scenes.ts";

let bench: TempBench;
let scene: Scene;
let leaver: string;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  leaver = (
    await bench.call("people.register", {
      requestId: bench.request(),
      person: { name: "Lea Ving", initials: "LV", interpupillaryMm: "" },
    })
  ).id;
});
afterEach(() => bench.end());

const setPin = (personId: string) =>
  as(bench, personId, () =>
    bench.call("people.setPin", { requestId: bench.request(), personId, pin: PIN, presentPin: null }),
  );
const set = (personId: string, standing: "set aside" | "working here") => ({
  requestId: bench.request(),
  personId,
  standing,
  reason: "went to another laboratory",
});

describe("people who left", () => {
  it("are set aside and brought back with a reason, each time a line of the trail, known to verify", async () => {
    expect(await bench.call("people.standings", {})).toEqual([]);
    const change = set(leaver, "set aside");
    const made = await bench.call("people.setStanding", change);
    expect(made).toMatchObject({ personId: leaver, standing: "set aside", by: scene.personId });
    expect(await bench.call("people.setStanding", change), "a repeated request").toEqual(made);
    expect(await bench.refusal("people.setStanding", set(leaver, "set aside"))).toMatchObject({
      code: "person.unchanged",
    });
    expect((await bench.call("people.list", {})).map(({ id }) => id)).toContain(leaver);
    await bench.call("people.setStanding", set(leaver, "working here"));
    expect(await bench.call("people.standings", {})).toMatchObject([{ standing: "working here" }]);
    const { lines } = await bench.call("registers.history", { kind: "person", id: leaver });
    expect(lines.filter(({ act }) => act === "people.setStanding")).toMatchObject([
      { reason: "went to another laboratory", detail: '{"standing":"working here"}' },
      { reason: "went to another laboratory", detail: '{"standing":"set aside"}' },
    ]);
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  });

  it("neither come to the bench nor sign, and their PIN vouches for nobody", async () => {
    await calibrateTrain(bench, scene);
    await setPin(scene.personId);
    await setPin(leaver);
    await bench.call("people.setStanding", set(leaver, "set aside"));
    const away = { code: "person.set-aside", message: expect.stringContaining("went to another laboratory") };
    expect(await bench.refusal("people.choose", { personId: leaver })).toMatchObject(away);
    expect(
      await bench.refusal("people.setPin", {
        requestId: bench.request(),
        personId: leaver,
        pin: "another secret",
        presentPin: PIN,
      }),
    ).toMatchObject(away);
    const about = () => ({ requestId: bench.request(), sheetId: scene.sheet.id, words: "" });
    await enterLength(bench, scene, "row-1", "10", "40");
    await bench.call("sheets.close", about());
    expect(await bench.refusal("sheets.sign", { ...about(), personId: leaver, pin: PIN })).toMatchObject(
      away,
    );
    await bench.call("people.setStanding", set(leaver, "working here"));
    expect(await bench.call("people.choose", { personId: leaver })).toMatchObject({ id: leaver });
  });

  it("leave somebody at the bench, and somebody with a PIN", async () => {
    expect(await bench.refusal("people.setStanding", set(scene.personId, "set aside"))).toMatchObject({
      code: "person.at-bench",
      field: "personId",
    });
    await setPin(leaver);
    expect(await bench.refusal("people.setStanding", set(leaver, "set aside"))).toMatchObject({
      code: "person.last-pin",
      field: "personId",
    });
    await setPin(scene.personId);
    await bench.call("people.setStanding", set(leaver, "set aside"));
  });
});
