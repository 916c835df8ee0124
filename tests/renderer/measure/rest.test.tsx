// @vitest-environment jsdom
import { act } from "react";
import { createRoot } from "react-dom/client";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { USUAL_SETTINGS } from "#core/contract/records/own-settings.ts";
import { RestReminder } from "#renderer/screens/measure/rest/RestReminder.tsx";
import { AWAY, LATER, RestClock } from "#renderer/screens/measure/rest/rest-clock.ts";
import { KeyDispatcher } from "#renderer/window/key-dispatcher.ts";
import { changeOwnSettings } from "#renderer/window/own-settings.ts";
import { KeyboardProvider } from "#renderer/window/use-command.tsx";

const MINUTE = 60_000;

/** A clock whose time a test lets pass. */
function clockAt() {
  let now = 1_000_000;
  const clock = new RestClock(() => now);
  return {
    clock,
    pass: (milliseconds: number) => {
      now += milliseconds;
    },
    /** Works for so long, a key every minute. */
    work: (minutes: number) => {
      clock.worked();
      for (let minute = 0; minute < minutes; minute += 1) {
        now += MINUTE;
        clock.worked();
      }
    },
  };
}

describe("the time of work without a rest", () => {
  it("is due after twenty minutes and not before", () => {
    const { clock, work } = clockAt();
    expect(clock.isDue(20)).toBe(false);
    work(19);
    expect(clock.isDue(20)).toBe(false);
    work(1);
    expect(clock.isDue(20)).toBe(true);
  });

  it("begins anew after a pause, and is not due while nobody is there", () => {
    const { clock, work, pass } = clockAt();
    work(25);
    pass(AWAY);
    expect(clock.isDue(20)).toBe(false);
    work(10);
    expect(clock.isDue(20)).toBe(false);
  });

  it("stays due through a short pause, in which the eyes may be at the eyepiece, and not through a long one", () => {
    const { clock, work, pass } = clockAt();
    work(20);
    pass(AWAY - 1);
    clock.worked();
    expect(clock.isDue(20)).toBe(true);
    pass(AWAY);
    clock.worked();
    expect(clock.isDue(20)).toBe(false);
  });

  it("said to be rested begins anew; put off it comes again", () => {
    const { clock, work } = clockAt();
    work(20);
    clock.later();
    expect(clock.isDue(20)).toBe(false);
    work(LATER / MINUTE);
    expect(clock.isDue(20)).toBe(true);
    clock.rested();
    work(19);
    expect(clock.isDue(20)).toBe(false);
  });
});

describe("the reminder on screen", () => {
  beforeEach(() => {
    vi.useFakeTimers();
    (globalThis as { IS_REACT_ACT_ENVIRONMENT?: boolean }).IS_REACT_ACT_ENVIRONMENT = true;
    changeOwnSettings({ rest: USUAL_SETTINGS.rest });
  });
  afterEach(() => void vi.useRealTimers());

  function shown() {
    const place = document.createElement("div");
    const field = document.createElement("input");
    document.body.replaceChildren(place, field);
    field.focus();
    const { clock, work } = clockAt();
    const dispatcher = new KeyDispatcher();
    const root = createRoot(place);
    act(() =>
      root.render(
        <KeyboardProvider dispatcher={dispatcher}>
          <RestReminder clock={clock} />
        </KeyboardProvider>,
      ),
    );
    const look = (): void => act(() => void vi.advanceTimersByTime(5000));
    return { place, field, clock, work, look, root };
  }

  it("speaks politely, takes no focus, and goes with Alt+R", () => {
    const { place, field, work, look, root } = shown();
    look();
    expect(place.textContent).toBe("");
    work(20);
    look();
    expect(place.querySelector("[aria-live=polite]")?.textContent).toMatch(/^20 minutes at work/);
    expect(document.activeElement).toBe(field);
    act(
      () => void field.dispatchEvent(new KeyboardEvent("keydown", { key: "r", altKey: true, bubbles: true })),
    );
    expect(place.textContent).toBe("");
    act(() => root.unmount());
  });

  it("says nothing when it is turned off, at once", () => {
    const { place, work, look, root } = shown();
    work(20);
    look();
    expect(place.textContent).not.toBe("");
    act(() => changeOwnSettings({ rest: { on: false, minutes: 20 } }));
    expect(place.textContent).toBe("");
    look();
    expect(place.textContent).toBe("");
    act(() => root.unmount());
  });
});
