import { readFileSync } from "node:fs";
import { expect, type Page, test } from "@playwright/test";
import { drawnIcon, ICON_PIXELS, ICON_PNG } from "../support/drawn-icon.ts";
import { startLoopbackProgram } from "../support/loopback-program.ts";
import { openBenchWindow } from "./bench-window.ts";

/** The red, green, blue and opacity of every pixel of a PNG, as the browser reads it. */
async function pixelsOf(page: Page, png: Buffer): Promise<{ width: number; values: number[] }> {
  return page.evaluate(async (base64) => {
    const bytes = Uint8Array.from(atob(base64), (character) => character.charCodeAt(0));
    const picture = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
    const context = new OffscreenCanvas(picture.width, picture.height).getContext("2d");
    if (!context) throw new Error("no canvas");
    context.drawImage(picture, 0, 0);
    // One pixel in 64 tells a changed drawing.
    const { data } = context.getImageData(0, 0, picture.width, picture.height);
    const values: number[] = [];
    for (let at = 0; at < data.length; at += 256) values.push(...data.slice(at, at + 4));
    return { width: picture.width, values };
  }, png.toString("base64"));
}

test("the PNG of the icon is the SVG as drawn by `npm run icon`", { tag: "@loopback" }, async ({ page }) => {
  const drawn = await pixelsOf(page, await drawnIcon(page));
  const kept = await pixelsOf(page, readFileSync(ICON_PNG));
  expect(kept.width).toBe(ICON_PIXELS);
  // Edges may be smoothed a little otherwise by another version of the browser.
  const differing = drawn.values.filter((value, at) => Math.abs(value - (kept.values[at] ?? -255)) > 32);
  expect(differing.length / drawn.values.length).toBeLessThan(0.01);
  expect(new Set(drawn.values).size).toBeGreaterThan(5);
});

test("the icon is there before the window has its session and after, within the content policy", {
  tag: "@loopback",
}, async ({ context }) => {
  const program = await startLoopbackProgram();
  const answers: { path: string; status: number }[] = [];
  context.on("response", (response) => {
    answers.push({ path: new URL(response.url()).pathname, status: response.status() });
  });
  const { page, faults } = await openBenchWindow(context, program.address);
  const shown = async (): Promise<{ type: string | null; width: number }> => {
    const href = await page.locator("link[rel=icon]").getAttribute("href");
    return page.evaluate(async (address) => {
      const image = new Image();
      image.src = address ?? "";
      await image.decode();
      const { headers } = await fetch(image.src);
      return { type: headers.get("content-type"), width: image.naturalWidth };
    }, href);
  };
  expect(await shown()).toEqual({ type: "image/svg+xml", width: expect.any(Number) });
  await page.goto(`${program.origin}/enter`);
  expect(await shown()).toEqual({ type: "image/svg+xml", width: expect.any(Number) });
  expect(answers.filter(({ status }) => status >= 400)).toEqual([]);
  await program.stop();
  expect(faults).toEqual([]);
});
