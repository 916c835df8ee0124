import { createRequire } from "node:module";
import { type FetchProgress, writeProgress } from "./fetch-progress.ts";

// The installer of the package electron, in a process of its own, with its download counted:
// `node fetch-electron.ts INSTALLER PROGRESS-FILE`.
const [installer = "", file = ""] = process.argv.slice(2);
/** Electron's checksums and lists come the same way and are not worth counting. */
const LEAST_BYTES = 1_000_000;

const tell = (percent: number, state: FetchProgress["state"]): void =>
  writeProgress(file, { pid: process.pid, percent, state });
let shown = 0;
tell(shown, "fetching");
process.on("exit", (code) => tell(code === 0 ? 100 : shown, code === 0 ? "done" : "failed"));

const fetchPlainly = globalThis.fetch;
globalThis.fetch = async (...args) => {
  const response = await fetchPlainly(...args);
  const total = Number(response.headers.get("content-length"));
  if (response.body === null || !(total >= LEAST_BYTES)) return response;
  let bytes = 0;
  const counting = new TransformStream<Uint8Array, Uint8Array>({
    transform(chunk, onward) {
      bytes += chunk.length;
      const percent = Math.floor((100 * bytes) / total);
      if (percent > shown) tell(percent, "fetching");
      shown = Math.max(shown, percent);
      onward.enqueue(chunk);
    },
  });
  return new Response(response.body.pipeThrough(counting), response);
};

createRequire(import.meta.url)(installer);
