import type { Page } from "@playwright/test";

/** Puts a picture in the clipboard as another program would. */
export async function copyPicture(page: Page): Promise<void> {
  await page.evaluate(async () => {
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [640, 480];
    const pen = canvas.getContext("2d");
    if (!pen) throw new Error("no canvas");
    pen.fillStyle = "#88aa66";
    pen.fillRect(0, 0, 640, 480);
    pen.fillStyle = "#443322";
    pen.arc(320, 240, 150, 0, 7);
    pen.fill();
    const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, "image/png"));
    if (!blob) throw new Error("no picture");
    await navigator.clipboard.write([new ClipboardItem({ "image/png": blob })]);
  });
}
