import { statfsSync } from "node:fs";

/** File system numbers of Linux `statfs(2)`: NFS, SMB, CIFS, SMB2. */
const NETWORK_TYPES = new Set([0x6969, 0x517b, 0xff534d42, 0xfe534d42]);

/** True when the folder seems to lie on another computer, where SQLite's locks cannot be relied on. */
export function isNetworkFolder(folder: string): boolean {
  if (folder.startsWith("\\\\")) return true;
  if (process.platform !== "linux") return false;
  try {
    return NETWORK_TYPES.has(statfsSync(folder).type >>> 0);
  } catch {
    return false;
  }
}
