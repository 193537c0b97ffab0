// Before and after side by side: the report's own view, with zoom and playback by one key.
import { getJson, getText } from "../api";
import type { App } from "../app";
import { h, inject } from "../dom";
import type { Screen } from "../shell";
import { zoomable, type TapCurves } from "../zoom";

declare global {
  interface Window {
    wirePlayback?: (root: ParentNode) => void; // playback.js of the report
  }
}

let shown: { path: string; markup: string; curves: TapCurves } | null = null;

export function compareScreen(app: App): Screen {
  const visit = app.visit;
  const id = app.route.screen === "compare" ? app.route.look : "";
  const look = visit?.looks.find((one) => one.id === id);
  if (!visit || !look) return { title: "Compare", back: { screen: "visits" }, body: [] };
  // Takes are part of the key: a take added in another tab makes another comparison.
  const takes = visit.looks.flatMap((one) => one.takes.map((take) => take.id)).join(".");
  const path = `/api/visits/${visit.id}/looks/${look.id}/comparison?takes=${takes}`;
  const holder = h("div", { class: "fragment", "data-key": "fragment" });
  if (shown?.path === path) {
    inject(holder, shown.markup);
    const button = holder.querySelector<HTMLElement>("[data-alternate]");
    button?.setAttribute("data-main", "");
    button?.setAttribute("data-key", "alternate");
    window.wirePlayback?.(holder);
    zoomable(holder, shown.curves);
  } else {
    holder.append(h("p", { class: "quiet" }, "One moment."));
    void app
      .guard(async () => {
        const [markup, curves] = await Promise.all([getText(path), getJson<TapCurves>(path.replace("/comparison", "/curves"))]);
        shown = { path, markup, curves };
      })
      .then((done) => {
        if (done) app.redraw();
        else holder.replaceChildren(h("p", {}, app.notice?.text ?? "The comparison cannot be shown."));
      });
  }
  return { title: `Before and ${look.title.toLowerCase()}`, back: { screen: "visit", visit: visit.id }, body: [holder] };
}
