import fs from "node:fs";
import { syncBuiltinESMExports } from "node:module";
import Database from "better-sqlite3";

// Loaded before a program (`node --import`): counts what it does to files from the line `go` on, and kills it in the act
// of number KILL_AT. A writing is cut in its middle. What SQLite does is counted by its statements.
const killAt = Number(process.env.KILL_AT ?? "0");
let done = -1;

/** From here on acts are counted. */
export function go(): void {
  done = 0;
}
export const actsDone = (): number => done;

function counted(cutOff: () => void = () => undefined): void {
  if (done < 0) return;
  done += 1;
  if (done !== killAt) return;
  cutOff();
  process.kill(process.pid, "SIGKILL");
  for (;;);
}

type Act = (...parameters: never[]) => unknown;

function hook(
  holder: object,
  name: string,
  cutOff?: (act: Act, parameters: readonly unknown[]) => void,
): void {
  const methods = holder as Record<string, Act>;
  const act = methods[name];
  if (!act) throw new Error(`nothing called ${name}`);
  methods[name] = function hooked(this: unknown, ...parameters: never[]) {
    counted(() => cutOff?.(act.bind(this) as Act, parameters));
    return act.apply(this, parameters);
  };
}

for (const name of [
  "openSync",
  "closeSync",
  "renameSync",
  "rmSync",
  "fsyncSync",
  "fdatasyncSync",
  "mkdirSync",
]) {
  hook(fs, name);
}
hook(fs, "writeSync", (write, [handle, bytes, ...rest]) => {
  if (typeof bytes === "string") write(handle as never, bytes.slice(0, bytes.length / 2) as never);
  else
    write(
      handle as never,
      (bytes as Buffer).subarray(0, (bytes as Buffer).length / 2) as never,
      ...(rest as never[]),
    );
});
syncBuiltinESMExports();
hook(Database.prototype, "exec");
const memory = new Database(":memory:");
hook(Object.getPrototypeOf(memory.prepare("SELECT 1")) as object, "run");
memory.close();
const { backup } = Database.prototype;
Database.prototype.backup = function hooked(file, options) {
  const progress: Database.BackupOptions["progress"] = (info) => {
    counted();
    return options?.progress(info) ?? 100;
  };
  return backup.call(this, file, { progress });
};
