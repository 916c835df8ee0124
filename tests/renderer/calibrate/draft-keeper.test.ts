import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import type { Client } from "#core/contract/calls.ts";
import { inputOf } from "#renderer/screens/calibrate/calibration-draft.ts";
import { DraftKeeper, type KeptState } from "#renderer/screens/calibrate/draft-keeper.ts";
import { draft, setting } from "./calibration-fixture.ts";

const typed = (left: string) => inputOf("k", draft(setting(left, "", "", "")));

/** A service that answers when told to. */
function slowService() {
  const sent: string[] = [];
  const waiting: ((code: string | null) => void)[] = [];
  const client = ((_name: string, input: ReturnType<typeof typed>) => {
    sent.push(input.settings[0]?.reticleLeft ?? "");
    return new Promise((resolve) =>
      waiting.push((code) =>
        resolve(code === null ? { ok: true, value: {} } : { ok: false, error: { code, message: code } }),
      ),
    );
  }) as unknown as Client;
  return { client, sent, answer: (code: string | null = null) => waiting.shift()?.(code) };
}

describe("keeping a draft", () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  it("waits for a pause and sends the newest state", async () => {
    const { client, sent } = slowService();
    const keeper = new DraftKeeper(client, () => undefined);
    keeper.keep(typed("1"));
    keeper.keep(typed("12"));
    await vi.advanceTimersByTimeAsync(1000);
    expect(sent).toEqual(["12"]);
  });

  it("never has two calls under way, and what came meanwhile follows", async () => {
    const { client, sent, answer } = slowService();
    const states: KeptState["state"][] = [];
    const keeper = new DraftKeeper(client, ({ state }) => states.push(state));
    keeper.keep(typed("1"));
    await vi.advanceTimersByTimeAsync(500);
    keeper.keep(typed("2"));
    await vi.advanceTimersByTimeAsync(500);
    expect(sent).toEqual(["1"]);
    answer();
    await vi.advanceTimersByTimeAsync(500);
    expect(sent).toEqual(["1", "2"]);
    answer();
    await vi.advanceTimersByTimeAsync(500);
    expect(states.at(-1)).toBe("kept");
  });

  it("flush waits until everything given is kept", async () => {
    const { client, sent, answer } = slowService();
    const keeper = new DraftKeeper(client, () => undefined);
    keeper.keep(typed("1"));
    let isDone = false;
    const flushed = keeper.flush().then(() => {
      isDone = true;
    });
    await vi.advanceTimersByTimeAsync(10);
    expect([sent, isDone]).toEqual([["1"], false]);
    answer();
    await flushed;
    expect(isDone).toBe(true);
  });

  it("says why it was refused, and tries again only when the host was lost", async () => {
    const { client, sent, answer } = slowService();
    const states: KeptState[] = [];
    const keeper = new DraftKeeper(client, (state) => states.push(state));
    keeper.keep(typed("1"));
    await vi.advanceTimersByTimeAsync(500);
    answer("host.lost");
    await vi.advanceTimersByTimeAsync(2000);
    answer("calibration.closed");
    await vi.advanceTimersByTimeAsync(5000);
    expect(sent).toEqual(["1", "1"]);
    expect(states.at(-1)).toMatchObject({ state: "refused", error: { code: "calibration.closed" } });
  });
});
