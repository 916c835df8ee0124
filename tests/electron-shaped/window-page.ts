import { readFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout } from "node:timers/promises";
import type { CDPSession, Dialog, Page, Request as PageRequest, Route } from "@playwright/test";
import type { Booted } from "./boot.ts";
import type { RemotePage } from "./stand-in-window.ts";
import { mainWorld, preloadWorld } from "./worlds.ts";

const REAL = "linefall://bench";
const WORLD = "preload";
/** SLOW_WINDOW=4: a processor four times slower, and answers up to 200 ms late, to find what only holds on a fast machine. */
const SLOWNESS = Number(process.env.SLOW_WINDOW ?? 1);
const LATE_MS = 50;

/** What Electron calls a permission, and what Chromium's protocol calls it. */
const PERMISSIONS = [
  ["clipboard-sanitized-write", { name: "clipboard-write", allowWithoutSanitization: false }],
  ["clipboard-read", { name: "clipboard-read" }],
  ["notifications", { name: "notifications" }],
  ["geolocation", { name: "geolocation" }],
] as const;

/**
 * Draws the window of a booted program on a page of real Chromium: the program's own protocol handler and policy, its
 * preload in a world of its own, its handlers for calls, navigation, new windows, unloading and permissions.
 * @param origin stands for `linefall://bench`: Chromium gives no secure origin to a scheme it does not know
 */
export async function attachPage(booted: Booted, page: Page, origin: string, out: string): Promise<void> {
  const cdp = await page.context().newCDPSession(page);
  const driver = { navigations: 0 };
  await runPreload(booted, cdp, join(out, "preload", "preload.cjs"));
  await page.route("**/*", (route, request) => serve(booted, page, origin, driver, route, request));
  await applyPermissions(booted, cdp, origin);
  page.on("popup", async (popup) => {
    if ((await booted.ask("openWindow", { url: popup.url() })) === "deny") await popup.close();
  });
  const goto = page.goto.bind(page);
  const reload = page.reload.bind(page);
  // Loading by the main process is no navigation of the page's own (docs/api/web-contents.md, will-navigate).
  page.goto = (url, options) => {
    driver.navigations += 1;
    return goto(url, options);
  };
  page.reload = (options) => {
    driver.navigations += 1;
    return reload(options);
  };
  const stays = unloading(booted, page, driver);
  await booted.attach(remotePage(page, cdp, origin, stays));
}

async function runPreload(booted: Booted, cdp: CDPSession, path: string): Promise<void> {
  const key = `bridge-${crypto.randomUUID()}`;
  const frames = new Map<number, string>();
  await cdp.send("Page.enable");
  await cdp.send("Runtime.enable");
  if (SLOWNESS > 1) await cdp.send("Emulation.setCPUThrottlingRate", { rate: SLOWNESS });
  const { frameTree } = await cdp.send("Page.getFrameTree");
  cdp.on("Runtime.executionContextCreated", ({ context }) => {
    const { frameId } = (context.auxData ?? {}) as { frameId?: string };
    if (frameId !== undefined) frames.set(context.id, frameId);
  });
  await cdp.send("Runtime.addBinding", { name: "linefallIpc", executionContextName: WORLD });
  cdp.on("Runtime.bindingCalled", async ({ name, payload, executionContextId }) => {
    if (name !== "linefallIpc") return;
    const { kind, id, channel, args } = JSON.parse(payload);
    const own = frames.get(executionContextId) === frameTree.frame.id;
    const sender = own ? ({ frame: "main" } as const) : ({ frame: "other", url: "about:blank" } as const);
    if (kind === "send") return void booted.ask("send", { sender, channel, args }).catch(() => null);
    const [ok, value] = await booted.ask("invoke", { sender, channel, args }).then(
      (answer) => [true, answer],
      (error: Error) => [false, error.message],
    );
    // Mostly a little, sometimes all of it.
    if (SLOWNESS > 1) await setTimeout(SLOWNESS * LATE_MS * Math.random() ** 3);
    const expression = `linefallIpcAnswer(${id}, ${ok}, ${JSON.stringify(value)})`;
    await cdp.send("Runtime.evaluate", { contextId: executionContextId, expression }).catch(() => null);
  });
  await cdp.send("Page.addScriptToEvaluateOnNewDocument", { source: `(${mainWorld})("${key}")` });
  const preload = `function (require, module, exports) {${readFileSync(path, "utf8")}\n}`;
  const source = `(${preloadWorld})("${key}", ${preload})`;
  await cdp.send("Page.addScriptToEvaluateOnNewDocument", { source, worldName: WORLD });
}

async function serve(
  booted: Booted,
  page: Page,
  origin: string,
  driver: { navigations: number },
  route: Route,
  request: PageRequest,
): Promise<void> {
  const url = request.url().replace(origin, REAL);
  if (request.isNavigationRequest() && request.frame() === page.mainFrame()) {
    if (driver.navigations > 0) driver.navigations -= 1;
    else if (await booted.ask("emit", { on: "contents", event: "will-navigate", url }))
      return route.abort("aborted");
  }
  const answer = await booted.ask("serve", { url, method: request.method() }).catch(() => null);
  if (answer === null) return route.abort("blockedbyclient");
  const { status, headers, body } = answer;
  await route.fulfill({ status, headers, body: Buffer.from(body) });
}

/** The program's check handler decides beforehand what its page may do. */
async function applyPermissions(booted: Booted, cdp: CDPSession, origin: string): Promise<void> {
  const { targetInfo } = await cdp.send("Target.getTargetInfo");
  const browserContextId = targetInfo.browserContextId;
  for (const [electron, permission] of PERMISSIONS) {
    const { check } = await booted.ask("permission", { permission: electron, origin: `${REAL}/` });
    await cdp.send("Browser.setPermission", {
      permission,
      setting: check ? "granted" : "denied",
      origin,
      ...(browserContextId === undefined ? {} : { browserContextId }),
    });
  }
}

/** Unloading as Electron does it: a page that would rather stay stays, unless `will-prevent-unload` is forbidden. */
function unloading(
  booted: Booted,
  page: Page,
  driver: { readonly navigations: number },
): { refused: () => void } {
  const stays = { refused: () => {} };
  page.on("dialog", async (dialog: Dialog) => {
    if (dialog.type() !== "beforeunload") return void dialog.accept();
    // A test that loads the window anew stands for the program being started again.
    if (driver.navigations > 0) return void dialog.accept();
    const leave = await booted
      .ask("emit", { on: "contents", event: "will-prevent-unload" })
      .catch(() => true);
    await (leave ? dialog.accept() : dialog.dismiss());
    if (!leave) stays.refused();
  });
  return stays;
}

function remotePage(page: Page, cdp: CDPSession, origin: string, stays: { refused: () => void }): RemotePage {
  return {
    load: async (url) => void (await page.goto(url.replace(REAL, origin))),
    reload: async () => void (await page.reload()),
    pdf: ({ preferCSSPageSize = false, printBackground = false }) =>
      page.pdf({ preferCSSPageSize, printBackground }),
    async unload() {
      if (page.isClosed()) return true;
      const closed = new Promise<boolean>((resolve) => page.once("close", () => resolve(true)));
      const refused = new Promise<boolean>((resolve) => {
        stays.refused = () => resolve(false);
      });
      // Asks the page; by `page.close` a page that stayed once could not be asked again.
      await cdp.send("Page.close").catch(() => null);
      return Promise.race([closed, refused]);
    },
  };
}
