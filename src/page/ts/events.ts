// Listens to the server's events while the page is visible, and notices when it stops answering.
import type { App, Outcome } from "./app";
import type { Live } from "./model";

/** Waits between attempts to reach a server that is gone, in ms: quick at first, then every three seconds. */
export const retryDelay = (attempt: number): number => Math.min(3000, 250 * 2 ** Math.min(attempt, 10));

export function listen(app: App): void {
  let source: EventSource | null = null;
  let attempt = 0;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const close = (): void => {
    clearTimeout(timer);
    source?.close();
    source = null;
  };

  const open = (): void => {
    close();
    const stream = new EventSource("/api/events");
    source = stream;
    stream.addEventListener("open", () => {
      const wasGone = attempt > 0 || app.gone !== null;
      attempt = 0;
      if (wasGone) void app.refresh();
    });
    stream.addEventListener("error", () => {
      close();
      app.gone ??= "no answer";
      if (attempt === 0) app.redraw();
      timer = setTimeout(async () => {
        attempt += 1;
        await app.refresh(); // tells a restart (refused) from silence
        if (source === null && document.visibilityState === "visible") open();
      }, retryDelay(attempt));
    });
    stream.addEventListener("live", (event) => {
      const live = JSON.parse((event as MessageEvent<string>).data) as Live;
      const started = app.live === null;
      app.live = live;
      if (started) app.redraw();
      app.onLive?.(live);
    });
    stream.addEventListener("recorded", (event) => {
      // Shown together with the take itself: until that is fetched the screen goes on as it was.
      app.outcome = JSON.parse((event as MessageEvent<string>).data) as Outcome;
      void app.refresh();
    });
    for (const name of ["visit", "visits", "missed", "state"]) stream.addEventListener(name, () => void app.refresh());
  };

  // A hidden tab lets its connection go: browsers allow only a few to one server.
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") return close();
    void app.refresh();
    open();
  });
  open();
}
