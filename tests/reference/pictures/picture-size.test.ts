import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { pictureSize } from "#core/drawing/picture-size.ts";
import { pythonPrints } from "../../support/outside-programs.ts";

/* Held against Pillow, a general library of images for Python, which writes the files; sizes are invented. */

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "linefall-pictures-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const WRITE = `
import os, sys
from PIL import Image
folder = sys.argv[1]
exif = Image.Exif()
exif[0x0112] = 6
exif[0x010e] = "x" * 40000
Image.new("RGB", (301, 17)).save(os.path.join(folder, "plain.png"))
Image.new("1", (5, 4000)).save(os.path.join(folder, "bits.png"))
Image.new("RGB", (640, 481)).save(os.path.join(folder, "baseline.jpg"))
Image.new("L", (641, 480)).save(os.path.join(folder, "progressive.jpg"), progressive=True)
Image.new("RGB", (33, 65)).save(os.path.join(folder, "turned.jpg"), exif=exif, comment=b"invented")
Image.new("RGB", (8, 8)).save(os.path.join(folder, "other.gif"))
print("written")
`;

it("tells the size of a PNG or JPEG that another library wrote, and of nothing else", () => {
  pythonPrints(WRITE, folder);
  const sizeOf = (name: string) => {
    const found = pictureSize(readFileSync(join(folder, name)));
    return found && [found.mediaType, found.width, found.height];
  };
  expect(sizeOf("plain.png")).toEqual(["image/png", 301, 17]);
  expect(sizeOf("bits.png")).toEqual(["image/png", 5, 4000]);
  expect(sizeOf("baseline.jpg")).toEqual(["image/jpeg", 640, 481]);
  expect(sizeOf("progressive.jpg")).toEqual(["image/jpeg", 641, 480]);
  expect(sizeOf("turned.jpg")).toEqual(["image/jpeg", 33, 65]);
  expect(sizeOf("other.gif")).toBeNull();
});

it("tells no size of a file that ends before its own header does", () => {
  for (const name of ["plain.png", "baseline.jpg"]) {
    const whole = readFileSync(join(folder, name));
    for (const bytes of [0, 3, 8, 12, 20]) expect(pictureSize(whole.subarray(0, bytes))).toBeNull();
  }
});
