/*
 * `npm run icon`: draws resources/icon.png from resources/icon.svg. electron-builder makes the icons of every system
 * from it.
 */
import { writeFileSync } from "node:fs";
import { drawnIcon, ICON_PNG } from "./support/drawn-icon.ts";
import { launchTestBrowser } from "./support/test-browser.ts";

const browser = await launchTestBrowser();
try {
  writeFileSync(ICON_PNG, await drawnIcon(await browser.newPage()));
  console.log(ICON_PNG);
} finally {
  await browser.close();
}
