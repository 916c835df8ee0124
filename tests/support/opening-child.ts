import { assemble } from "#main/assemble.ts";
import { systemClock } from "#main/ports/clock.ts";
import { benchPaths } from "#main/ports/data-folder.ts";
import { randomIds } from "#main/ports/ids.ts";
import { actsDone, go } from "./kill-at-write.ts";

// Opens a bench and says in how many acts on files; killed in one of them when KILL_AT says so.
go();
await assemble({
  paths: benchPaths(process.argv[2] ?? ""),
  clock: systemClock,
  ids: randomIds,
  host: "loopback",
  programVersion: "0.0.0-test",
});
console.log(`acts: ${actsDone()}`);
process.exit(0);
