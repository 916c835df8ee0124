import { beforeEach, describe, expect, it, vi } from "vitest";
import { answers, recorded } from "../../support/electron-stand-in.ts";

vi.mock("electron", async () => (await import("../../support/electron-stand-in.ts")).electron);
// The preload runs once per window, as here.
await import("#main/electron/preload.ts");

interface Bridge {
  readonly host: string;
  call(name: string, input: string): Promise<string>;
  tellUnsaved(words: unknown): void;
}
const bridge = recorded.exposed.get("linefall") as Bridge;

describe("what the window sees of Electron", () => {
  beforeEach(() => {
    recorded.invoked.length = 0;
  });

  it("is one object with the host's name and two functions, and nothing raw", () => {
    expect([...recorded.exposed.keys()]).toEqual(["linefall"]);
    expect(bridge).toEqual({
      host: "electron",
      call: expect.any(Function),
      tellUnsaved: expect.any(Function),
    });
  });

  it("a call goes by its contract name, as text, and its answer comes back as it is", async () => {
    answers.invoke = async () => '{"ok":true,"value":1}';
    expect(await bridge.call("bench.status", '{"a":1}')).toBe('{"ok":true,"value":1}');
    expect(recorded.invoked).toEqual([["linefall:bench.status", '{"a":1}']]);
  });

  it("a call rejects when the main process is lost: the client sends it again", async () => {
    answers.invoke = () => Promise.reject(new Error("Error invoking remote method"));
    await expect(bridge.call("bench.status", "{}")).rejects.toThrow();
    answers.invoke = async () => null;
  });

  it("a call can only use channels of this program", async () => {
    for (const name of ["../ELECTRON_BROWSER_REQUIRE", "", "__proto__"]) await bridge.call(name, "{}");
    expect(recorded.invoked.map(([channel]) => channel)).toEqual([
      "linefall:../ELECTRON_BROWSER_REQUIRE",
      "linefall:",
      "linefall:__proto__",
    ]);
  });

  it("what is not stored is told in words, and in nothing else", () => {
    bridge.tellUnsaved(["sheet S-0001: 2 entries on their way", { a: 1 }]);
    expect(recorded.sent).toEqual([
      ["linefall-window:unsaved", ["sheet S-0001: 2 entries on their way", "[object Object]"]],
    ]);
  });
});
