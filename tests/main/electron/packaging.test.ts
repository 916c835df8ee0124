import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";

const { build, main } = JSON.parse(
  readFileSync(new URL("../../../package.json", import.meta.url), "utf8"),
) as {
  main: string;
  build: {
    files: string[];
    npmRebuild: boolean;
    asarUnpack: string[];
    electronFuses: Record<string, boolean>;
  };
};

describe("the package", () => {
  it("has its fuses set against other uses of the binary", () => {
    expect(build.electronFuses).toEqual({
      runAsNode: false,
      enableCookieEncryption: true,
      enableNodeOptionsEnvironmentVariable: false,
      enableNodeCliInspectArguments: false,
      enableEmbeddedAsarIntegrityValidation: true,
      onlyLoadAppFromAsar: true,
      grantFileProtocolExtraPrivileges: false,
    });
  });

  it("holds what is built, the icon and no source, so no loopback host", () => {
    const taken = build.files.filter((pattern) => !pattern.startsWith("!"));
    expect(taken).toEqual([
      "out/main/**",
      "out/preload/**",
      "out/renderer/**",
      "resources/icon.png",
      "package.json",
    ]);
    expect(main).toBe("out/main/main.js");
  });

  it("keeps the database's ready-made binary outside the archive and compiles nothing", () => {
    expect(build.npmRebuild).toBe(false);
    expect(build.asarUnpack).toEqual(["node_modules/better-sqlite3/prebuilds/**"]);
  });
});
