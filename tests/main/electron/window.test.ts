import { beforeEach, describe, expect, it, vi } from "vitest";
import { confine, openWindow } from "#main/electron/window.ts";
import { answers, recorded, StandInContents, startAfresh } from "../../support/electron-stand-in.ts";

vi.mock("electron", async () => (await import("../../support/electron-stand-in.ts")).electron);

function opened() {
  openWindow();
  const window = recorded.windows[0];
  if (window === undefined) throw new Error("no window was opened");
  return window;
}

describe("the program's window", () => {
  beforeEach(startAfresh);

  it("has exactly these web preferences", () => {
    expect(opened().options.webPreferences).toEqual({
      preload: expect.stringMatching(/preload[/\\]preload\.cjs$/),
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      webviewTag: false,
      spellcheck: false,
      devTools: true,
    });
  });

  it("has the program's icon", () => {
    // As it stands beside the built main process; here the same two folders up.
    expect(String(opened().options.icon)).toMatch(/resources[/\\]icon\.png$/);
  });

  it("has no developer tools once packaged", () => {
    answers.packaged = true;
    expect(opened().options.webPreferences).toMatchObject({ devTools: false });
  });

  it("loads the program's own address and is shown at once: ready-to-show may never come", () => {
    const window = opened();
    expect(window.loaded).toEqual(["linefall://bench/index.html"]);
    expect(window.options.show ?? true).toBe(true);
    expect(window.options.backgroundColor).toMatch(/^#[0-9a-f]{6}$/);
    expect(window.listenerCount("ready-to-show")).toBe(0);
  });

  it("is where it was last time, which Electron does for a window with a name", () => {
    expect(opened().options).toMatchObject({ name: "bench", windowStatePersistence: true });
  });
});

describe("a page", () => {
  const contents = new StandInContents();
  confine(contents as never);

  it.each(["will-navigate", "will-frame-navigate", "will-redirect", "will-attach-webview"])(
    "may not go on with %s",
    (name) => {
      const event = { preventDefault: vi.fn(), url: "linefall://bench/other.html" };
      contents.emit(name, event, "https://attacker.example/");
      expect(event.preventDefault).toHaveBeenCalledTimes(1);
    },
  );

  it.each(["https://attacker.example/", "linefall://bench/index.html", "about:blank", "file:///etc/passwd"])(
    "may not open %s in a window",
    (url) => {
      expect(contents.openHandler?.({ url })).toEqual({ action: "deny" });
    },
  );
});
