import { afterEach, beforeEach, expect, it } from "vitest";
import { USUAL_SETTINGS } from "#core/contract/records/own-settings.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
beforeEach(async () => {
  bench = await tempBench();
});
afterEach(() => bench.end());

const register = (name: string) =>
  bench.call("people.register", {
    requestId: bench.request(),
    person: { name, initials: "", interpupillaryMm: "" },
  });

it("are each person's own, kept with the bench, and told to other windows", async () => {
  expect(await bench.call("ownSettings.read", {})).toBeNull();
  const anna = await register("Anna Ownwish");
  const ben = await register("Ben Otherwish");
  await bench.call("people.choose", { personId: anna.id });
  expect(await bench.call("ownSettings.read", {})).toEqual({ personId: anna.id, settings: null });

  const { now } = await bench.call("bench.changes", { since: null });
  await bench.call("ownSettings.change", { personId: anna.id, change: { decimalSign: "comma" } });
  expect((await bench.call("bench.changes", { since: now })).changed).toEqual(["own settings"]);
  await bench.call("ownSettings.change", { personId: anna.id, change: { keys: { "go.count": ["F2"] } } });
  // A change that comes when somebody else is at the bench already.
  await bench.call("people.choose", { personId: ben.id });
  await bench.call("ownSettings.change", { personId: anna.id, change: { textSize: 125 } });
  expect(await bench.call("ownSettings.read", {})).toEqual({ personId: ben.id, settings: null });

  await bench.reopen();
  await bench.call("people.choose", { personId: anna.id });
  expect((await bench.call("ownSettings.read", {}))?.settings).toEqual({
    ...USUAL_SETTINGS,
    decimalSign: "comma",
    textSize: 125,
    keys: { "go.count": ["F2"] },
  });
});

it("leave no line of the trail: no record depends on them", async () => {
  const { id: personId } = await register("Anna Ownwish");
  const head = await bench.call("trail.head", {});
  await bench.call("ownSettings.change", { personId, change: { theme: "light" } });
  expect(await bench.call("trail.head", {})).toBe(head);
});

it("are refused for nobody, and where a value is none of those offered", async () => {
  const { id: personId } = await register("Anna Ownwish");
  await bench.call("people.choose", { personId });
  expect(await bench.refusal("ownSettings.change", { personId: "nobody", change: {} })).toMatchObject({
    code: "person.unknown",
  });
  for (const change of [{ decimalSign: "semicolon" }, { textSize: 300 }, { taste: "none" }]) {
    expect(await bench.refusal("ownSettings.change", { personId, change })).toMatchObject({
      code: "input.invalid",
    });
  }
  expect((await bench.call("ownSettings.read", {}))?.settings).toBeNull();
});
