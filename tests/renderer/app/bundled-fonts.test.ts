import { globSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { charactersOfFont } from "../../support/font-characters.ts";
import { textsOfSource } from "../../support/source-texts.ts";

const ROOT = fileURLToPath(new URL("../../../", import.meta.url));
const require = createRequire(import.meta.url);
const FONTS = join(ROOT, "src-renderer", "app", "fonts.css");

/** Characters that stand in texts but never on the screen. */
const NOT_SHOWN = new Map<string, string>([
  ["＋－＝＠", "full-width signs a spreadsheet may take for the start of a formula: compared with"],
  ["\uFEFF\uFFFD", "marks of an encoding in files: written and looked for"],
  ["\uFE0E", "asks for the plain form of the sign before it; has no glyph of its own"],
  ["μ", "Greek mu in headings of files that come in: compared with"],
]);

interface Face {
  readonly family: string;
  readonly characters: ReadonlySet<string>;
}

/** First and last code of each part of a `unicode-range`. */
function rangesOf(text: string): readonly (readonly [number, number])[] {
  return text.split(",").map((part) => {
    const [first = "", last = first] = part.trim().replace("U+", "").split("-");
    return [Number.parseInt(first, 16), Number.parseInt(last, 16)] as const;
  });
}

/** The faces a style sheet declares, itself or by what it imports, each with the characters it may be used for. */
function facesOf(path: string): readonly Face[] {
  const css = readFileSync(path, "utf8");
  const imported = [...css.matchAll(/@import "([^"]+)"/g)].flatMap(([, name = ""]) =>
    facesOf(require.resolve(name)),
  );
  const own = [...css.matchAll(/@font-face \{([^}]*)\}/g)].map(([, block = ""]) => {
    const of = (key: string): string => new RegExp(`${key}:\\s*([^;]+);`).exec(block)?.[1] ?? "";
    const [, file = ""] = /url\(["']?([^"')]+)["']?\)/.exec(of("src")) ?? [];
    const font = file.startsWith("./") ? join(dirname(path), file) : require.resolve(file);
    const ranges = rangesOf(of("unicode-range"));
    const characters = [...charactersOfFont(font)].filter((one) => {
      const code = one.codePointAt(0) ?? 0;
      return ranges.some(([first, last]) => code >= first && code <= last);
    });
    return { family: of("font-family").replace(/["']/g, ""), characters: new Set(characters) };
  });
  return [...imported, ...own];
}

/** The families of a stack in `tokens.css`, in order. */
function stackOf(token: string): readonly string[] {
  const css = readFileSync(join(ROOT, "src-renderer", "app", "tokens.css"), "utf8");
  const [, stack = ""] = new RegExp(`${token}:\\s*([^;]+);`).exec(css) ?? [];
  return stack.split(",").map((family) => family.trim().replaceAll('"', ""));
}

const faces = facesOf(FONTS);

function charactersOfStack(token: string): ReadonlySet<string> {
  const stack = stackOf(token);
  return new Set(faces.filter((face) => stack.includes(face.family)).flatMap((face) => [...face.characters]));
}

/**
 * Every character of every text of the program that is not plain ASCII, with the first file it stands in. Texts of the
 * workbook are shown by spreadsheet programs in their own fonts.
 */
function charactersShown(): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  const files = globSync(["src-{core,main,renderer}/**/*.{ts,tsx,md}", "resources/CHANGELOG.md"], {
    cwd: ROOT,
    exclude: ["src-main/workbook/**"],
  });
  for (const file of files) {
    const texts = file.endsWith(".md")
      ? [readFileSync(join(ROOT, file), "utf8")]
      : textsOfSource(join(ROOT, file));
    for (const character of texts.join("")) {
      if ((character.codePointAt(0) ?? 0) > 0x7e && !found.has(character)) found.set(character, file);
    }
  }
  for (const character of [...NOT_SHOWN.keys()].join("")) found.delete(character);
  return found;
}

describe("the bundled fonts", () => {
  const shown = charactersShown();

  it.each(["--face", "--face-mono"])("have a glyph for every character the program says, by %s", (token) => {
    const characters = charactersOfStack(token);
    const missing = [...shown].filter(([one]) => !characters.has(one));
    expect(missing).toEqual([]);
  });

  it("are looked for in real texts", () => {
    for (const sign of "µ±×²√ν−…’") expect(shown.has(sign), sign).toBe(true);
  });

  it("give digits and letters from the first face of each stack", () => {
    for (const token of ["--face", "--face-mono"]) {
      const first = faces.filter((face) => face.family === stackOf(token)[0]);
      const characters = new Set(first.flatMap((face) => [...face.characters]));
      for (const sign of "0123456789.,±−×abcxyz") expect(characters.has(sign), `${token} ${sign}`).toBe(true);
      expect(characters.has("☃")).toBe(false);
    }
  });
});
