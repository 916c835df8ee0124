import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

interface Carried {
  readonly name: string;
  readonly version: string;
  readonly licence: string;
  readonly text: string;
}

/** The folder of a package below node_modules, also of one that another package keeps for itself. */
const packageOf = (file: string) => file.match(/^(.*node_modules\/)?(@[^/]+\/)?[^/]+/)?.[0] ?? "";

/** Packages of which something ships: those in the bundles, and the one that stays a package. */
export function carriedPackages(bundled: string, dependencies: readonly string[]): string[] {
  const files = readdirSync(bundled).flatMap(
    (list) => JSON.parse(readFileSync(join(bundled, list), "utf8")) as string[],
  );
  return [...new Set([...files.map(packageOf), ...dependencies])].sort();
}

/** @throws Error when a package brings no text of its licence */
function carried(packages: string, inside: string): Carried {
  const folder = join(packages, inside);
  const { name, version, license } = JSON.parse(readFileSync(join(folder, "package.json"), "utf8"));
  const texts = readdirSync(folder).filter((file) => /^(licen[cs]e|notice|copying)/i.test(file));
  if (texts.length === 0) throw new Error(`${name} brings no text of its licence`);
  const text = texts
    .sort()
    .map((file) => readFileSync(join(folder, file), "utf8").replaceAll("\r\n", "\n").trim());
  return { name, version, licence: String(license), text: text.join("\n\n") };
}

const HEAD = `Third-party software in Linefall

Each part below is told with its version, its licence and the text that its licence asks to be passed on. A package of
Linefall also carries Electron and Chromium: their licences lie beside the program as LICENSE.electron.txt and
LICENSES.chromium.html. SQLite, inside better-sqlite3, is in the public domain.
`;

/** What the licences of everything that ships ask to be passed on, packages with the same text together. */
export function noticesText(packages: string, names: readonly string[]): string {
  const byText = new Map<string, Carried[]>();
  for (const one of names.map((name) => carried(packages, name))) {
    byText.set(one.text, [...(byText.get(one.text) ?? []), one]);
  }
  const parts = [...byText].map(([text, ones]) => {
    const titles = ones.map(({ name, version, licence }) => `${name} ${version} (${licence})`);
    return `${"=".repeat(78)}\n${titles.join("\n")}\n${"-".repeat(78)}\n\n${text}\n`;
  });
  return [HEAD, ...parts].join("\n");
}
