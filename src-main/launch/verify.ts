import { verifyCommand } from "./verify-command.ts";

/*
 * `npm run verify -- FILE`: recomputes every result of a bench file and every hash, and names each difference. Ctrl+C
 * stops it and says how to go on.
 */
const stop = new AbortController();
process.once("SIGINT", () => stop.abort(new Error("stopped")));
process.exitCode = await verifyCommand(
  process.argv.slice(2),
  (text) => process.stdout.write(text),
  stop.signal,
);
