import type { MenuItemConstructorOptions } from "electron";

type Role = NonNullable<MenuItemConstructorOptions["role"]>;

/**
 * Keys that a role takes by itself on Linux and Windows (electron/electron lib/browser/api/menu-item-roles.ts); of
 * roles that bring a menu, the keys of all its items.
 */
const KEYS: Readonly<Partial<Record<Role, readonly string[]>>> = {
  undo: ["CommandOrControl+Z"],
  redo: ["Shift+CommandOrControl+Z"],
  cut: ["CommandOrControl+X"],
  copy: ["CommandOrControl+C"],
  paste: ["CommandOrControl+V"],
  pasteAndMatchStyle: ["Shift+CommandOrControl+V"],
  selectAll: ["CommandOrControl+A"],
  reload: ["CommandOrControl+R"],
  forceReload: ["Shift+CommandOrControl+R"],
  toggleDevTools: ["Control+Shift+I"],
  resetZoom: ["CommandOrControl+0"],
  zoomIn: ["CommandOrControl+Plus"],
  zoomOut: ["CommandOrControl+-"],
  togglefullscreen: ["F11"],
  minimize: ["CommandOrControl+M"],
  close: ["CommandOrControl+W"],
  quit: ["CommandOrControl+Q"],
  delete: [],
  about: [],
  hide: ["Command+H"],
  hideOthers: ["Command+Alt+H"],
  unhide: [],
  services: [],
  front: [],
  zoom: [],
  help: [],
  window: [],
  appMenu: ["Command+H", "Command+Alt+H", "CommandOrControl+Q"],
  editMenu: [
    "CommandOrControl+Z",
    "Shift+CommandOrControl+Z",
    "CommandOrControl+X",
    "CommandOrControl+C",
    "CommandOrControl+V",
    "CommandOrControl+A",
  ],
  viewMenu: [
    "CommandOrControl+R",
    "Shift+CommandOrControl+R",
    "Control+Shift+I",
    "CommandOrControl+0",
    "CommandOrControl+Plus",
    "CommandOrControl+-",
    "F11",
  ],
  windowMenu: ["CommandOrControl+M", "CommandOrControl+W"],
  fileMenu: ["CommandOrControl+W"],
};

/** What Electron installs for a program that sets no menu of its own. */
export const DEFAULT_MENU: MenuItemConstructorOptions[] = [
  { role: "fileMenu" },
  { role: "editMenu" },
  { role: "viewMenu" },
  { role: "windowMenu" },
];

/** Every key a menu takes before the page gets it. @throws Error for a role that Electron does not know */
export function menuAccelerators(template: readonly MenuItemConstructorOptions[]): string[] {
  return template.flatMap((item) => {
    if (item.role === undefined && item.label === undefined && item.type !== "separator")
      throw new TypeError("Invalid template for MenuItem: must have either label, role or type");
    const own = item.role === undefined ? [] : KEYS[item.role];
    if (own === undefined) throw new Error(`Unknown menu role ${item.role}`);
    const below = Array.isArray(item.submenu) ? menuAccelerators(item.submenu) : [];
    return [...(item.accelerator ? [String(item.accelerator)] : own), ...below];
  });
}
