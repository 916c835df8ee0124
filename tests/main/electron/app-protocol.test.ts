import { beforeEach, describe, expect, it, vi } from "vitest";
import { answerOf, declareScheme, isWindowAddress, serveWindow } from "#main/electron/app-protocol.ts";
import { CONTENT_POLICY } from "#main/ports/content-policy.ts";
import { recorded, startAfresh } from "../../support/electron-stand-in.ts";

vi.mock("electron", async () => (await import("../../support/electron-stand-in.ts")).electron);

const files = new Map([
  ["/index.html", { body: Buffer.from("<title>bench</title>"), type: "text/html; charset=utf-8" }],
  ["/assets/window.js", { body: Buffer.from("export {};"), type: "text/javascript; charset=utf-8" }],
]);

describe("the window's own scheme", () => {
  beforeEach(startAfresh);

  it("is granted what an origin needs and nothing else", () => {
    declareScheme();
    expect(recorded.schemes).toEqual([{ scheme: "linefall", privileges: { standard: true, secure: true } }]);
  });

  it("serves the built files with the content policy", async () => {
    serveWindow(files);
    const answer = await recorded.served.get("linefall")?.(new Request("linefall://bench/assets/window.js"));
    expect(answer?.status).toBe(200);
    expect(await answer?.text()).toBe("export {};");
    expect(answer?.headers.get("content-type")).toBe("text/javascript; charset=utf-8");
    expect(answer?.headers.get("content-security-policy")).toBe(CONTENT_POLICY);
  });

  it.each([
    "linefall://bench/",
    "linefall://bench/../secret.txt",
    "linefall://bench/..%2fsecret.txt",
    "linefall://bench/%2e%2e/secret.txt",
    "linefall://bench/assets/..%5c..%5csecret.txt",
    "linefall://bench//index.html",
    "linefall://bench/index.html%00",
    "linefall://bench/index.html?x",
    "linefall://other/index.html",
    "linefall://bench.attacker.example/index.html",
  ])("finds nothing at %s", (url) => {
    const answer = answerOf({ method: "GET", url }, files);
    expect(answer.status).toBe(404);
    expect(answer.headers.get("content-security-policy")).toBe(CONTENT_POLICY);
  });

  it("answers GET only", () => {
    expect(answerOf({ method: "POST", url: "linefall://bench/index.html" }, files).status).toBe(404);
  });

  it.each([
    ["linefall://bench/index.html", true],
    ["linefall://bench/", true],
    ["linefall://bench.attacker.example/", false],
    ["linefall://attacker@bench/", false],
    ["https://bench/", false],
    ["https://attacker.example/?linefall://bench/", false],
    ["file:///linefall://bench/", false],
    ["about:blank", false],
    ["", false],
  ])("%s is the window's own: %s", (address, own) => {
    expect(isWindowAddress(address)).toBe(own);
  });
});

describe("the content policy", () => {
  const directives = new Map(
    CONTENT_POLICY.split("; ").map((part) => [part.split(" ")[0], part.split(" ").slice(1)]),
  );

  it("allows the program's own files, and nothing inline, evaluated or foreign", () => {
    expect(directives.get("default-src")).toEqual(["'none'"]);
    expect(directives.get("script-src")).toEqual(["'self'"]);
    expect(directives.get("style-src")).toEqual(["'self'"]);
    expect(directives.get("connect-src")).toEqual(["'self'"]);
    expect(directives.get("frame-ancestors")).toEqual(["'none'"]);
    expect(directives.get("base-uri")).toEqual(["'none'"]);
    expect(directives.get("form-action")).toEqual(["'none'"]);
    expect(CONTENT_POLICY).not.toMatch(/unsafe|\*|https?:|blob:/);
  });
});
