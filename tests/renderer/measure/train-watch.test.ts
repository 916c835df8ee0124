import { describe, expect, it } from "vitest";
import { IDLE_BREAK, TrainWatch } from "#renderer/screens/measure/train/train-watch.ts";
import { GridDriver, press } from "../grid/grid-fixture.ts";

/** A watch on a clock of its own, and what it was told is in the light path. */
function watched(visit = { sheetId: "s1", personId: "p1" }) {
  const clock = { now: 0 };
  const confirmed: string[] = [];
  const watch = new TrainWatch({ now: () => clock.now, onConfirm: (id) => confirmed.push(id) });
  watch.visit(visit);
  const grid = new GridDriver();
  /** One key as the window hands it on: touched first, then the question, then the grid. */
  const key = (name: string): void => {
    watch.touch();
    const before = grid.state;
    if (!watch.key(press(name), before)) grid.key(name);
    watch.gridChanged(before, grid.state);
  };
  return {
    watch,
    grid,
    confirmed,
    keys: (...names: readonly string[]) => names.forEach(key),
    pass: (ms: number) => {
      clock.now += ms;
    },
  };
}

describe("what the train is asked for", () => {
  it("is asked when a sheet is opened, answered by Enter and then not again", () => {
    const { watch, confirmed, keys } = watched();
    expect(watch.asked()).toBe("opened");
    keys("Enter");
    expect(confirmed).toEqual(["o1"]);
    expect(watch.asked()).toBeNull();
    watch.visit({ sheetId: "s1", personId: "p1" });
    expect(watch.asked(), "coming back to the same sheet").toBeNull();
    watch.visit({ sheetId: "s2", personId: "p1" });
    expect(watch.asked(), "another sheet").toBe("opened");
  });

  it("is asked no more once it was answered elsewhere, and nothing is recorded twice", () => {
    const { watch, confirmed, keys } = watched();
    watch.answered();
    expect(watch.asked()).toBeNull();
    keys("Enter");
    expect(confirmed).toEqual([]);
  });

  it("is asked when another person comes to the bench", () => {
    const { watch, keys } = watched();
    keys("Enter");
    watch.visit({ sheetId: "s1", personId: "p2" });
    expect(watch.asked()).toBe("person");
  });

  it("is asked after a break of 15 minutes, and not a moment before", () => {
    const { watch, keys, pass } = watched();
    keys("Enter");
    pass(IDLE_BREAK - 1);
    watch.look();
    expect(watch.asked()).toBeNull();
    keys("4");
    pass(IDLE_BREAK - 1);
    watch.look();
    expect(watch.asked(), "a key begins the pause anew").toBeNull();
    pass(1);
    watch.look();
    expect(watch.asked()).toBe("idle");
    expect(IDLE_BREAK).toBe(900_000);
  });

  it("is not answered by the key that ends the break, before anybody could read it", () => {
    const { watch, confirmed, keys, pass } = watched();
    keys("Enter");
    pass(IDLE_BREAK);
    keys("Enter");
    expect(watch.asked()).toBe("idle");
    keys("Enter");
    expect(confirmed).toEqual(["o1", "o1"]);
  });
});

describe("the work beside the question", () => {
  it("takes readings as ever: Enter is the answer only where nothing was typed", () => {
    const { watch, grid, confirmed, keys } = watched();
    keys("4", "0", "Enter");
    expect(grid.state.outbox.map((item) => item.kind === "enter" && item.typed)).toEqual(["40"]);
    expect(confirmed).toEqual([]);
    expect(watch.asked()).toBe("opened");
    keys("Enter");
    expect(confirmed).toEqual(["o1"]);
    expect(grid.state.outbox).toHaveLength(1);
  });

  it("leaves a reading that was half-typed before the break in its editor", () => {
    const { watch, grid, confirmed, keys, pass } = watched();
    keys("Enter", "4");
    pass(IDLE_BREAK);
    watch.look();
    keys("Enter");
    expect(confirmed).toHaveLength(2);
    expect(grid.state.editing?.text).toBe("4");
    keys("1", "Enter");
    expect(grid.state.outbox.map((item) => item.kind === "enter" && item.typed)).toEqual(["41"]);
  });

  it("is answered by choosing an objective by its position, the same one too", () => {
    const { watch, confirmed, keys, grid } = watched();
    keys("/", "2");
    expect(confirmed).toEqual(["o2"]);
    expect(grid.state.outbox).toMatchObject([{ kind: "objective", objectiveId: "o2" }]);
    watch.ask("idle");
    keys("/", "2");
    expect(confirmed, "it is in use already").toEqual(["o2", "o2"]);
  });

  it("is not answered by looking at the turret and leaving it", () => {
    const { watch, confirmed, keys } = watched();
    keys("/", "Escape");
    keys("/", "/");
    expect(confirmed).toEqual([]);
    expect(watch.asked()).toBe("opened");
  });
});
