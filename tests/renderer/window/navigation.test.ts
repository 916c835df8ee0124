// @vitest-environment jsdom
import fc from "fast-check";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { type Location, SCREEN_START, SCREENS } from "#renderer/window/location.ts";
import { Navigation } from "#renderer/window/navigation.ts";

const { bench, registers, records, about } = SCREEN_START;

beforeEach(() => sessionStorage.clear());

describe("where the person is", () => {
  it("starts at the bench and comes back the way it went", () => {
    const navigation = new Navigation(sessionStorage);
    navigation.go(registers);
    navigation.go(records);
    expect(navigation.state()).toMatchObject({ location: records, canGoBack: true });
    navigation.back();
    navigation.back();
    expect(navigation.state()).toMatchObject({ location: bench, canGoBack: false });
    navigation.back();
    expect(navigation.state().location).toEqual(bench);
  });

  it("does not stack the place it is at already", () => {
    const navigation = new Navigation(sessionStorage);
    navigation.go({ screen: "bench" });
    expect(navigation.state().canGoBack).toBe(false);
  });

  it("is there again after a reload, with the way back", () => {
    const before = new Navigation(sessionStorage);
    before.go(registers);
    before.go({ screen: "measure", sheetId: "s-1" });
    const after = new Navigation(sessionStorage);
    expect(after.state().location).toEqual({ screen: "measure", sheetId: "s-1" });
    after.back();
    expect(after.state().location).toEqual(registers);
  });

  it.each([
    ["nothing readable", "{"],
    ["another program's value", '{"location":{"screen":"elsewhere"},"back":[]}'],
    ["an older shape", '{"location":{"screen":"records"},"back":[]}'],
  ])("starts at the bench when the window kept %s", (_, kept) => {
    sessionStorage.setItem("linefall.location", kept);
    expect(new Navigation(sessionStorage).state().location).toEqual(bench);
  });

  it("returns to the start whatever way was walked", () => {
    const places: readonly Location[] = SCREENS.map((screen) => SCREEN_START[screen]);
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...places), { maxLength: 40 }), (walk) => {
        sessionStorage.clear();
        const navigation = new Navigation(sessionStorage);
        for (const place of walk) navigation.go(place);
        for (let step = 0; step < walk.length; step += 1) navigation.back();
        expect(navigation.state()).toMatchObject({ location: bench, canGoBack: false });
      }),
    );
  });
});

describe("leaving unsaved work", () => {
  function withWork() {
    const navigation = new Navigation(sessionStorage);
    navigation.go(registers);
    const discard = vi.fn();
    const release = navigation.guard("form", { what: "the person", discard });
    return { navigation, discard, release };
  }

  it("asks first and goes nowhere meanwhile", () => {
    const { navigation } = withWork();
    navigation.go(about);
    expect(navigation.state().asking?.what).toBe("the person");
    expect(navigation.state().location).toEqual(registers);
  });

  it.each([
    ["stay", registers, 0],
    ["keep", about, 0],
    ["discard", about, 1],
  ] as const)("answered %s", (answer, location, discarded) => {
    const { navigation, discard } = withWork();
    navigation.go(about);
    navigation.answer(answer);
    expect(navigation.state()).toMatchObject({ location, asking: null });
    expect(discard).toHaveBeenCalledTimes(discarded);
  });

  it("asks on the way back too", () => {
    const { navigation } = withWork();
    navigation.back();
    expect(navigation.state().asking).not.toBeNull();
  });

  it("asks again after the person stayed", () => {
    const { navigation } = withWork();
    navigation.go(about);
    navigation.answer("stay");
    navigation.go(records);
    expect(navigation.state().asking).not.toBeNull();
  });

  it("does not ask once the work is saved", () => {
    const { navigation, release } = withWork();
    release();
    navigation.go(about);
    expect(navigation.state().location).toEqual(about);
  });

  it("names every unsaved piece of work", () => {
    const { navigation } = withWork();
    navigation.guard("other", { what: "the method", discard: () => undefined });
    navigation.go(about);
    expect(navigation.state().asking?.what).toBe("the person, the method");
  });
});
