import { beforeEach, describe, expect, it, vi } from "vitest";
import { denyPermissions } from "#main/electron/permissions.ts";
import { StandInSession } from "../../support/electron-stand-in.ts";

vi.mock("electron", async () => (await import("../../support/electron-stand-in.ts")).electron);

describe("what a page may ask of the machine", () => {
  let session: StandInSession;
  beforeEach(() => {
    session = new StandInSession();
    denyPermissions(session as never);
  });

  function asked(permission: string, requestingUrl = "linefall://bench/index.html", isMainFrame = true) {
    const answer = vi.fn();
    const details = { requestingUrl, isMainFrame };
    session.requestHandler?.(null as never, permission as never, answer as never, details as never);
    expect(answer).toHaveBeenCalledTimes(1);
    return answer.mock.calls[0]?.[0] as boolean;
  }
  const checked = (permission: string, origin = "linefall://bench", isMainFrame = true) =>
    session.checkHandler?.(null as never, permission as never, origin as never, { isMainFrame } as never);

  it.each([
    "media",
    "geolocation",
    "notifications",
    "midi",
    "hid",
    "serial",
    "usb",
    "clipboard-read",
    "fullscreen",
    "openExternal",
  ])("%s is denied, when asked for and when checked", (permission) => {
    expect(asked(permission)).toBe(false);
    expect(checked(permission)).toBe(false);
    expect(session.deviceHandler?.({ deviceType: permission } as never)).toBe(false);
  });

  it("putting text on the clipboard is granted to the program's own page alone", () => {
    const copy = "clipboard-sanitized-write";
    expect([asked(copy), checked(copy)]).toEqual([true, true]);
    for (const origin of ["https://attacker.example/", "linefall://bench.attacker.example", "null", ""]) {
      expect([origin, asked(copy, origin), checked(copy, origin)]).toEqual([origin, false, false]);
    }
    expect([asked(copy, undefined, false), checked(copy, undefined, false)]).toEqual([false, false]);
  });

  it("downloads nothing", () => {
    const event = { preventDefault: vi.fn() };
    session.emit("will-download", event);
    expect(event.preventDefault).toHaveBeenCalledTimes(1);
  });

  it.each([
    ["linefall://bench/index.html", false],
    ["data:image/png;base64,AAAA", false],
    ["https://attacker.example/", true],
    ["http://127.0.0.1:8080/", true],
    ["ws://127.0.0.1:8080/", true],
    ["file:///etc/passwd", true],
    ["linefall://bench.attacker.example/x", true],
    ["not an address", true],
  ])("loading %s is stopped: %s", (url, cancel) => {
    const answer = vi.fn();
    session.beforeRequest?.({ url }, answer);
    expect(answer).toHaveBeenCalledExactlyOnceWith({ cancel });
  });
});
