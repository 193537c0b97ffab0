// Before and after: the verdict beside the one picture that shows it, what to do next, and below that all that was measured.
import { getText } from "../api";
import type { App } from "../app";
import { h, inject } from "../dom";
import { alive } from "../picture";
import type { Screen } from "../shell";
import { stairs } from "../stairs";
import { record } from "./look_row";
import { mainButton, nextPanel } from "./next_panel";

declare global {
  interface Window {
    wirePlayback?: (root: ParentNode) => void; // playback.js of the report
  }
}

let shown: { path: string; top: HTMLElement; rest: HTMLElement } | null = null;

/** The report's own view, with its verdict and its picture taken out of it to stand on top. */
function laidOut(markup: string, picture: string): { top: HTMLElement; rest: HTMLElement } {
  const rest = h("div", { class: "fragment" });
  inject(rest, markup);
  const top = h("div", { class: "compare-top" });
  const verdict = rest.querySelector(".verdict");
  const figure = rest.querySelector("figure.picture");
  const sketches = rest.querySelector(".sketches");
  const listen = rest.querySelector(".listen");
  if (figure) {
    figure.querySelector("h3")?.replaceWith(h("h2", { class: "unseen" }, "The taps, before above and after below"));
    const address = (side: string): string | null => rest.querySelector(`audio[data-side="${side}"]`)?.getAttribute("src") ?? null;
    alive(figure, picture, { before: address("before"), after: address("after") });
  }
  if (verdict) top.append(verdict);
  const seen = h("div", { class: "compare-seen fragment" });
  if (sketches) seen.append(sketches);
  if (figure) seen.append(figure);
  if (listen) seen.append(listen);
  top.append(seen);
  listen?.querySelector("[data-alternate]")?.setAttribute("data-key", "alternate");
  window.wirePlayback?.(top);
  return { top, rest };
}

export function compareScreen(app: App): Screen {
  const visit = app.visit;
  const id = app.route.screen === "compare" ? app.route.look : "";
  const look = visit?.looks.find((one) => one.id === id);
  if (!visit || !look) return { title: "Compare", back: { screen: "visits" }, body: [] };
  // Takes are part of the key: a take added in another tab makes another comparison.
  const takes = visit.looks.flatMap((one) => one.takes.map((take) => take.id)).join(".");
  const base = `/api/visits/${visit.id}/looks/${look.id}`;
  const path = `${base}/comparison?takes=${takes}`;
  const screen = (...body: (HTMLElement | string)[]): Screen => ({ title: `Before and ${look.title.toLowerCase()}`, back: { screen: "visit", visit: visit.id }, body });
  if (shown?.path === path) {
    // Only the newest look has something to do next; of an earlier one the story went on.
    const newest = visit.looks.at(-1)?.id === look.id || visit.answer?.look === look.id;
    const main = newest ? mainButton(app, visit) : null;
    const proposed = newest && visit.signed === null && /record 12/i.test(shown.top.querySelector(".reasons")?.textContent ?? "");
    const more = proposed ? h("div", { class: "actions" }, h("button", { type: "button", "data-key": "twelve", onclick: () => void record(app, visit.id, look.id, 12) }, "Record 12 taps")) : "";
    return screen(main ?? "", more, shown.top, stairs(app, visit) ?? "", newest ? (nextPanel(app, visit) ?? "") : "", shown.rest);
  }
  const holder = h("p", { class: "quiet" }, "One moment.");
  void app
    .guard(async () => {
      const markup = await getText(path);
      shown = { path, ...laidOut(markup, `${base}/picture`) };
    })
    .then((done) => {
      if (done) app.redraw();
      else holder.textContent = app.notice?.text ?? "The comparison cannot be shown.";
    });
  return screen(holder);
}
