import { chmod, open, readFile, rename, rm, stat } from "node:fs/promises";
import { join } from "node:path";

/**
 * What a running host leaves beside its database for a second start to find: who it is, where, and an address that
 * opens one more window. The address is a secret: the file is readable by its owner only (on Windows through the
 * rights of the person's own data folder).
 */
export interface RunningHost {
  readonly pid: number;
  readonly address: string;
  /** `ADDRESS/enter#TOKEN`, unused. */
  readonly invitation: string;
}

const FILE_NAME = "running.json";
const OWNER_ONLY = 0o600;
/** Tells our own host from another program that has since taken the port. */
export const HOST_MARK = { header: "x-program", value: "Linefall" } as const;

/** Writes or replaces the announcement, whole or not at all. */
export async function announceHost(folder: string, host: RunningHost): Promise<void> {
  const path = join(folder, FILE_NAME);
  const draft = `${path}.${process.pid}`;
  const file = await open(draft, "w", OWNER_ONLY);
  try {
    await chmod(draft, OWNER_ONLY);
    await file.writeFile(JSON.stringify(host));
  } finally {
    await file.close();
  }
  await rename(draft, path);
}

/** Takes the announcement away, unless another process has replaced it meanwhile. */
export async function withdrawHost(folder: string): Promise<void> {
  const announced = await readAnnouncement(folder);
  if (announced?.pid === process.pid) await rm(join(folder, FILE_NAME), { force: true });
}

/** The host that has this bench open and answers, or null. */
export async function findRunningHost(folder: string): Promise<RunningHost | null> {
  const announced = await readAnnouncement(folder);
  if (announced === null || !isAlive(announced.pid)) return null;
  try {
    const answer = await fetch(`${announced.address}/enter`, { signal: AbortSignal.timeout(2000) });
    await answer.arrayBuffer();
    return answer.headers.get(HOST_MARK.header) === HOST_MARK.value ? announced : null;
  } catch {
    return null;
  }
}

async function readAnnouncement(folder: string): Promise<RunningHost | null> {
  const path = join(folder, FILE_NAME);
  try {
    if (!(await isOurOwn(path))) return null;
    return parseAnnouncement(JSON.parse(await readFile(path, "utf8")));
  } catch {
    return null;
  }
}

/** An address put there by someone else must not be opened. */
async function isOurOwn(path: string): Promise<boolean> {
  if (process.getuid === undefined) return true;
  const found = await stat(path);
  return found.uid === process.getuid() && (found.mode & 0o077) === 0;
}

function parseAnnouncement(value: unknown): RunningHost | null {
  if (typeof value !== "object" || value === null) return null;
  const { pid, address, invitation } = value as Record<string, unknown>;
  if (typeof pid !== "number" || typeof address !== "string" || typeof invitation !== "string") return null;
  if (!/^http:\/\/127\.0\.0\.1:\d{1,5}$/.test(address)) return null;
  if (!/^[\w-]{43}$/.test(invitation.replace(`${address}/enter#`, ""))) return null;
  return { pid, address, invitation };
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}
