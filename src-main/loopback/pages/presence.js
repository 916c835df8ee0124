// Holds one request open for as long as this window lives: the program ends with its last window.
for (;;) {
  try {
    const answer = await fetch("/presence", {
      method: "POST",
      headers: {
        "content-type": "application/json",
        "x-linefall-window": sessionStorage.getItem("linefall.window") ?? "",
      },
      credentials: "omit",
      body: "{}",
    });
    if (answer.status === 403) break;
    await answer.text();
  } catch {
    // The program has ended or was interrupted; the screens say so at their next call.
  }
  await new Promise((resolve) => setTimeout(resolve, 1000));
}
