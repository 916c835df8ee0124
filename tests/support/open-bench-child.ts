import { assemble } from "#main/assemble.ts";
import { systemClock } from "#main/ports/clock.ts";
import { benchPaths } from "#main/ports/data-folder.ts";
import { randomIds } from "#main/ports/ids.ts";
import { BenchUnopenable } from "#main/store/bench-file/bench-unopenable.ts";

// A second program for the fault tests: opens the bench in the folder named, says how that went, holds it until its
// input ends. Runs in a process of its own, under another user where a test asks for it.
try {
  const program = await assemble({
    paths: benchPaths(process.argv[2] ?? ""),
    clock: systemClock,
    ids: randomIds,
    host: "electron",
    programVersion: "0.0.0-test",
  });
  console.log(JSON.stringify({ opened: true }));
  process.stdin.resume();
  process.stdin.once("end", () => void program.close());
} catch (error) {
  const code = error instanceof BenchUnopenable ? error.code : String(error);
  console.log(JSON.stringify({ opened: false, code, message: error instanceof Error ? error.message : "" }));
}
