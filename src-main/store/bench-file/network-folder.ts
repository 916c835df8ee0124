import { realpathSync, statfsSync } from "node:fs";

/** File system numbers of Linux `statfs(2)`: NFS, SMB, CIFS, SMB2. */
const NETWORK_TYPES = new Set([0x6969, 0x517b, 0xff534d42, 0xfe534d42]);

/** True when the folder seems to lie on another computer, where SQLite's locks cannot be relied on. */
export function isNetworkFolder(folder: string): boolean {
  if (process.platform === "win32") return isNetworkPath(folder) || isNetworkPath(realPathOf(folder));
  if (process.platform !== "linux") return false;
  try {
    return NETWORK_TYPES.has(statfsSync(folder).type >>> 0);
  } catch {
    return false;
  }
}

/** On Windows the system's own name of a folder on a mapped drive is its share: `Z:\x` is `\\server\share\x`. */
function realPathOf(folder: string): string {
  try {
    return realpathSync.native(folder);
  } catch {
    return folder;
  }
}

/** A share by its name (`\\server\share`, `\\?\UNC\server\share`), and not a local path in its long form. */
export function isNetworkPath(path: string): boolean {
  return /^[\\/]{2}(?:[^\\/?.]|[?.][\\/]UNC[\\/])/i.test(path);
}
