import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { pathToFileURL } from "node:url";

/** What the tests need that npm does not bring. */
interface Need {
  readonly what: string;
  readonly why: string;
  readonly debianPackage: string;
  readonly isThere: () => boolean;
}

const NEEDS: readonly Need[] = [
  {
    what: "Chromium",
    why: "whole jobs are done in a real browser",
    debianPackage: "chromium",
    isThere: () =>
      existsSync(process.env.LINEFALL_TEST_BROWSER ?? "") ||
      ["chromium", "chromium-browser", "google-chrome"].some((name) => answers(name, ["--version"])),
  },
  {
    what: "LibreOffice Calc",
    why: "workbooks are recalculated in another program",
    debianPackage: "libreoffice-calc",
    isThere: () => answers("soffice", ["--version"]),
  },
  {
    what: "pdftotext",
    why: "the printed report is read back page by page",
    debianPackage: "poppler-utils",
    isThere: () => answers("pdftotext", ["-v"]),
  },
  {
    what: "openpyxl for Python 3",
    why: "workbooks are reopened by another reader",
    debianPackage: "python3-openpyxl",
    // The packaged Python: another one on the path would not see the packaged module.
    isThere: () =>
      ["/usr/bin/python3", "python3"].some((python) => answers(python, ["-c", "import openpyxl"])),
  },
];

function answers(command: string, args: readonly string[]): boolean {
  const { status } = spawnSync(command, args, { stdio: "ignore", timeout: 60_000 });
  return status === 0;
}

/** How apt-get may be run here without asking anybody; null when it may not. */
function aptGet(): readonly string[] | null {
  if (!answers("apt-get", ["--version"])) return null;
  if (process.getuid?.() === 0) return ["apt-get"];
  return answers("sudo", ["-n", "true"]) ? ["sudo", "-n", "apt-get"] : null;
}

function install(packages: readonly string[]): boolean {
  const command = aptGet();
  if (command === null) return false;
  const [program = "", ...before] = command;
  const steps = [["update"], ["install", "-y", "--no-install-recommends", ...packages]];
  return steps.every((step) => {
    const args = [...before, "-o", "DPkg::Lock::Timeout=120", ...step];
    console.log(`prepare: ${[program, ...args].join(" ")}`);
    const { status } = spawnSync(program, args, {
      stdio: ["ignore", "ignore", "inherit"],
      env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
    });
    return status === 0;
  });
}

/**
 * Finds what the tests need beyond npm, and installs what is missing where apt-get may be used.
 * @returns what is still missing, as sentences for the person; empty when all is there
 */
export function prepare(): string[] {
  const missing = NEEDS.filter((need) => !need.isThere());
  for (const need of NEEDS.filter((found) => !missing.includes(found)))
    console.log(`prepare: ${need.what} is there`);
  if (missing.length === 0) return [];
  console.log(`prepare: missing ${missing.map((need) => need.what).join(", ")}`);
  install(missing.map((need) => need.debianPackage));
  return missing
    .filter((need) => !need.isThere())
    .map(
      ({ what, why, debianPackage }) =>
        `${what} is missing (${why}). On Debian or Ubuntu: apt-get install ${debianPackage}`,
    );
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? "").href) {
  const missing = prepare();
  for (const sentence of missing) console.error(sentence);
  process.exitCode = missing.length === 0 ? 0 : 1;
}
