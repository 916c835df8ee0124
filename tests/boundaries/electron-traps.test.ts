import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { parseSync } from "@swc/core";
import { describe, expect, it } from "vitest";
import { ROOT } from "./planted-tree.ts";

/** Traps that types and linters do not see, each found in a real window that did not open, close or load. */
function sources(folder: string): [file: string, text: string][] {
  const files = readdirSync(join(ROOT, folder), { recursive: true, encoding: "utf8" });
  const kept = files.filter((file) => /\.tsx?$/.test(file)).map((file) => join(folder, file));
  return kept.map((file) => [file, readFileSync(join(ROOT, file), "utf8")]);
}

/** Whether a module waits while it is loaded: an `await` outside every function. */
function waitsAtTopLevel(text: string): boolean {
  const { body } = parseSync(text, { syntax: "typescript", target: "es2022" });
  return body.some(function waits(node: unknown): boolean {
    if (typeof node !== "object" || node === null) return false;
    const type = "type" in node ? String(node.type) : "";
    if (type === "AwaitExpression" || (type === "ForOfStatement" && "await" in node && node.await))
      return true;
    const ownTime =
      /^(?:Function|ArrowFunction|Class(?:Method|Property)|PrivateMethod|Constructor|MethodProperty)/;
    if (ownTime.test(type)) return false;
    return Object.values(node).some((part) => (Array.isArray(part) ? part.some(waits) : waits(part)));
  });
}

/** `location.reload()`, `.assign()`, `.replace()` and a new `location`: the Electron host refuses what the page starts. */
const GOES_ELSEWHERE = /\blocation\s*(?:\.\s*(?:reload|assign|replace)\s*\(|(?:\.\s*href)?\s*=(?![=>{]))/;

describe("a module of the Electron host", () => {
  it.each([
    ["await go();", true],
    ["const kept = [await go()];", true],
    ["if (now) { await go(); }", true],
    ["for await (const one of all) take(one);", true],
    ["void go().then(async () => { await more(); });", false],
    ["async function go() { await more(); }", false],
    ["class Go { async now() { await more(); } }", false],
    ["const acts = { async now() { await more(); } };", false],
  ])("%s waits while it is loaded: %s", (text, waits) => {
    expect(waitsAtTopLevel(`declare const now: boolean;\n${text}\nexport {};`)).toBe(waits);
  });

  it("never waits while it is loaded: Electron becomes ready only afterwards", () => {
    const waiting = sources("src-main/electron").filter(([, text]) => waitsAtTopLevel(text));
    expect(waiting.map(([file]) => file)).toEqual([]);
  });
});

describe("the window", () => {
  it.each([
    ["window.location.reload()", true],
    ["location.assign(address)", true],
    ["location . replace(address)", true],
    ['window.location.href = "/"', true],
    ["location = address", true],
    ["location.hash.slice(1)", false],
    ["location.screen === screen", false],
    ["navigation.replace(location)", false],
    ["const { location } = useNavigationState()", false],
  ])("%s goes elsewhere: %s", (text, goes) => {
    expect(GOES_ELSEWHERE.test(text)).toBe(goes);
  });

  it("never navigates by itself, which the Electron host refuses", () => {
    const going = sources("src-renderer").filter(([, text]) =>
      text.split("\n").some((line) => GOES_ELSEWHERE.test(line) && !/\b(?:const|let) location =/.test(line)),
    );
    expect(going.map(([file]) => file)).toEqual([]);
  });

  it("asks to stay in one place, tells its host why there, and the host answers", () => {
    const asking = sources("src-renderer").filter(([, text]) => text.includes('"beforeunload"'));
    expect(asking.map(([file]) => file)).toEqual(["src-renderer/app/use-unload-guard.ts"]);
    expect(asking[0]?.[1]).toContain("host.tellUnsaved(");
    const answering = sources("src-main/electron").filter(([, text]) =>
      text.includes('"will-prevent-unload"'),
    );
    expect(answering.map(([file]) => file)).toEqual(["src-main/electron/window-life.ts"]);
  });
});
