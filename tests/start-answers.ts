import { spawn } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { ask } from "./support/raw-http.ts";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
/** Written last by the build. */
const WINDOW = join(ROOT, "out", "renderer", "index.html");
/** What a person is promised between the end of the build and the first answer. */
const PROMISE_MS = 3000;

/** Waits until `look` finds something; gives up with `what` after a minute, or when the program has ended. */
async function until<T>(what: string, ended: () => boolean, look: () => T | null): Promise<T> {
  for (const end = Date.now() + 60_000; Date.now() < end && !ended(); await pause(20)) {
    const found = look();
    if (found !== null) return found;
  }
  throw new Error(`npm start: ${what}`);
}

/** Enters through the one-time address as a browser does and makes one call. */
async function firstAnswer(address: string): Promise<string> {
  const { origin, host, port, hash } = new URL(address);
  const own = { host, origin, "sec-fetch-site": "same-origin", "content-type": "application/json" };
  const post = (path: string, body: string, session: string) =>
    ask(Number(port), { method: "POST", path, headers: { ...own, "x-linefall-window": session }, body });
  const entered = await post("/enter", JSON.stringify({ token: hash.slice(1) }), "");
  return (await post("/call/bench.status", "{}", JSON.parse(entered.body).session)).body;
}

/** Runs `npm start -- --no-window` from a clean build to its orderly end. */
async function main(): Promise<void> {
  const bench = mkdtempSync(join(tmpdir(), "linefall-start-"));
  rmSync(join(ROOT, "out"), { recursive: true, force: true });
  const npm = spawn("npm", ["start", "--", "--no-window", "--data", bench], {
    cwd: ROOT,
    stdio: ["ignore", "pipe", "inherit"],
    shell: process.platform === "win32",
  });
  let output = "";
  npm.stdout.on("data", (chunk: Buffer) => {
    output += chunk.toString("utf8");
  });
  const exited = new Promise<number | null>((resolve) => npm.on("exit", resolve));
  const ended = () => npm.exitCode !== null;
  try {
    await until("the window was not built", ended, () => (existsSync(WINDOW) ? true : null));
    const address = await until(
      "no address was printed",
      ended,
      () => /http:\/\/127\.0\.0\.1:\d+\/enter#[\w-]{43}/.exec(output)?.[0] ?? null,
    );
    const answer = await firstAnswer(address);
    const took = Math.round(Date.now() - statSync(WINDOW).mtimeMs);
    if (!answer.startsWith('{"ok":true,')) throw new Error(`npm start: answered ${answer}`);
    if (took > PROMISE_MS) throw new Error(`npm start: took ${took} ms after its build to answer`);
    console.log(`npm start answers ${took} ms after its build (promised: ${PROMISE_MS} ms)`);
    // The shell between npm and the program hands no signal on: the program itself is asked to end.
    const { pid } = JSON.parse(readFileSync(join(bench, "running.json"), "utf8")) as { pid: number };
    process.kill(pid, "SIGINT");
    if ((await exited) !== 0) throw new Error(`npm start: did not end in order\n${output}`);
  } finally {
    npm.kill();
    rmSync(bench, { recursive: true, force: true, maxRetries: 5 });
  }
}

await main();
