// What is usually next: one button, and everything else that applies as a checklist whose lines open what they speak of.
import type { App } from "../app";
import { h } from "../dom";
import type { Visit } from "../model";
import { checklist, nextAction, type Line } from "../next_step";
import { act } from "./act";

export function mainButton(app: App, visit: Visit): HTMLElement | null {
  const action = nextAction(visit);
  if (!action) return null;
  return h(
    "button",
    { type: "button", class: "main-target", "data-main": true, "data-key": "main", disabled: app.server?.readOnly !== null && action.target.to !== "compare", onclick: () => void act(app, visit, action) },
    h("span", { class: "main-word" }, action.word),
    h("span", {}, action.words),
  );
}

const unfolded = new Set<string>(); // reasons that stay open when the page is drawn anew

function line(app: App, visit: Visit, { advice, action }: Line): HTMLElement {
  const words = [h("strong", {}, advice.suggestion), ...advice.evidence.map((sentence) => h("span", {}, sentence))];
  return h(
    "li",
    {},
    action ? h("button", { type: "button", class: "advice-line", "data-key": `do-${advice.id}`, disabled: app.server?.readOnly !== null, onclick: () => void act(app, visit, action) }, h("span", { class: "advice-words" }, ...words), h("span", { class: "advice-go", "aria-hidden": "true" }, "›")) : h("div", { class: "advice-line" }, h("span", { class: "advice-words" }, ...words)),
    h("details", { open: unfolded.has(advice.id), ontoggle: (event: Event) => void ((event.target as HTMLDetailsElement).open ? unfolded.add(advice.id) : unfolded.delete(advice.id)) }, h("summary", { "data-key": `why-${advice.id}` }, "Why"), h("p", {}, advice.why), h("p", { class: "quiet" }, advice.defersTo)),
  );
}

export function nextPanel(app: App, visit: Visit): HTMLElement | null {
  const lines = checklist(visit);
  if (lines.length === 0) return null;
  return h(
    "section",
    { class: "panel", "aria-label": "Usually next" },
    h("h2", {}, "Usually next"),
    h("ul", { class: "advice" }, ...lines.map((one) => line(app, visit, one))),
    h("p", { class: "quiet" }, "This is guidance. Your supervising clinician and your local rules come first; a change to teeth cannot be undone."),
  );
}
