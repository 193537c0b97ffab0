// What is done with the hands at a step, each with its reason, where the step is taken. The rules tell it.
import { getJson } from "./api";
import type { App } from "./app";
import { h } from "./dom";

interface HowTo {
  readonly do: string;
  readonly why: string;
  readonly source: string;
}

let steps: ReadonlyMap<string, readonly HowTo[]> | null = null;
let asked = false;
const unfolded = new Set<string>(); // reasons that stay open when the page is drawn anew

/** The steps of `step`, as a list whose reasons unfold; null until they are there. */
export function howTo(app: App, step: string): HTMLElement | null {
  if (!asked) {
    asked = true;
    void app
      .guard(async () => {
        const told = await getJson<{ steps: { step: string; how_to: HowTo[] }[] }>("/api/rules");
        steps = new Map(told.steps.map((one) => [one.step, one.how_to]));
      })
      .then((done) => {
        asked = done;
        if (done) app.redraw();
      });
  }
  const known = steps?.get(step);
  if (!known) return null;
  const key = `how-${step}`;
  return h(
    "details",
    { class: "how", open: unfolded.has(key), ontoggle: (event: Event) => void ((event.target as HTMLDetailsElement).open ? unfolded.add(key) : unfolded.delete(key)) },
    h("summary", { "data-key": key }, "How: ", known.map((one) => one.do.split(/[:.,]/)[0]?.toLowerCase() ?? "").slice(0, 3).join("; "), known.length > 3 ? " …" : ""),
    h("ul", {}, ...known.map((one) => h("li", {}, h("strong", {}, one.do), " ", one.why, " ", h("span", { class: "quiet" }, `(${one.source})`)))),
  );
}
