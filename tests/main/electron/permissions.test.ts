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
    const answer = vi.fn();
    session.requestHandler?.(null as never, permission as never, answer as never);
    expect(answer).toHaveBeenCalledExactlyOnceWith(false);
    expect(session.checkHandler?.(null as never, permission as never)).toBe(false);
    expect(session.deviceHandler?.({ deviceType: permission } as never)).toBe(false);
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
