import { Menu, type MenuItemConstructorOptions } from "electron";

/**
 * The few things a menu is needed for. There is no Undo, Redo or Reload in it: their keys belong to the entry grid,
 * and a menu would take them first.
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
    submenu: [{ role: "cut" }, { role: "copy" }, { role: "paste" }, { role: "selectAll" }],
  };
  return [{ role: "appMenu" }, edit, view, { role: "windowMenu" }];
}
