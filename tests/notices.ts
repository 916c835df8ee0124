import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { carriedPackages, noticesText } from "./support/third-party-notices.ts";

/** Writes resources/THIRD-PARTY-NOTICES.txt from what the bundles in out/ hold. */
const root = fileURLToPath(new URL("..", import.meta.url));
const { dependencies } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
const names = carriedPackages(join(root, "out", "bundled"), Object.keys(dependencies));
const path = join(root, "resources", "THIRD-PARTY-NOTICES.txt");
writeFileSync(path, noticesText(join(root, "node_modules"), names));
console.log(`${path}: ${names.length} packages`);
