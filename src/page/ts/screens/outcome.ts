// What follows from the looks: the verdict in short, what changed, what is usually next.
import type { App } from "../app";
import { h } from "../dom";
import type { Visit } from "../model";
import { go } from "../route";

const signs = { alike: "=", different: "≠", unclear: "?" } as const;

export function outcomePanels(_app: App, visit: Visit): HTMLElement[] {
  const panels: HTMLElement[] = [];
  const answer = visit.answer;
  if (answer) {
    panels.push(
      h(
        "section",
        { class: `panel verdict-panel verdict-${answer.verdict}`, "aria-label": "Verdict" },
        h("p", { class: "verdict-line" }, h("span", { class: "sign", "aria-hidden": "true" }, signs[answer.verdict]), h("strong", { class: "verdict-word" }, answer.verdict)),
        h("p", {}, answer.sentence),
        answer.score !== null && h("p", { class: "quiet" }, `Likeness ${answer.score.toFixed(0)} of 100, between ${(answer.low ?? 0).toFixed(0)} and ${(answer.high ?? 0).toFixed(0)}.`),
        h("button", { type: "button", "data-key": "compare", onclick: () => go({ screen: "compare", visit: visit.id, look: answer.look }) }, "Look closer"),
      ),
    );
  }
  if (visit.changes.length > 0 || visit.spread) {
    panels.push(
      h(
        "section",
        { class: "panel", "aria-label": "What changed" },
        h("h2", {}, visit.changes.length > 0 ? "What changed" : "Holds"),
        visit.changes.length > 0 && h("ul", {}, ...visit.changes.map((sentence) => h("li", {}, sentence))),
        visit.spread !== "" && h("p", { class: "quiet" }, visit.spread),
      ),
    );
  }
  if (visit.next.length > 0) {
    panels.push(
      h(
        "section",
        { class: "panel", "aria-label": "Usually next" },
        h("h2", {}, "Usually next"),
        h(
          "ul",
          { class: "advice" },
          ...visit.next.map((advice) =>
            h(
              "li",
              {},
              h("strong", {}, advice.suggestion),
              ...advice.evidence.map((sentence) => h("p", {}, sentence)),
              h("details", {}, h("summary", {}, "Why"), h("p", {}, advice.why), h("p", { class: "quiet" }, advice.defersTo)),
            ),
          ),
        ),
        h("p", { class: "quiet" }, "This is guidance. Your supervising clinician and your local rules come first; a change to teeth cannot be undone."),
      ),
    );
  }
  return panels;
}
