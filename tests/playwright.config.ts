import { existsSync } from "node:fs";
import { defineConfig } from "@playwright/test";

const PLACES = [
  "/usr/bin/chromium",
  "/usr/bin/chromium-browser",
  "/usr/bin/google-chrome",
  "/usr/bin/google-chrome-stable",
  "/usr/bin/microsoft-edge",
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
  "C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe",
  "C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe",
];
const named = process.env.LINEFALL_TEST_BROWSER;
const executablePath = named ?? PLACES.find((place) => existsSync(place));
const report = process.env.LINEFALL_TEST_REPORT;

/** Whole jobs on the real loopback program in an installed Chromium; and on Electron where its binary is there. */
export default defineConfig({
  outputDir: "../.cache/playwright",
  workers: 1,
  fullyParallel: false,
  forbidOnly: true,
  timeout: 120_000,
  expect: { timeout: 10_000 },
  reporter: report === undefined ? [["line"]] : [["line"], ["json", { outputFile: report }]],
  use: {
    viewport: { width: 1360, height: 900 },
    locale: "en-GB",
    timezoneId: "UTC",
    trace: "retain-on-failure",
    launchOptions: {
      ...(executablePath === undefined ? {} : { executablePath }),
      args: [
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-domain-reliability",
        "--disable-sync",
        "--no-pings",
        "--disable-features=AutofillServerCommunication,MediaRouter,OptimizationHints,Translate",
        ...(process.getuid?.() === 0 ? ["--no-sandbox"] : []),
      ],
    },
  },
  projects: [
    { name: "browser", testDir: "browser", testMatch: "**/*.@(spec|test).ts" },
    { name: "electron", testDir: "electron", testMatch: "**/*.@(spec|test).ts" },
  ],
});
