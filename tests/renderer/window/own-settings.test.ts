// @vitest-environment jsdom
import { beforeEach, describe, expect, it, vi } from "vitest";
import { type OwnSettings, USUAL_SETTINGS } from "#core/contract/records/own-settings.ts";
import { KeyDispatcher } from "#renderer/window/key-dispatcher.ts";
import { giveKeys, keysOf } from "#renderer/window/keymap.ts";
import { COMMANDS_WITH_KEYS, whyNotThisKey } from "#renderer/window/own-keys.ts";
import { OwnSettingsStore, type SendSettings } from "#renderer/window/own-settings.ts";

function memory() {
  const kept = new Map<string, string>();
  return {
    storage: {
      getItem: (key: string) => kept.get(key) ?? null,
      setItem: (key: string, value: string) => void kept.set(key, value),
    },
    page: { cookie: "" },
  };
}
const COMMA: OwnSettings = { ...USUAL_SETTINGS, decimalSign: "comma" };

/** A bench that answers when the test says so. */
function slowBench() {
  const sent: { personId: string; change: object; answer: (ok: boolean) => Promise<void> }[] = [];
  const send: SendSettings = (personId, change) =>
    new Promise((resolve) => {
      sent.push({
        personId,
        change,
        answer: async (ok) => {
          resolve(
            ok
              ? { ok: true, value: COMMA }
              : {
                  ok: false,
                  error: { code: "host.lost", message: "No answer.", hint: "Ask again." } as never,
                },
          );
          await new Promise((next) => setTimeout(next));
        },
      });
    });
  return { sent, send };
}

describe("the settings of a window", () => {
  it("are the person's, and another person's when that one comes", () => {
    const store = new OwnSettingsStore(memory());
    store.take({ personId: "anna", settings: COMMA });
    expect(store.settings().decimalSign).toBe("comma");
    store.take({ personId: "ben", settings: null });
    expect(store.settings()).toEqual(USUAL_SETTINGS);
    store.take({ personId: "anna", settings: COMMA });
    expect(store.settings()).toEqual(COMMA);
  });

  it("chosen before anybody was at the bench are those of the person who comes first", () => {
    const store = new OwnSettingsStore(memory());
    store.take(null);
    store.change({ theme: "light" });
    store.take({ personId: "anna", settings: null });
    expect(store.settings().theme).toBe("light");
  });

  it("are there at the next start, before the bench has answered", () => {
    const machine = memory();
    new OwnSettingsStore(machine).take({ personId: "anna", settings: COMMA });
    expect(new OwnSettingsStore(machine).settings()).toEqual(COMMA);
    // At another port of the host only the cookie is left.
    const elsewhere = { ...memory(), page: { cookie: machine.page.cookie.split(";")[0] ?? "" } };
    expect(new OwnSettingsStore(elsewhere).settings()).toEqual(COMMA);
  });

  it("begin with what earlier versions kept on the machine, and as usual where that is nonsense", () => {
    const old = memory();
    old.storage.setItem("linefall.theme", "light");
    old.storage.setItem("linefall.sound", '{"muted":true,"volume":0.25,"speech":false,"spokenEvery":100}');
    old.storage.setItem("linefall.rest", '{"on":1}');
    old.storage.setItem("linefall.view", "compact.narrowRail");
    expect(new OwnSettingsStore(old).settings()).toEqual({
      ...USUAL_SETTINGS,
      theme: "light",
      sound: { muted: true, volume: 0.25, speech: false, spokenEvery: 100 },
      compact: true,
      narrowRail: true,
    });
  });
});

describe("a change", () => {
  it("holds at once, and the first one tells the bench everything", async () => {
    const store = new OwnSettingsStore(memory());
    const { sent, send } = slowBench();
    store.use(send);
    store.take({ personId: "anna", settings: null });
    store.change({ decimalSign: "comma" });
    expect(store.settings().decimalSign).toBe("comma");
    expect(sent).toMatchObject([{ personId: "anna", change: COMMA }]);
    await sent[0]?.answer(true);
    store.change({ textSize: 110 });
    expect(sent[1]?.change).toEqual({ textSize: 110 });
  });

  it("is not undone by an answer that was on its way, and changes made meanwhile go together", async () => {
    const store = new OwnSettingsStore(memory());
    const { sent, send } = slowBench();
    store.use(send);
    store.take({ personId: "anna", settings: COMMA });
    store.change({ textSize: 110 });
    store.change({ textSize: 125 });
    store.change({ theme: "light" });
    store.take({ personId: "anna", settings: COMMA });
    expect(store.settings()).toMatchObject({ textSize: 125, theme: "light" });
    await sent[0]?.answer(true);
    expect(sent.map(({ change }) => change)).toEqual([{ textSize: 110 }, { textSize: 125, theme: "light" }]);
  });

  it("that could not be stored says why, holds here, and goes with the next one", async () => {
    const store = new OwnSettingsStore(memory());
    const { sent, send } = slowBench();
    store.use(send);
    store.take({ personId: "anna", settings: COMMA });
    store.change({ textSize: 110 });
    await sent[0]?.answer(false);
    expect(store.trouble()?.message).toBe("No answer.");
    expect(store.settings().textSize).toBe(110);
    store.change({ theme: "light" });
    expect(sent[1]?.change).toEqual({ textSize: 110, theme: "light" });
    await sent[1]?.answer(true);
    expect(store.trouble()).toBeNull();
  });

  it("of somebody who has left is not sent as another's", async () => {
    const store = new OwnSettingsStore(memory());
    const { sent, send } = slowBench();
    store.use(send);
    store.take({ personId: "anna", settings: COMMA });
    store.change({ textSize: 110 });
    store.change({ theme: "light" });
    store.take({ personId: "ben", settings: null });
    await sent[0]?.answer(true);
    expect(sent).toHaveLength(1);
  });
});

describe("a key of one's own", () => {
  beforeEach(() => giveKeys({}));

  it("runs the command, and its usual key no longer does", () => {
    const dispatcher = new KeyDispatcher();
    const run = vi.fn();
    dispatcher.register("go.count", 0, run);
    const press = (key: string, altKey: boolean) =>
      dispatcher.press(
        { key, code: "", altKey, ctrlKey: false, shiftKey: false, metaKey: false },
        document.body,
      );
    giveKeys({ "go.count": ["F2"] });
    expect(press("F2", false)).toBe(true);
    expect(press("4", true)).toBe(false);
    expect(run).toHaveBeenCalledOnce();
    expect(keysOf("go.count")).toEqual(["F2"]);
  });

  it.each([
    ["5", /typed into fields/],
    ["Enter", /typed into fields/],
    ["Ctrl+Alt+€", /typed into fields/],
    ["Ctrl+C", /window or by fields/],
    ["Alt+F4", /window or by fields/],
    ["Alt+3", /the key of “Measure”/],
    ["F3", /the key of “next rejected entry”/],
  ])("%s is refused with its reason", (chord, why) => {
    expect(whyNotThisKey("go.count", chord)).toMatch(why);
  });

  it("may be free, its own, or one that another command has given up", () => {
    expect(whyNotThisKey("go.count", "Alt+4")).toBeNull();
    expect(whyNotThisKey("go.count", "Alt+J")).toBeNull();
    giveKeys({ "go.measure": ["Alt+J"] });
    expect(whyNotThisKey("go.count", "Alt+3")).toBeNull();
    expect(whyNotThisKey("go.count", "Alt+J")).toMatch(/Measure/);
  });

  it("is offered for every command but the nine of Bench", () => {
    expect(COMMANDS_WITH_KEYS.map(({ id }) => id)).not.toContain("bench.choose");
    expect(COMMANDS_WITH_KEYS.length).toBeGreaterThan(25);
  });
});
