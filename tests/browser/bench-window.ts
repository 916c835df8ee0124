import type { BrowserContext, Page } from "@playwright/test";
import type { CallInput, CallName, CallOutput } from "#core/contract/calls.ts";
import type { Reply } from "#core/contract/reply.ts";

import { shapedAt } from "../electron-shaped/shaped-program.ts";

/** A window of the program under test, with what went wrong in it. */
export interface BenchWindow {
  readonly page: Page;
  /** Violations of the content policy, errors of scripts, and errors on the console. */
  readonly faults: readonly string[];
}

/** Opens a window by its one-time address and waits for the screen. */
export async function openBenchWindow(context: BrowserContext, address: string): Promise<BenchWindow> {
  const page = await context.newPage();
  const faults: string[] = [];
  page.on("pageerror", (error) => faults.push(`script: ${error.message}`));
  page.on("console", (message) => {
    if (message.type() === "error") faults.push(`console: ${message.text()} ${message.location().url}`);
  });
  await page.exposeFunction("linefallViolation", (what: string) => faults.push(`content policy: ${what}`));
  await page.addInitScript(() => {
    document.addEventListener("securitypolicyviolation", (event) => {
      const report = (window as unknown as { linefallViolation: (what: string) => void }).linefallViolation;
      report(`${event.violatedDirective} ${event.blockedURI} ${event.sourceFile}:${event.lineNumber}`);
    });
  });
  await shapedAt(address)?.attach(page);
  await page.goto(address);
  await page.locator("main").waitFor();
  return { page, faults };
}

/** One call as the window itself would make it. @throws when it is refused */
export async function callFrom<N extends CallName>(
  page: Page,
  name: N,
  input: CallInput<N>,
): Promise<CallOutput<N>> {
  const reply = (await page.evaluate(
    async ([callName, callInput]) => {
      const bridge = Reflect.get(window, "linefall") as
        | { call(name: string, input: string): Promise<string> }
        | undefined;
      if (bridge !== undefined)
        return JSON.parse(await bridge.call(callName, JSON.stringify(callInput))) as unknown;
      const response = await fetch(`/call/${callName}`, {
        method: "POST",
        headers: {
          "content-type": "application/json",
          "x-linefall-window": sessionStorage.getItem("linefall.window") ?? "",
        },
        body: JSON.stringify(callInput),
      });
      return (await response.json()) as unknown;
    },
    [name, input] as const,
  )) as Reply<CallOutput<N>>;
  if (!reply.ok) throw new Error(`${name} was refused: ${reply.error.code}: ${reply.error.message}`);
  return reply.value;
}
