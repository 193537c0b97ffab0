// What follows from the looks: the verdict in short, and what changed.
import type { App } from "../app";
import { h } from "../dom";
import type { Verdict, Visit } from "../model";
import { go } from "../route";
import { stairs } from "../stairs";
import { nextPanel } from "./next_panel";

export const verdictSigns: Record<Verdict, string> = { alike: "=", different: "≠", unclear: "?" };

export function verdictPanel(visit: Visit): HTMLElement | null {
  const answer = visit.answer;
  if (!answer) return null;
  return h(
    "section",
    { class: `panel verdict-panel verdict-${answer.verdict}`, "aria-label": "Verdict" },
    h("p", { class: "verdict-line" }, h("span", { class: "sign", "aria-hidden": "true" }, verdictSigns[answer.verdict]), h("strong", { class: "verdict-word" }, answer.verdict)),
    h("p", {}, answer.sentence),
    answer.score !== null && h("p", { class: "quiet" }, `Likeness ${answer.score.toFixed(0)} of 100, between ${(answer.low ?? 0).toFixed(0)} and ${(answer.high ?? 0).toFixed(0)}.`),
    h("button", { type: "button", "data-key": "compare", onclick: () => go({ screen: "compare", visit: visit.id, look: answer.look }) }, "Look closer"),
  );
}

export function changesPanel(visit: Visit): HTMLElement | null {
  if (visit.changes.length === 0 && visit.spread === "" && visit.contradictions.length === 0) return null;
  return h(
    "section",
    { class: "panel", "aria-label": "What changed" },
    h("h2", {}, visit.changes.length > 0 ? "What changed" : "Holds"),
    ...visit.contradictions.map((one) => h("p", { class: "contradiction" }, h("strong", {}, one.plain), " ", one.look_again)),
    visit.changes.length > 0 && h("ul", {}, ...visit.changes.map((sentence) => h("li", {}, sentence))),
    visit.spread !== "" && h("p", { class: "quiet" }, visit.spread),
  );
}

export const outcomePanels = (app: App, visit: Visit): HTMLElement[] => [verdictPanel(visit), stairs(app, visit), changesPanel(visit), nextPanel(app, visit)].filter((panel) => panel !== null);
