// The staircase of a visit, as the report draws it: looks coming down to 'as before', with the film holds under them.
import { getText } from "./api";
import type { App } from "./app";
import { h, inject } from "./dom";
import type { Visit } from "./model";

let shown: { key: string; markup: string } | null = null;
let asked = "";

/** All that the drawing depends on. */
const keyOf = (visit: Visit): string => `${visit.id}:${visit.looks.map((look) => `${look.id} ${look.film?.sentence ?? ""} ${look.takes.map((take) => take.id).join(",")}`).join(";")}`;

/** Null as long as there is nothing that could be drawn. */
export function stairs(app: App, visit: Visit): HTMLElement | null {
  if (!visit.answer) return null;
  const key = keyOf(visit);
  if (shown?.key !== key) {
    if (asked !== key) {
      asked = key;
      void app.guard(async () => void (shown = { key, markup: await getText(`/api/visits/${visit.id}/staircase`) })).then((done) => {
        if (done) app.redraw();
        else asked = "";
      });
    }
    return null;
  }
  if (shown.markup === "") return null;
  const figure = h("figure", {});
  inject(figure, shown.markup);
  return h("section", { class: "panel stairs", "aria-label": "Look by look" }, h("h2", {}, "Look by look"), figure);
}
