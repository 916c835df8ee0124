import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import ExcelJS from "exceljs";
import { picturesOf, readBook, rowsAsOfficeShowsThem } from "../workbook/other-programs.ts";
import { printedBy, pythonPrints } from "./outside-programs.ts";
import { plainPng } from "./plain-png.ts";
import { launchTestBrowser } from "./test-browser.ts";

/** What the tests need that npm does not bring. */
export interface Need {
  readonly what: string;
  readonly why: string;
  readonly debianPackages: readonly string[];
  /** Does a small piece of the tests' own work in an empty folder. @throws where it does not come out right */
  readonly work: (folder: string) => Promise<void>;
}

/** @throws Error that names what was asked for, where `got` is something else */
function expectSame(asked: string, got: unknown, expected: unknown): void {
  const [text, wanted] = [JSON.stringify(got), JSON.stringify(expected)];
  if (text !== wanted) throw new Error(`asked for ${asked} it gave ${text} instead of ${wanted}`);
}

/** A workbook with a formula on Rows whose stored value is false. */
async function tryoutWorkbook(folder: string): Promise<string> {
  const book = new ExcelJS.Workbook();
  book.addWorksheet("Contents");
  book.addWorksheet("Rows").getCell("A1").value = { formula: "6*7", result: 1 };
  const path = join(folder, "tryout.xlsx");
  await book.xlsx.writeFile(path);
  return path;
}

const ADD_PICTURE = `
import sys
from openpyxl import load_workbook
from openpyxl.drawing.image import Image
book = load_workbook(sys.argv[1])
book["Rows"].add_image(Image(sys.argv[2]), "C3")
book.save(sys.argv[1])
`;

/** A PDF (ISO 32000-2:2020, 7.5) of one page with one word. */
function tryoutPdf(folder: string): string {
  const drawing = "BT /F1 24 Tf 20 100 Td (fortytwo) Tj ET";
  const objects = [
    "<</Type/Catalog/Pages 2 0 R>>",
    "<</Type/Pages/Kids[3 0 R]/Count 1>>",
    "<</Type/Page/Parent 2 0 R/MediaBox[0 0 200 200]/Contents 4 0 R/Resources<</Font<</F1 5 0 R>>>>>>",
    `<</Length ${drawing.length}>>\nstream\n${drawing}\nendstream`,
    "<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>",
  ];
  let file = "%PDF-1.4\n";
  const places = objects.map((object, index) => {
    const at = file.length;
    file += `${index + 1} 0 obj\n${object}\nendobj\n`;
    return `${String(at).padStart(10, "0")} 00000 n \n`;
  });
  const size = objects.length + 1;
  file += `xref\n0 ${size}\n0000000000 65535 f \n${places.join("")}trailer\n<</Size ${size}/Root 1 0 R>>\n`;
  const path = join(folder, "tryout.pdf");
  writeFileSync(path, `${file}startxref\n${file.indexOf("xref\n")}\n%%EOF\n`);
  return path;
}

export const NEEDS: readonly Need[] = [
  {
    what: "Chromium",
    why: "whole jobs are done in a real browser",
    debianPackages: ["chromium"],
    async work() {
      const browser = await launchTestBrowser();
      try {
        const page = await browser.newPage();
        await page.setContent("<p>forty</p><script>document.body.replaceChildren('fortytwo')</script>");
        expectSame("the text of a page", await page.textContent("body"), "fortytwo");
      } finally {
        await browser.close();
      }
    },
  },
  {
    what: "LibreOffice Calc",
    why: "workbooks are recalculated in another program",
    debianPackages: ["libreoffice-calc"],
    async work(folder) {
      const shown = rowsAsOfficeShowsThem(await tryoutWorkbook(folder));
      expectSame("6 × 7 in a workbook", shown[0]?.[0], "42");
    },
  },
  {
    what: "pdftotext and pdfinfo",
    why: "the printed report is read back page by page",
    debianPackages: ["poppler-utils"],
    async work(folder) {
      const path = tryoutPdf(folder);
      expectSame("the text of a page", printedBy("pdftotext", ["-layout", path, "-"]).trim(), "fortytwo");
      const size = /Page size:\s+(\d+) x (\d+) pts/.exec(printedBy("pdfinfo", [path]))?.slice(1);
      expectSame("the size of a page", size, ["200", "200"]);
    },
  },
  {
    what: "openpyxl and Pillow for Python 3",
    why: "workbooks and their pictures are reopened by another reader",
    // openpyxl silently drops every picture where Pillow is missing, and Debian does not bring it along.
    debianPackages: ["python3-openpyxl", "python3-pil"],
    async work(folder) {
      const path = await tryoutWorkbook(folder);
      const picture = join(folder, "picture.png");
      writeFileSync(picture, plainPng(40, 20));
      pythonPrints(ADD_PICTURE, path, picture);
      expectSame("a formula", readBook(path).sheets.Rows?.cells.A1?.content, "=6*7");
      const pictures = picturesOf(path).map(({ sheet, width, height }) => [sheet, width, height]);
      expectSame("the pictures of a workbook", pictures, [["Rows", 40, 20]]);
    },
  },
];

/** Tries what a need is for. @returns null where the work came out right, otherwise what went wrong, on one line */
export async function lackOf(need: Need): Promise<string | null> {
  const folder = mkdtempSync(join(tmpdir(), "linefall-need-"));
  try {
    await need.work(folder);
    return null;
  } catch (error) {
    const said = (error instanceof Error ? error.message : String(error)).trim().split("\n");
    // A failed command is repeated first; what it said of its failure comes last.
    return said.at(said[0]?.startsWith("Command failed") ? -1 : 0) ?? "";
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
