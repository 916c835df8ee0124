import { spawn } from "node:child_process";

export interface ElectronRun {
  readonly binary: string;
  /** The folder with package.json, whose `main` is the built main process. */
  readonly application: string;
  /** The bench's folder; null for the person's own. */
  readonly folder: string | null;
  readonly asRoot: boolean;
}

export function electronArguments({ application, folder, asRoot }: Omit<ElectronRun, "binary">): string[] {
  return [application, ...(asRoot ? ["--no-sandbox"] : []), ...(folder === null ? [] : ["--data", folder])];
}

/**
 * Runs Electron until it ends.
 * @returns its exit code, or null when it did not start at all (a missing system library, a damaged download)
 */
export function runElectron(run: ElectronRun): Promise<number | null> {
  // With this variable set the binary would be a plain Node.
  const { ELECTRON_RUN_AS_NODE: _plainNode, ...environment } = process.env;
  const child = spawn(run.binary, electronArguments(run), { stdio: "inherit", env: environment });
  // Ctrl+C reaches Electron from the terminal; this process stays to tidy up behind it.
  const wait = () => {};
  process.on("SIGINT", wait);
  const pass = () => child.kill("SIGTERM");
  process.on("SIGTERM", pass);
  return new Promise((resolve) => {
    const end = (code: number | null) => {
      process.off("SIGINT", wait);
      process.off("SIGTERM", pass);
      resolve(code);
    };
    child.on("error", () => end(null));
    // 127 is the loader's answer to a missing library.
    child.on("exit", (code, signal) =>
      end(code === 127 ? null : (code ?? (signal === "SIGTERM" ? 0 : null))),
    );
  });
}
