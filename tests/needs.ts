/*
 * `npm run needs`: finds what the tests need beyond npm by letting each program do a small piece of its work, installs
 * what is missing where apt-get may be used, and names what is still missing; exit 1 then.
 */
import { spawnSync } from "node:child_process";
import { lackOf, NEEDS, type Need } from "./support/needs.ts";
import { answers, asRoot } from "./support/outside-programs.ts";

function install(packages: readonly string[]): void {
  const before = answers("apt-get", ["--version"]) ? asRoot() : null;
  if (before === null) return;
  const [program = "", ...options] = [...before, "apt-get", "-o", "DPkg::Lock::Timeout=120"];
  const steps = [["update"], ["install", "-y", "--no-install-recommends", ...packages]];
  steps.every((step) => {
    const args = [...options, ...step];
    console.log(`needs: ${[program, ...args].join(" ")}`);
    const { status } = spawnSync(program, args, {
      stdio: ["ignore", "ignore", "inherit"],
      env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
    });
    return status === 0;
  });
}

async function lacking(needs: readonly Need[]): Promise<{ need: Need; lack: string }[]> {
  const lacks = [];
  for (const need of needs) {
    const lack = await lackOf(need);
    console.log(lack === null ? `needs: ${need.what}: works` : `needs: ${need.what}: does not work: ${lack}`);
    if (lack !== null) lacks.push({ need, lack });
  }
  return lacks;
}

let lacks = await lacking(NEEDS);
if (lacks.length > 0) {
  install(lacks.flatMap(({ need }) => need.debianPackages));
  lacks = await lacking(lacks.map(({ need }) => need));
}
for (const { need, lack } of lacks)
  console.error(
    `${need.what} cannot do what the tests need (${need.why}): ${lack}. ` +
      `On Debian or Ubuntu: apt-get install ${need.debianPackages.join(" ")}`,
  );
process.exitCode = lacks.length === 0 ? 0 : 1;
