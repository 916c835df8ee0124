import { existsSync } from "node:fs";
import { type Browser, chromium } from "@playwright/test";

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

function testBrowser() {
  const executablePath = process.env.LINEFALL_TEST_BROWSER ?? PLACES.find((place) => existsSync(place));
  return {
    ...(executablePath === undefined ? {} : { executablePath }),
    // Chromium's sandbox does not run as root.
    args: process.getuid?.() === 0 ? ["--no-sandbox"] : [],
  };
}

/** An installed Chromium, or the one LINEFALL_TEST_BROWSER names; Playwright's own where there is none. */
export const TEST_BROWSER = testBrowser();

/** Looks anew for the browser: it may have been installed since the start. With scrollbars, as people have them. */
export function launchTestBrowser(): Promise<Browser> {
  return chromium.launch({ ...testBrowser(), ignoreDefaultArgs: ["--hide-scrollbars"] });
}
