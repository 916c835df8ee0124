import { runCommand } from "./command-line.ts";
import { refuseElectron, runLoopbackHost } from "./run.ts";

// The loopback host alone, unbundled: `node src-main/loopback/main.ts [options]`.
process.exitCode = await runCommand(process.argv.slice(2), async (start, log) => {
  refuseElectron(process.versions);
  await runLoopbackHost(start, log);
  return 0;
});
