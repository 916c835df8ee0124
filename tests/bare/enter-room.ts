import { spawn } from "node:child_process";
import type { Room } from "./bare-debian.ts";

/**
 * Makes the room the root of its own mounts and processes, which end with it. pivot_root, not chroot: a browser's
 * sandbox makes user namespaces, which a chroot forbids. $1 room, $2 person, $3 home, $4 command line, then NAME=value.
 */
const ENTER = `
set -e
room=$1 person=$2 home=$3 line=$4; shift 4
mount --make-rprivate /
mount --bind "$room" "$room"; cd "$room"
mount -t proc proc proc; mount --rbind /sys sys; mount --rbind /dev dev
mount -t tmpfs -o mode=1777 tmpfs dev/shm
mkdir -p .outside; pivot_root . .outside; umount -l /.outside; rmdir /.outside
cd "$home/project"
exec setpriv --reuid="$person" --regid="$person" --init-groups env -i "$@" bash -c "$line"
`;

/** What a room is told of the outside: how packages are reached. */
const TOLD =
  /^((https?|no|all)_proxy|npm_config_(registry|https?_proxy|proxy|noproxy)|NODE_EXTRA_CA_CERTS)$/i;

function environment({ home, person }: Room): readonly string[] {
  const told = Object.entries(process.env).filter(([name, value]) => TOLD.test(name) && value !== "");
  return Object.entries({
    ...Object.fromEntries(told),
    HOME: home,
    USER: person,
    LANG: "C.UTF-8",
    TERM: "dumb",
    CI: "true",
    PATH: "/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin",
  }).map(([name, value]) => `${name}=${value}`);
}

/**
 * Runs a command line in the project inside the room; what it prints goes to the terminal unless `quiet`.
 * @returns its exit status
 */
export async function runInRoom(room: Room, commandLine: string, quiet = false): Promise<number> {
  const own = ["--mount", "--pid", "--fork", "--kill-child", "bash", "-c", ENTER, "room"];
  const given = [room.folder, room.person, room.home, commandLine, ...environment(room)];
  const output = quiet ? "ignore" : "inherit";
  const child = spawn("unshare", [...own, ...given], { stdio: ["ignore", output, output] });
  // unshare hands no signal on; killed, it takes every process of the room along.
  const end = () => child.kill("SIGKILL");
  const signals = ["SIGINT", "SIGTERM", "SIGHUP"] as const;
  for (const signal of signals) process.on(signal, end);
  try {
    return await new Promise((resolve, reject) => {
      child.on("error", reject);
      child.on("exit", (status) => resolve(status ?? 1));
    });
  } finally {
    for (const signal of signals) process.off(signal, end);
  }
}
