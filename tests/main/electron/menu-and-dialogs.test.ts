import { beforeEach, describe, expect, it, vi } from "vitest";
import { chooseExportPath, chooseRecovery, offerReload, showTrouble } from "#main/electron/dialogs.ts";
import { installMenu, menuTemplate } from "#main/electron/menu.ts";
import { answers, recorded, startAfresh } from "../../support/electron-stand-in.ts";

vi.mock("electron", async () => (await import("../../support/electron-stand-in.ts")).electron);

const question = {
  message: "bench.sqlite is damaged.",
  hint: "Choose a way out.",
  offers: ["Restore the backup", "Start with an empty bench"],
};

describe("the menu", () => {
  beforeEach(startAfresh);

  it.each(["linux", "win32", "darwin"] as const)(
    "of %s leaves the keys of the entry grid alone",
    (platform) => {
      installMenu(platform);
      const text = JSON.stringify(recorded.menus[0]);
      expect(recorded.menus).toEqual([menuTemplate(platform)]);
      expect(text).not.toMatch(/reload|toggleDevTools|editMenu|viewMenu|accelerator/i);
      expect(/"undo".*"redo"/.test(text)).toBe(platform === "darwin");
      expect(text).toContain("togglefullscreen");
    },
  );
});

describe("questions to the person", () => {
  beforeEach(startAfresh);

  it("a cancelled export is null, a chosen path is taken as it is", async () => {
    expect(await chooseExportPath(null, "/bench/sheet.xlsx")).toBeNull();
    answers.savePath = { canceled: false, filePath: "/elsewhere/mine.xlsx" };
    expect(await chooseExportPath(null, "/bench/sheet.xlsx")).toBe("/elsewhere/mine.xlsx");
    expect(recorded.openDialogs.at(-1)).toMatchObject({
      defaultPath: "/bench/sheet.xlsx",
      filters: [{ extensions: ["xlsx"] }],
    });
  });

  it("a bench that does not open offers its ways out, and closing the question takes none", async () => {
    answers.button = 1;
    expect(await chooseRecovery(question)).toBe(1);
    answers.button = 2;
    expect(await chooseRecovery(question)).toBeNull();
    expect(recorded.openDialogs[0]).toMatchObject({
      message: "bench.sqlite is damaged.",
      detail: "Choose a way out.",
      buttons: ["Restore the backup", "Start with an empty bench", "Change nothing and quit"],
      cancelId: 2,
      defaultId: 2,
    });
  });

  it("a window that stopped can be loaded again or left", async () => {
    expect(await offerReload(null as never, "crashed")).toBe(true);
    answers.button = 1;
    expect(await offerReload(null as never, "crashed")).toBe(false);
  });

  it("trouble is shown with what to do next", () => {
    showTrouble("The bench is open elsewhere.", "Close it there.");
    expect(recorded.errorBoxes).toEqual([["The bench is open elsewhere.", "Close it there."]]);
  });
});
