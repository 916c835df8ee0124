import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const ROOT = fileURLToPath(new URL("../../../", import.meta.url));

/** `npm run bare` where its store can be made by nobody, so that no room can be laid. */
function bareWithoutRoom(...args: readonly string[]) {
  return spawnSync(process.execPath, ["tests/bare/run.ts", ...args], {
    cwd: ROOT,
    encoding: "utf8",
    env: { ...process.env, LINEFALL_BARE: "/dev/null/store" },
  });
}

// A room itself is laid and entered by .ci/run.
describe("where no bare machine can be laid", () => {
  it("the command is not run, and why is said", () => {
    const { status, stdout, stderr } = bareWithoutRoom("echo was run");
    expect(status).toBe(69);
    expect(stderr).toMatch(/^bare: no room can be laid: .+/);
    expect(stdout).not.toContain("was run");
  });

  it("--or-here runs it on this machine, says which, and ends as it ends", () => {
    const good = bareWithoutRoom("--or-here", "echo was run");
    expect(good.stdout).toMatch(/^bare: no room is laid: .+\nbare: on this machine as it is: echo was run\n/);
    expect(good.stdout).toMatch(/^was run/m);
    expect(good.status).toBe(0);
    expect(bareWithoutRoom("--or-here", "exit 3").status).toBe(3);
  });
});
