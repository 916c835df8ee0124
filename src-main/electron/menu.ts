import { Menu, type MenuItemConstructorOptions } from "electron";

/**
 * The few things a menu is needed for. There is no Reload in it, and no Undo or Redo but on macOS: their keys belong to
 * the entry grid, and a menu would take them first. On macOS a page hears the keys before the menu does, and fields
 * undo by the menu alone.
 */
export function installMenu(platform: NodeJS.Platform): void {
  Menu.setApplicationMenu(Menu.buildFromTemplate(menuTemplate(platform)));
}

export function menuTemplate(platform: NodeJS.Platform): MenuItemConstructorOptions[] {
  const view: MenuItemConstructorOptions = {
    label: "View",
    submenu: [{ role: "zoomIn" }, { role: "zoomOut" }, { role: "resetZoom" }, { role: "togglefullscreen" }],
  };
  if (platform !== "darwin") return [{ label: "Bench", submenu: [{ role: "quit" }] }, view];
  const edit: MenuItemConstructorOptions = {
    label: "Edit",
    submenu: [
      { role: "undo" },
      { role: "redo" },
      { type: "separator" },
      { role: "cut" },
      { role: "copy" },
      { role: "paste" },
      { role: "selectAll" },
    ],
  };
  return [{ role: "appMenu" }, edit, view, { role: "windowMenu" }];
}
