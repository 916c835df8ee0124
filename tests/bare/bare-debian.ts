import { spawnSync } from "node:child_process";
import {
  appendFileSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statfsSync,
  writeFileSync,
} from "node:fs";
import { dirname, join } from "node:path";
import { answers } from "../support/outside-programs.ts";

/** Why no room can be laid on this machine, in words. */
export class NoRoom extends Error {}

const STORE = process.env.LINEFALL_BARE ?? "/var/tmp/linefall-bare";
/** Bytes that a run takes on disk, with some to spare. */
const SPACE_NEEDED = 6e9;
/** From its first start debootstrap takes a minute or two; a mirror that hangs must not hold the tests. */
const LONGEST_MS = 300_000;

/** What a command prints. @throws NoRoom with the last thing it said, where it fails */
export function did(program: string, ...args: readonly string[]): string {
  const { status, stdout, stderr, error } = spawnSync(program, args, {
    encoding: "utf8",
    stdio: ["ignore", "pipe", "pipe"],
    timeout: LONGEST_MS,
    maxBuffer: 1e8,
    env: { ...process.env, DEBIAN_FRONTEND: "noninteractive", LC_ALL: "C.UTF-8" },
  });
  if (status === 0) return stdout;
  const said = `${stderr ?? ""}\n${stdout ?? ""}`.trim().split("\n").at(-1);
  throw new NoRoom(`${[program, ...args].join(" ")}: ${error?.message ?? said ?? ""}`);
}

/** @throws NoRoom where this machine cannot be expected to lay a room */
function examine(): void {
  if (process.platform !== "linux" || process.getuid?.() !== 0)
    throw new NoRoom("only root on Linux lays a room");
  const system = existsSync("/etc/os-release") ? readFileSync("/etc/os-release", "utf8") : "";
  if (!/^ID=debian$/m.test(system)) throw new NoRoom("this machine is no Debian");
  did("mkdir", "-p", "-m", "755", STORE);
  const { bavail, bsize } = statfsSync(STORE);
  if (bavail * bsize < SPACE_NEEDED) throw new NoRoom(`${STORE} has less than ${SPACE_NEEDED / 1e9} GB free`);
  did("unshare", "--mount", "--pid", "--fork", "mount", "--make-rprivate", "/");
}

/** Removes what a run left behind that was killed: its folder ends in the number of its process. */
function sweep(): void {
  for (const name of readdirSync(STORE)) {
    const pid = /^(?:room|laying)-(\d+)$/.exec(name)?.[1];
    if (pid !== undefined && !existsSync(`/proc/${pid}`)) remove(join(STORE, name));
  }
}

export function remove(folder: string): void {
  spawnSync("rm", ["-rf", "--one-file-system", folder]);
}

/** The machine's own Debian sources, one line each for `sources.list`; others of its sources are there by chance. */
function debianSources(): readonly string[] {
  const format = "$(ORIGIN)|deb $(REPO_URI) $(CODENAME) $(COMPONENT)";
  const lines = did("apt-get", "indextargets", "--format", format, "Created-By: Packages").split("\n");
  return [...new Set(lines.filter((line) => line.startsWith("Debian|")).map((line) => line.slice(7)))];
}

/** How apt reaches its mirrors from here: proxies and certificates. */
function aptSettings(): string {
  const lines = did("apt-config", "dump").split("\n");
  return `${lines.filter((line) => /^Acquire::https?(::\S+)? "."?/.test(line) && !line.endsWith('"";')).join("\n")}\n`;
}

/**
 * A bare Debian of this machine's release, laid once by debootstrap and kept.
 * @returns its folder
 */
function base(): string {
  const release = /^VERSION_CODENAME=(\w+)$/m.exec(readFileSync("/etc/os-release", "utf8"))?.[1] ?? "stable";
  const kept = join(STORE, `base-${release}`);
  if (existsSync(kept)) return kept;
  console.log(`bare: laying Debian ${release} in ${kept}`);
  did("apt-get", "update");
  if (!answers("debootstrap", ["--version"]))
    did("apt-get", "install", "-y", "--no-install-recommends", "debootstrap");
  const sources = debianSources();
  const [, mirror = "http://deb.debian.org/debian"] =
    sources.map((line) => line.split(" ")).find((words) => words[2] === release) ?? [];
  const laying = join(STORE, `laying-${process.pid}`);
  did("debootstrap", "--variant=minbase", "--include=ca-certificates", release, laying, mirror);
  if (sources.length > 0) writeFileSync(join(laying, "etc/apt/sources.list"), `${sources.join("\n")}\n`);
  writeFileSync(join(laying, "etc/apt/apt.conf.d/90reached-from-here"), aptSettings());
  rmSync(join(laying, "var/cache/apt/archives"), { recursive: true });
  mkdirSync(join(laying, "var/cache/apt/archives/partial"), { recursive: true });
  renameSync(laying, kept);
  return kept;
}

/** Puts a file of this machine at the same place, or at another, in the room; does nothing where it does not exist. */
function bring(room: string, file: string | undefined, place = file): void {
  if (file === undefined || place === undefined || !existsSync(file)) return;
  mkdirSync(join(room, dirname(place)), { recursive: true });
  copyFileSync(file, join(room, place));
}

/** Node and npm as they stand outside this project, and how they reach the registry. */
function bringNode(room: string): void {
  const {
    npm_node_execpath: node,
    npm_execpath: npm,
    npm_config_userconfig,
    npm_config_globalconfig,
  } = process.env;
  if (node === undefined || npm === undefined) throw new NoRoom("start this by npm: npm run bare");
  const modules = "usr/lib/node_modules";
  bring(room, node, "usr/bin/node");
  mkdirSync(join(room, modules), { recursive: true });
  did("cp", "-a", dirname(dirname(npm)), join(room, modules, "npm"));
  for (const name of ["npm", "npx"])
    did("ln", "-s", `/${modules}/npm/bin/${name}-cli.js`, join(room, "usr/bin", name));
  bring(room, npm_config_userconfig, "root/.npmrc");
  bring(room, npm_config_globalconfig, "usr/etc/npmrc");
  bring(room, process.env.NODE_EXTRA_CA_CERTS);
  bring(room, process.env.npm_config_cafile);
  bring(room, "/etc/ssl/certs/ca-certificates.crt");
  did("chroot", room, "node", "--version");
}

/** This checkout's last commit, with what has been changed since in files that git knows. @returns what that is */
function bringProject(room: string, checkout: string, home: string): string {
  const git = (...args: readonly string[]) => did("git", "-c", "safe.directory=*", "-C", checkout, ...args);
  const project = join(room, home, "project");
  did("git", "clone", "--quiet", "--no-hardlinks", checkout, project);
  const changed = git("diff", "--name-only", "-z", "HEAD").split("\0").filter(Boolean);
  for (const file of changed) {
    if (existsSync(join(checkout, file))) bring(project, join(checkout, file), file);
    else rmSync(join(project, file), { force: true });
  }
  const commit = git("rev-parse", "--short", "HEAD").trim();
  return changed.length === 0 ? commit : `${commit} and ${changed.length} files changed since`;
}

/** An ordinary person who may use sudo, with a home folder closed to others. */
function addPerson(room: string, name: string): void {
  did("chroot", room, "apt-get", "install", "-y", "-qq", "--no-install-recommends", "sudo");
  did("chroot", room, "useradd", "--create-home", "--shell", "/bin/bash", name);
  did("chroot", room, "chmod", "700", `/home/${name}`);
  appendFileSync(join(room, "etc/sudoers"), `${name} ALL=(ALL) NOPASSWD: ALL\n`);
  bring(room, join(room, "root/.npmrc"), `home/${name}/.npmrc`);
}

export interface Room {
  readonly folder: string;
  /** Inside the room. */
  readonly home: string;
  readonly person: string;
  /** What of the project stands in `home`/project. */
  readonly project: string;
}

/**
 * Lays a bare Debian for one run: nothing of this machine but Node, npm, and how packages are reached.
 * @throws NoRoom where this machine cannot
 */
export function layRoom(checkout: string, person: string): Room {
  const folder = join(STORE, `room-${process.pid}`);
  const home = person === "root" ? "/root" : `/home/${person}`;
  try {
    examine();
    sweep();
    did("cp", "-a", "--reflink=auto", base(), folder);
    bring(folder, "/etc/resolv.conf");
    bring(folder, "/etc/hosts");
    bringNode(folder);
    did("chroot", folder, "apt-get", "update", "-qq");
    if (person !== "root") addPerson(folder, person);
    const project = bringProject(folder, checkout, home);
    did("chroot", folder, "chown", "-R", `${person}:`, home);
    return { folder, home, person, project };
  } catch (error) {
    remove(folder);
    throw error instanceof NoRoom ? error : new NoRoom(String(error));
  }
}
