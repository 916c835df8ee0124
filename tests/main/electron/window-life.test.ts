import { setTimeout as pause } from "node:timers/promises";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { endWithSystem, endWithWindow } from "#main/electron/ending.ts";
import { openWindow } from "#main/electron/window.ts";
import { type WindowLife, watchWindow } from "#main/electron/window-life.ts";
import {
  answers,
  electron,
  recorded,
  type StandInWindow,
  startAfresh,
} from "../../support/electron-stand-in.ts";

vi.mock("electron", async () => (await import("../../support/electron-stand-in.ts")).electron);

const KEEP = 0;
const CLOSE = 1;

describe("a window that would rather not close", () => {
  let window: StandInWindow;
  let life: WindowLife;
  const onClosed = vi.fn();
  beforeEach(() => {
    startAfresh();
    vi.clearAllMocks();
    const opened = openWindow();
    life = watchWindow(opened, onClosed, () => {});
    window = opened as never;
  });

  /** As Electron does when the page's beforeunload wants to stay. @returns whether the page may go all the same */
  function wantsToStay(): boolean {
    const event = { preventDefault: vi.fn() };
    window.webContents.emit("will-prevent-unload", event);
    return event.preventDefault.mock.calls.length > 0;
  }
  const tell = (words: unknown, contents: unknown = window.webContents) =>
    recorded.listeners.get("linefall-window:unsaved")?.(
      { sender: contents, senderFrame: window.webContents.mainFrame } as never,
      words as never,
    );

  it("is kept open while the person is asked, and the question names what is not stored", async () => {
    answers.button = KEEP;
    tell(["sheet S-0001: 2 entries on their way", "count T-0002: 1 press on its way"]);
    expect(wantsToStay()).toBe(false);
    await vi.waitFor(() => expect(recorded.openDialogs).toHaveLength(1));
    const { detail, cancelId, defaultId } = recorded.openDialogs[0] as Record<string, unknown>;
    expect(detail).toContain("• sheet S-0001: 2 entries on their way\n• count T-0002: 1 press on its way");
    expect([cancelId, defaultId]).toEqual([KEEP, KEEP]);
    expect(window.closes).toBe(0);
  });

  it("closes when the person says so, and is not asked twice", async () => {
    answers.button = CLOSE;
    tell(["a form"]);
    expect(wantsToStay()).toBe(false);
    expect(wantsToStay()).toBe(false);
    await vi.waitFor(() => expect(window.closes).toBe(1));
    expect(wantsToStay()).toBe(true);
    expect(recorded.openDialogs).toHaveLength(1);
  });

  it("is asked about each time anew, with the words of that time", async () => {
    answers.button = KEEP;
    tell(["first"]);
    wantsToStay();
    await vi.waitFor(() => expect(recorded.openDialogs).toHaveLength(1));
    await pause(0);
    // The words may come after the wish to stay.
    wantsToStay();
    tell(["second"]);
    await vi.waitFor(() => expect(recorded.openDialogs).toHaveLength(2));
    expect(JSON.stringify(recorded.openDialogs[1])).toContain("• second");
  });

  it("closes always: words that never come, or come from another page, do not hold it", async () => {
    answers.button = CLOSE;
    tell(["forged"], {});
    tell("no list");
    expect(wantsToStay()).toBe(false);
    await vi.waitFor(() => expect(window.closes).toBe(1));
    expect(JSON.stringify(recorded.openDialogs[0])).not.toMatch(/forged|no list/);
  });

  it("goes without a question when the system ends", () => {
    life.letGo();
    expect(wantsToStay()).toBe(true);
    expect(recorded.openDialogs).toEqual([]);
  });

  it("that stopped is offered to be loaded again, or the program ends", async () => {
    answers.button = 0;
    window.webContents.emit("render-process-gone", {}, { reason: "oom" });
    await vi.waitFor(() => expect(window.webContents.reloads).toBe(1));
    answers.button = 1;
    window.webContents.emit("render-process-gone", {}, { reason: "crashed" });
    await vi.waitFor(() => expect(recorded.quits).toBe(1));
  });
});

describe("the end of the system's session", () => {
  const close = vi.fn(async () => {});
  const letGo = vi.fn();
  const service = { opened: Promise.resolve(), call: vi.fn(), close };
  let window: StandInWindow;
  beforeEach(() => {
    startAfresh();
    vi.clearAllMocks();
    const opened = openWindow();
    endWithWindow(service);
    endWithSystem(opened, { letGo }, service);
    window = opened as never;
  });

  it("on Linux and macOS is waited with, and the program quits as always", () => {
    const event = { preventDefault: vi.fn() };
    electron.powerMonitor.emit("shutdown", event);
    expect(event.preventDefault).toHaveBeenCalledTimes(1);
    expect(letGo).toHaveBeenCalledTimes(1);
    expect(recorded.quits).toBe(1);
  });

  it("on Windows closes the bench when it is certain, and not before", async () => {
    const event = { preventDefault: vi.fn(), reasons: ["logoff"] };
    window.emit("query-session-end", event);
    expect(event.preventDefault).not.toHaveBeenCalled();
    expect(close).not.toHaveBeenCalled();
    window.emit("session-end", event);
    await vi.waitFor(() => expect(recorded.exitCodes).toEqual([0]));
    expect(close).toHaveBeenCalledTimes(1);
  });
});
