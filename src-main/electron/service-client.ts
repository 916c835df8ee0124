import type { CallName } from "#core/contract/calls.ts";
import type { WorkProgress } from "#core/contract/records/work.ts";
import type {
  BenchToOpen,
  FromService,
  Question,
  Questions,
  ToService,
  Trouble,
} from "./service-messages.ts";

/** The service process as the window's process sees it: what `utilityProcess.fork` gives. */
export interface ServiceChild {
  postMessage(message: ToService): void;
  on(event: "message", listener: (message: FromService) => void): unknown;
  on(event: "exit", listener: (code: number) => void): unknown;
}

/** How the window's process answers what only it can. */
export type Answers = {
  /** The signal is given when the answer is no longer wanted. */
  readonly [Q in Question]: (
    asked: Questions[Q]["asked"],
    signal: AbortSignal,
  ) => Promise<Questions[Q]["answer"]>;
};

export interface ServiceOptions {
  readonly fork: () => ServiceChild;
  readonly bench: BenchToOpen;
  readonly answers: Answers;
  /** The service process had ended unasked; a new one has opened the bench. */
  readonly onRestarted: () => void;
  /** It ended again and again, or its bench does not open any more: nothing can be stored. */
  readonly onLost: (trouble: Trouble) => void;
  readonly log: (line: string) => void;
  readonly now?: () => number;
}

export interface ServiceClient {
  /** The first opening. @throws ServiceTrouble when the bench does not open */
  readonly opened: Promise<void>;
  /** One call as JSON text, its Reply as JSON text. Waits for the bench to be open; never rejects. */
  call(name: string, input: string): Promise<string>;
  /** Closes the bench and waits until its process has ended. */
  close(): Promise<void>;
}

/** Why the program cannot go on, in words for the person. */
export class ServiceTrouble extends Error {
  readonly hint: string;

  constructor({ message, hint }: Trouble) {
    super(message);
    this.name = "ServiceTrouble";
    this.hint = hint;
  }
}

/** One that ends this often within a minute will not do better the next time. */
const MOST_ENDS = 3;
const WITHIN_MS = 60_000;

/** The window's client takes this as not answered and sends the same request again. */
const NOT_ANSWERED = JSON.stringify({
  ok: false,
  error: {
    code: "host.lost",
    message: "The part of the program that keeps the bench has stopped.",
    hint: "It is started again. What was acknowledged is stored.",
  },
});

interface Running {
  readonly child: ServiceChild;
  readonly opened: PromiseWithResolvers<void>;
  readonly waiting: Map<number, (reply: string) => void>;
  /** Questions of its own that are being answered. */
  readonly asking: Map<number, AbortController>;
  state: "opening" | "open" | "ended";
  /** How far opening is, where it takes long. */
  progress: WorkProgress | null;
}

/** Answered here while the bench is being opened, for its process keeps to that. */
const OPENING: CallName = "bench.opening";

/** Keeps a service process running for one bench, and passes calls on to it. */
export function startService(options: ServiceOptions): ServiceClient {
  const { now = Date.now } = options;
  const ends: number[] = [];
  const ended = Promise.withResolvers<void>();
  let closing = false;
  let calls = 0;
  let running = run();

  function run(): Running {
    const opened = Promise.withResolvers<void>();
    // Whoever waits for it hears of it; nobody may be waiting.
    opened.promise.catch(() => {});
    const started: Running = {
      child: options.fork(),
      opened,
      waiting: new Map(),
      asking: new Map(),
      state: "opening",
      progress: null,
    };
    started.child.on("message", (message) => heard(started, message));
    started.child.on("exit", (code) => gone(started, code));
    started.child.postMessage({ kind: "open", bench: options.bench });
    return started;
  }

  function heard(from: Running, message: FromService): void {
    if (message.kind === "opened") {
      from.state = "open";
      from.opened.resolve();
    } else if (message.kind === "opening") from.progress = message.progress;
    else if (message.kind === "unopenable") from.opened.reject(new ServiceTrouble(message.trouble));
    else if (message.kind === "reply") {
      from.waiting.get(message.id)?.(message.reply);
      from.waiting.delete(message.id);
    } else if (message.kind === "never mind") from.asking.get(message.id)?.abort();
    else void answer(from, message.id, message.question, message.asked);
  }

  async function answer<Q extends Question>(
    { child, asking }: Running,
    id: number,
    question: Q,
    asked: Questions[Q]["asked"],
  ): Promise<void> {
    const wanted = new AbortController();
    asking.set(id, wanted);
    try {
      const answered = await options.answers[question](asked, wanted.signal);
      child.postMessage({ kind: "answer", id, answer: answered });
    } catch (error) {
      child.postMessage({ kind: "failed", id, why: error instanceof Error ? error.message : String(error) });
    } finally {
      asking.delete(id);
    }
  }

  function gone(from: Running, code: number): void {
    const wasOpen = from.state === "open";
    from.state = "ended";
    for (const reply of from.waiting.values()) reply(NOT_ANSWERED);
    for (const wanted of from.asking.values()) wanted.abort();
    from.opened.reject(new ServiceTrouble(endedEarly(code)));
    if (closing) ended.resolve();
    else {
      options.log(`the service process has ended with code ${code}`);
      // One that never opened its bench is told of by `opened` and not tried again.
      if (wasOpen) startAgain(code);
    }
  }

  function startAgain(code: number): void {
    ends.push(now());
    if (ends.filter((at) => now() - at < WITHIN_MS).length >= MOST_ENDS) options.onLost(endsOften(code));
    else {
      running = run();
      running.opened.promise.then(options.onRestarted, options.onLost);
    }
  }

  return {
    opened: running.opened.promise,
    async call(name, input) {
      if (name === OPENING && running.state === "opening") {
        return JSON.stringify({ ok: true, value: running.progress });
      }
      for (;;) {
        const used = running;
        const isOpen = await used.opened.promise.then(
          () => used.state === "open",
          () => false,
        );
        if (isOpen && used === running) break;
        // Nothing was sent yet: the one that took its place may have it.
        if (used === running) return NOT_ANSWERED;
      }
      calls += 1;
      const id = calls;
      const reply = Promise.withResolvers<string>();
      running.waiting.set(id, reply.resolve);
      running.child.postMessage({ kind: "call", id, name, input });
      return reply.promise;
    },
    close() {
      if (running.state === "ended") ended.resolve();
      else if (!closing) running.child.postMessage({ kind: "close" });
      closing = true;
      return ended.promise;
    },
  };
}

function endsOften(code: number): Trouble {
  return {
    message: "The part of Linefall that keeps the bench stops again and again.",
    hint: `What was acknowledged is stored. Start Linefall again; if it stays so, report code ${code} with the file faults.log of the bench folder.`,
  };
}

function endedEarly(code: number): Trouble {
  return {
    message: "The part of Linefall that keeps the bench could not start.",
    hint: `It ended with code ${code}. Install Linefall again; the bench is as it was.`,
  };
}
