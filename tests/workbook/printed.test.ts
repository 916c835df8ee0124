import { execFileSync } from "node:child_process";
import { copyFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { PAPERS, type Paper } from "#core/contract/records/exchange.ts";
import { finishedExport } from "../support/finished-export.ts";
import { fullBench } from "../support/full-bench.ts";
import { type TempBench, tempBench } from "../support/temp-bench.ts";
import { printedBook } from "./other-programs.ts";

interface Word {
  readonly text: string;
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

interface Page {
  readonly width: number;
  readonly height: number;
  readonly words: readonly Word[];
}

const LEAST_POINTS = 8;
/** pdftohtml measures in 1/108 inch. */
const ITS_UNIT = 1.5;

/** Sizes of the letters on each page, pt. */
function sizesOf(pdf: string): number[] {
  const xml = execFileSync("pdftohtml", ["-xml", "-i", "-stdout", pdf], {
    encoding: "utf8",
    maxBuffer: 64 * 1024 * 1024,
  });
  return [...xml.matchAll(/<fontspec [^>]*size="(\d+)"/g)].map(([, size]) => Number(size) / ITS_UNIT);
}

function pagesOf(pdf: string): Page[] {
  const html = execFileSync("pdftotext", ["-bbox", pdf, "-"], {
    encoding: "utf8",
    maxBuffer: 64 * 1024 * 1024,
  });
  return [...html.matchAll(/<page width="([\d.]+)" height="([\d.]+)">([\s\S]*?)<\/page>/g)].map(
    ([, width, height, inner = ""]) => ({
      width: Number(width),
      height: Number(height),
      words: [
        ...inner.matchAll(/xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)</g),
      ].map(([, left, top, right, bottom, text = ""]) => ({
        text,
        left: Number(left),
        top: Number(top),
        right: Number(right),
        bottom: Number(bottom),
      })),
    }),
  );
}

/** Words that lie on each other by more than a hair. */
function overprinted({ words }: Page): string[] {
  return words.flatMap((one, at) =>
    words
      .slice(at + 1)
      .filter(
        (other) =>
          Math.min(one.right, other.right) - Math.max(one.left, other.left) > 1 &&
          Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top) > 3,
      )
      .map((other) => `${one.text} on ${other.text}`),
  );
}

describe("a workbook on paper", () => {
  let bench: TempBench;
  let sheetId: string;
  const books = new Map<Paper, Page[]>();
  const sizes = new Map<Paper, number[]>();

  beforeAll(async () => {
    bench = await tempBench();
    sheetId = (await fullBench(bench)).sheet.id;
    for (const paper of PAPERS) {
      const begun = await bench.call("exports.begin", {
        sheetIds: [sheetId],
        format: "live workbook",
        paper,
      });
      const { file } = await finishedExport(bench, begun);
      const pdf = printedBook(file?.path ?? "");
      if (process.env.LINEFALL_PICTURES) {
        copyFileSync(pdf, join(process.env.LINEFALL_PICTURES, `workbook-${paper}.pdf`));
      }
      books.set(paper, pagesOf(pdf));
      sizes.set(paper, sizesOf(pdf));
    }
  }, 240_000);
  afterAll(() => bench.end());

  it.each(PAPERS)("%s: no word is smaller than 8 pt", (paper) => {
    expect(Math.min(...(sizes.get(paper) ?? []))).toBeGreaterThanOrEqual(LEAST_POINTS);
  });

  it.each(PAPERS)("%s: every page is of that paper and no word lies on another", (paper) => {
    const sides = paper === "A4" ? [595, 842] : [612, 792];
    for (const page of books.get(paper) ?? []) {
      expect([page.width, page.height].map(Math.round).sort((a, b) => a - b)).toEqual(sides);
      expect(overprinted(page)).toEqual([]);
    }
  });

  it.each(PAPERS)("%s: every page says which it is of how many, and which sheet", (paper) => {
    const pages = books.get(paper) ?? [];
    pages.forEach((page, at) => {
      const text = page.words.map((word) => word.text).join(" ");
      expect(text).toContain(`Page ${at + 1} of ${pages.length}`);
      expect(text).toContain("S-0001");
    });
  });

  it.each(PAPERS)("%s: each page of Rows repeats row number and label beside its columns", (paper) => {
    const headed = ({ words }: Page): boolean => {
      const top = Math.min(...words.map((word) => word.top));
      return words.some((word) => /^(Length|Width):$/.test(word.text) && word.top - top < 5);
    };
    const pages = (books.get(paper) ?? []).filter(headed);
    expect(pages.length).toBeGreaterThan(3);
    for (const page of pages) {
      const top = Math.min(...page.words.map((word) => word.top));
      const heads = page.words.filter((word) => word.top - top < 5).map((word) => word.text);
      expect(heads).toEqual(expect.arrayContaining(["Row", "Label"]));
      expect(page.words.some((word) => word.text === "grain")).toBe(true);
    }
  });
});
