import { spawn } from "node:child_process";
import { join } from "node:path";

/** An app window that was asked for. */
export interface LaunchedWindow {
  /**
   * Resolves when the browser process has ended. That can be at once while a window is open: a browser already
   * running on this profile takes the address over.
   */
  readonly ended: Promise<void>;
  /** Ends the browser process, if it is still there. */
  close(): Promise<void>;
}

/** Switches beside the address: a profile of our own, and no traffic that a bench did not ask for. */
const QUIET = [
  "--no-first-run",
  "--no-default-browser-check",
  "--disable-background-networking",
  "--disable-background-mode",
  "--disable-breakpad",
  "--disable-client-side-phishing-detection",
  "--disable-component-update",
  "--disable-default-apps",
  "--disable-domain-reliability",
  "--disable-extensions",
  "--disable-features=AutofillServerCommunication,InterestFeedContentSuggestions,MediaRouter,OptimizationHints,Translate",
  "--disable-sync",
  "--metrics-recording-only",
  "--no-pings",
  "--no-service-autorun",
  "--password-store=basic",
];

/** Arguments that open `address` in a window of its own, with a profile of its own. */
export function windowArguments(address: string, profileFolder: string, asRoot: boolean): string[] {
  const root = asRoot ? ["--no-sandbox"] : [];
  return [
    `--app=${address}`,
    `--user-data-dir=${profileFolder}`,
    "--window-size=1360,900",
    ...QUIET,
    ...root,
  ];
}

/** Opens `address` in `browser`. Other users of this machine can read it among the arguments: it holds no secret. */
export function launchWindow(
  browser: string,
  address: string,
  dataFolder: string,
  log: (line: string) => void,
): LaunchedWindow {
  const asRoot = process.getuid?.() === 0;
  if (asRoot)
    log("Caution: started as root, so the browser runs without its sandbox. Use an ordinary account.");
  const child = spawn(browser, windowArguments(address, join(dataFolder, "window-profile"), asRoot), {
    stdio: "ignore",
    detached: true,
  });
  // A second start leaves its window to the program that is running already.
  child.unref();
  const ended = new Promise<void>((resolve) => {
    child.on("error", () => resolve());
    child.on("exit", () => resolve());
  });
  return {
    ended,
    async close() {
      if (child.exitCode === null && child.signalCode === null) child.kill("SIGTERM");
      await ended;
    },
  };
}
