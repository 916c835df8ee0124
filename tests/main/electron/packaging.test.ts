import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { FuseV1Options, getCurrentFuseWire } from "@electron/fuses";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { boot } from "../../electron-shaped/boot.ts";
import { buildOnce } from "../../support/built-program.ts";
import { type Packed, packProgram } from "../../support/packed-program.ts";

const { build, homepage } = JSON.parse(
  readFileSync(new URL("../../../package.json", import.meta.url), "utf8"),
);

describe("the package, made by electron-builder around a stand-in for Electron's binary", () => {
  const folder = mkdtempSync(join(tmpdir(), "linefall-package-"));
  let packed: Packed;
  beforeAll(() => {
    buildOnce();
    packed = packProgram(folder);
  }, 120_000);
  afterAll(() => rmSync(folder, { recursive: true, force: true, maxRetries: 10, retryDelay: 100 }));

  it("has its fuses set against other uses of the binary", async () => {
    const fuses = await getCurrentFuseWire(packed.executable);
    // @electron/fuses, README: one character per fuse, `0` off and `1` on.
    const on = { true: "1".charCodeAt(0), false: "0".charCodeAt(0) };
    expect({
      runAsNode: fuses[FuseV1Options.RunAsNode],
      cookies: fuses[FuseV1Options.EnableCookieEncryption],
      nodeOptions: fuses[FuseV1Options.EnableNodeOptionsEnvironmentVariable],
      inspect: fuses[FuseV1Options.EnableNodeCliInspectArguments],
      integrity: fuses[FuseV1Options.EnableEmbeddedAsarIntegrityValidation],
      onlyAsar: fuses[FuseV1Options.OnlyLoadAppFromAsar],
      files: fuses[FuseV1Options.GrantFileProtocolExtraPrivileges],
    }).toEqual({
      runAsNode: on.false,
      cookies: on.false,
      nodeOptions: on.false,
      inspect: on.false,
      integrity: on.true,
      onlyAsar: on.true,
      files: on.false,
    });
    // A changed binary without a signature of its own does not start on Apple silicon (@electron/fuses, README).
    expect(build.electronFuses.resetAdHocDarwinSignature).toBe(true);
  });

  it("holds what is built, one native part, and nothing else", () => {
    const paths = packed.files.map(({ path }) => path);
    const lawful =
      /^(out\/(main|renderer)\/.*\.(js|css|html|woff2?|svg)|out\/renderer\/assets\/practice-[\w-]+\.png|out\/preload\/preload\.cjs|resources\/(icon\.png|THIRD-PARTY-NOTICES\.txt)|package\.json|node_modules\/better-sqlite3\/(lib\/.*\.js|LICENSE|package\.json|prebuilds\/linux-x64\.node))$/;
    expect(paths.filter((path) => !lawful.test(path))).toEqual([]);
    expect(paths.filter((path) => path.endsWith(".node"))).toEqual([
      "node_modules/better-sqlite3/prebuilds/linux-x64.node",
    ]);
    for (const part of [
      "main/main.js",
      "main/service-process.js",
      "preload/preload.cjs",
      "renderer/index.html",
    ])
      expect(paths).toContain(`out/${part}`);
  });

  it("starts away from its sources, finds its native part and stores what is entered", async () => {
    const bench = join(folder, "bench");
    const one = boot({
      main: join(packed.application, "out", "main", "main.js"),
      line: ["--data", bench],
      folder,
      packaged: true,
    });
    try {
      const input = {
        requestId: "request-of-ada",
        person: { name: "Ada Example", initials: "AE", interpupillaryMm: "" },
      };
      const call = (name: string, value: object) =>
        one.ask("invoke", {
          sender: { frame: "main" },
          channel: `linefall:${name}`,
          args: [JSON.stringify(value)],
        });
      await expect.poll(async () => (await one.look()).windows.length, { timeout: 20_000 }).toBe(1);
      expect(JSON.parse(String(await call("people.register", input)))).toMatchObject({ ok: true });
      await one.ask("close", null);
      expect(await one.ended).toBe(0);
      expect(readFileSync(join(bench, "bench.sqlite")).subarray(0, 15).toString()).toBe("SQLite format 3");
    } finally {
      one.process.kill("SIGKILL");
    }
  });

  it("tells the systems what they ask for", () => {
    // Debian Policy Manual 4.7, 5.6.2 (Maintainer) and 5.6.23 (Homepage).
    expect(build.linux.maintainer).toMatch(/^[^<>]+ <[^\s<>]+@[^\s<>]+>$/);
    expect(new URL(homepage).protocol).toBe("https:");
    expect(build.linux.target).toEqual(["AppImage", "deb", "zip"]);
    expect(build.mac.target).toContain("zip");
    expect(build.win.target).toContain("zip");
    // Its runtime is linked statically: current distributions have no libfuse2 any more.
    expect(build.toolsets.appimage).toBe("1.0.3");
    expect(build.npmRebuild).toBe(false);
  });
});
