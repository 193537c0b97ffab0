// The takes of a look: the newest as the report shows it, and the way to record another.
import { getText } from "../api";
import type { App } from "../app";
import { h, inject } from "../dom";
import { go } from "../route";
import type { Screen } from "../shell";
import { record } from "./look_row";

let shown: { key: string; markup: string; repeats: string } | null = null;

export function takeScreen(app: App): Screen {
  const visit = app.visit;
  const id = app.route.screen === "take" ? app.route.look : "";
  const look = visit?.looks.find((one) => one.id === id);
  const take = look?.takes.at(-1);
  if (!visit || !look || !take) return { title: "Sound", back: { screen: "visits" }, body: [h("p", { class: "quiet" }, "There is no take here.")] };
  const path = `/api/visits/${visit.id}/takes/${take.id}`;
  const holder = h("div", { class: "fragment" });
  const repeats = h("div", { class: "fragment" });
  const key = look.takes.map((one) => one.id).join("."); // another take makes another table
  if (shown?.key === `${path} ${key}`) {
    inject(holder, shown.markup);
    inject(repeats, shown.repeats);
  } else {
    void app
      .guard(async () => {
        const several = look.takes.length > 1 ? getText(`/api/visits/${visit.id}/looks/${look.id}/repeatability`) : "";
        const [markup, repeated] = await Promise.all([getText(path), several]);
        shown = { key: `${path} ${key}`, markup, repeats: repeated };
      })
      .then((done) => done && app.redraw());
  }
  const locked = visit.signed !== null || app.server?.readOnly !== null;
  const home = { screen: "visit", visit: visit.id } as const;
  return {
    title: `Sound, ${look.title.toLowerCase()}`,
    back: home,
    body: [
      look.takes.length > 1 ? h("p", { class: "quiet" }, `The newest of ${look.takes.length} takes. All that are fit count; taking the pick-up off and putting it back between them makes the comparison surer.`) : "",
      h(
        "div",
        { class: "actions" },
        h("button", { type: "button", class: "primary", "data-main": true, "data-key": "done", onclick: () => go(home) }, "Done"),
        h("button", { type: "button", "data-key": "again", disabled: locked, onclick: () => void record(app, visit.id, look.id) }, "Record another take"),
        !locked && h("button", { type: "button", "data-key": "withdraw", onclick: () => void app.change("DELETE", path, {}, "The take was taken back.").then((done) => done && go(home)) }, "Take this one back"),
      ),
      repeats,
      holder,
    ],
  };
}
