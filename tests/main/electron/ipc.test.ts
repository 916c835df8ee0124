import { beforeEach, describe, expect, it, vi } from "vitest";
import { calls } from "#core/contract/calls.ts";
import { registerCalls } from "#main/electron/ipc.ts";
import { recorded, StandInContents, startAfresh } from "../../support/electron-stand-in.ts";

vi.mock("electron", async () => (await import("../../support/electron-stand-in.ts")).electron);

const own = new StandInContents();
const call = vi.fn(async (name: string) => JSON.stringify({ ok: true, value: name }));
const log = vi.fn();
let contents: StandInContents | null = own;

async function invoke(name: string, event: unknown, input: unknown = "{}"): Promise<unknown> {
  const handler = recorded.handlers.get(`linefall:${name}`);
  if (handler === undefined) throw new Error(`no handler for ${name}`);
  return JSON.parse((await handler(event as never, input as never)) as string) as unknown;
}

describe("calls from the window", () => {
  beforeEach(() => {
    startAfresh();
    vi.clearAllMocks();
    contents = own;
    registerCalls({ call, ownContents: () => contents as never, log });
  });

  it("are exactly those of the contract, each under its own name", () => {
    expect([...recorded.handlers.keys()]).toEqual(Object.keys(calls).map((name) => `linefall:${name}`));
  });

  it("are passed on with name and input", async () => {
    const event = { sender: own, senderFrame: own.mainFrame };
    expect(await invoke("bench.status", event, '{"a":1}')).toEqual({ ok: true, value: "bench.status" });
    expect(call).toHaveBeenCalledExactlyOnceWith("bench.status", '{"a":1}');
  });

  it("that are no text are refused unread", async () => {
    const event = { sender: own, senderFrame: own.mainFrame };
    for (const input of [{ a: 1 }, undefined, 5]) {
      expect(await invoke("bench.status", event, input ?? null)).toMatchObject({
        error: { code: "input.invalid" },
      });
    }
    expect(call).not.toHaveBeenCalled();
  });

  it.each([
    ["a frame inside the page", () => ({ sender: own, senderFrame: { url: own.mainFrame.url } })],
    ["a frame that has gone", () => ({ sender: own, senderFrame: null })],
    [
      "another window",
      () => {
        const other = new StandInContents();
        return { sender: other, senderFrame: other.mainFrame };
      },
    ],
    [
      "our frame claimed by another window",
      () => ({ sender: new StandInContents(), senderFrame: own.mainFrame }),
    ],
  ])("from %s are refused by every call, and logged", async (_who, event) => {
    for (const name of Object.keys(calls)) {
      expect(await invoke(name, event())).toMatchObject({ ok: false, error: { code: "access.refused" } });
    }
    expect(call).not.toHaveBeenCalled();
    expect(log).toHaveBeenCalledTimes(Object.keys(calls).length);
  });

  it.each(["https://attacker.example/", "linefall://bench.attacker.example/", "about:blank", "file:///x"])(
    "from our window are refused while it shows %s",
    async (url) => {
      const strayed = new StandInContents();
      Object.assign(strayed.mainFrame, { url });
      contents = strayed;
      const answer = await invoke("bench.status", { sender: strayed, senderFrame: strayed.mainFrame });
      expect(answer).toMatchObject({ ok: false, error: { code: "access.refused" } });
      expect(call).not.toHaveBeenCalled();
    },
  );

  it("are refused when there is no window any more", async () => {
    contents = null;
    const answer = await invoke("bench.status", { sender: own, senderFrame: own.mainFrame });
    expect(answer).toMatchObject({ ok: false, error: { code: "access.refused" } });
  });
});
