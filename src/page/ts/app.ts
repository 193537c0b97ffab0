// What every screen may use: the state as last told by the server, and ways to act on it.
import { ServerError, ServerGone, getJson, send } from "./api";
import type { Devices, Live, ServerState, Spot, Visit, VisitLine, Worklist } from "./model";
import { formatRoute, type Route } from "./route";

export interface Outcome {
  readonly visit: string;
  readonly look: string;
  readonly kept: boolean;
  readonly sentence: string;
  readonly reasons: readonly string[];
}

export interface Notice {
  readonly text: string;
  readonly kind: "said" | "failed";
}

export class App {
  route: Route = { screen: "visits" };
  server: ServerState | null = null;
  worklist: Worklist = { toSign: [], toRecheck: [], today: [] };
  /** Visits that a search found; null: nothing is sought. */
  found: readonly VisitLine[] | null = null;
  visit: Visit | null = null;
  live: Live | null = null;
  outcome: Outcome | null = null;
  notice: Notice | null = null;
  devices: Devices | null = null;
  gone: "no answer" | "restarted" | null = null;
  spots: Readonly<Record<string, readonly Spot[]>> = {};
  /** The part of the visit that a button spoke of, to be in focus when the visit is drawn next. */
  wanted: "patient" | "decision" | null = null;
  /** Set by a screen with something unsaved: keeps it before another screen is shown. */
  leave: (() => Promise<void>) | null = null;
  /** Set by the screen that is shown: called with each live level, without a new rendering. */
  onLive: ((live: Live) => void) | null = null;
  /** Set by a screen that has keys of its own; says whether it took the key. Not asked while somebody types. */
  onKey: ((key: string) => boolean) | null = null;

  constructor(private readonly draw: () => void) {}

  /** Another part of the screen that is shown: its address changes, nothing is left, kept or fetched. */
  stay(route: Route): void {
    history.replaceState(null, "", formatRoute(route));
    this.route = route;
    this.redraw();
  }

  redraw(): void {
    this.draw();
  }

  private refreshing: Promise<void> | null = null;
  private stale = false;

  /** Fetches what the present screen shows. One at a time: of two at once the older answer could come last and stay. */
  refresh(): Promise<void> {
    this.stale = true;
    this.refreshing ??= this.fetchUntilFresh();
    return this.refreshing;
  }

  private async fetchUntilFresh(): Promise<void> {
    try {
      while (this.stale) {
        this.stale = false;
        await this.fetchOnce();
      }
    } finally {
      this.refreshing = null;
    }
  }

  private async fetchOnce(): Promise<void> {
    await this.guard(async () => {
      const server = await getJson<ServerState>("/api/state");
      const route = this.route;
      const worklist = route.screen === "visits" ? await getJson<Worklist>("/api/worklist") : null;
      const visit = "visit" in route ? await getJson<Visit>(`/api/visits/${route.visit}`) : null;
      // All at once: what is drawn in between must not show a take that ended beside a visit that lacks it.
      this.server = server;
      this.live = server.recording;
      if (worklist) this.worklist = worklist;
      if (visit) this.visit = visit;
      if ((this.route.screen === "marks" || this.route.screen === "chart-lesson") && Object.keys(this.spots).length === 0) {
        this.spots = await getJson<Record<string, Spot[]>>("/api/spots");
      }
      if (this.route.screen === "record" && this.live === null) this.devices = await getJson<Devices>("/api/devices");
      this.gone = null;
    });
    this.redraw();
  }

  /** Changes something on the server; its answer is the visit as it now stands. */
  async change(method: "POST" | "PUT" | "DELETE", path: string, body: unknown = {}, said?: string): Promise<boolean> {
    this.notice = null;
    const done = await this.guard(async () => {
      this.visit = await send<Visit>(method, path, body);
      if (said !== undefined) this.notice = { text: said, kind: "said" };
    });
    this.redraw();
    return done;
  }

  /** Runs it; what goes wrong becomes a notice or the banner that says the server is gone. */
  async guard(run: () => Promise<void>): Promise<boolean> {
    try {
      await run();
      return true;
    } catch (fault) {
      if (fault instanceof ServerGone) this.gone = "no answer";
      else if (fault instanceof ServerError && fault.status === 403) this.gone = "restarted";
      else this.notice = { text: fault instanceof Error ? fault.message : String(fault), kind: "failed" };
      return false;
    }
  }
}
