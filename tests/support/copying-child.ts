import { assemble } from "#main/assemble.ts";
import { systemClock } from "#main/ports/clock.ts";
import { benchPaths } from "#main/ports/data-folder.ts";
import { randomIds } from "#main/ports/ids.ts";
import { actsDone, go } from "./kill-at-write.ts";

// Makes or restores one backup and says in how many acts on files; killed in one of them when KILL_AT says so.
const [folder = "", fileName = ""] = process.argv.slice(2);
const program = await assemble({
  paths: benchPaths(folder),
  clock: systemClock,
  ids: randomIds,
  host: "loopback",
  programVersion: "0.0.0-test",
});
go();
const requestId = randomIds.next();
const reply =
  fileName === ""
    ? await program.dispatch("backups.make", { requestId })
    : await program.dispatch("backups.restore", { requestId, fileName, reason: "tried out" });
if (!reply.ok) throw new Error(JSON.stringify(reply.error));
console.log(`acts: ${actsDone()}`);
process.exit(0);
