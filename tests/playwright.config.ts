import { defineConfig } from "@playwright/test";
import { TEST_BROWSER } from "./support/test-browser.ts";

const report = process.env.LINEFALL_TEST_REPORT;
/** A window made slow on purpose (tests/electron-shaped/window-page.ts) is waited for as much longer. */
const SLOWNESS = Number(process.env.SLOW_WINDOW ?? 1);

/** What the window draws is the same in both hosts: looked at once, in Electron's shape. */
const DRAWN_ALIKE = ["layout", "fonts", "accessibility", "measure-accessibility"].map(
  (name) => `**/browser/${name}.spec.ts`,
);

/** Whole jobs on the real loopback program in an installed Chromium; and on Electron where its binary is there. */
export default defineConfig({
  outputDir: "../.cache/playwright",
  // Each spec starts programs of its own, on folders and ports of their own.
  workers: 2,
  fullyParallel: false,
  forbidOnly: true,
  // A whole run repeats what failed once and names it at its end (tests/run-all.ts); alone, a failure is a failure.
  retries: report === undefined ? 0 : 1,
  timeout: 120_000 * SLOWNESS,
  expect: { timeout: 10_000 * SLOWNESS },
  reporter: report === undefined ? [["line"]] : [["line"], ["json", { outputFile: report }]],
  use: {
    viewport: { width: 1360, height: 900 },
    locale: "en-GB",
    timezoneId: "UTC",
    // Following every step takes a fifth of the processor: a whole run follows what it repeats.
    trace: report === undefined ? "retain-on-failure" : "on-first-retry",
    launchOptions: {
      ...TEST_BROWSER,
      args: [
        ...TEST_BROWSER.args,
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-domain-reliability",
        "--disable-sync",
        "--no-pings",
        "--disable-features=AutofillServerCommunication,MediaRouter,OptimizationHints,Translate",
      ],
    },
  },
  projects: [
    { name: "browser", testDir: "browser", testMatch: "**/*.@(spec|test).ts", testIgnore: DRAWN_ALIKE },
    {
      name: "electron-shaped",
      testDir: ".",
      testMatch: ["browser/**/*.@(spec|test).ts", "electron-shaped/**/*.@(spec|test).ts"],
      grepInvert: /@loopback/,
    },
    { name: "electron", testDir: "electron", testMatch: "**/*.@(spec|test).ts", workers: 1 },
  ],
});
