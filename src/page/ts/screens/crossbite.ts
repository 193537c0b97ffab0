// Which teeth meet in crossbite: asked where the marks leave it open, since the roles of the cusps turn round there.
import type { App } from "../app";
import { h } from "../dom";
import { go } from "../route";
import type { Screen } from "../shell";
import { lowerRow, shownNumber, upperRow } from "../teeth";

let edit: { visit: string; teeth: Set<number> } | null = null;

export function crossbiteScreen(app: App): Screen {
  const visit = app.visit;
  if (!visit) return { title: "Crossbite", back: { screen: "visits" }, body: [] };
  if (edit?.visit !== visit.id) edit = { visit: visit.id, teeth: new Set(visit.crossbite ?? []) };
  const teeth = edit.teeth;
  const home = { screen: "visit", visit: visit.id } as const;
  const locked = visit.signed !== null || app.server?.readOnly !== null;
  const say = async (said: string): Promise<void> => {
    if (!(await app.change("POST", `/api/visits/${visit.id}/crossbite`, { teeth: said }))) return;
    edit = null;
    go(home);
  };
  const question = visit.questions.find((one) => one.question === "crossbite");
  const row = (all: readonly number[], words: string): HTMLElement =>
    h(
      "div",
      { class: "tooth-row", role: "group", "aria-label": words },
      ...all.map((iso, at) =>
        // Front teeth have no cusps whose roles could turn round.
        h("button", { type: "button", class: `tooth${at === 8 ? " midline" : ""}`, "data-key": `tooth-${iso}`, disabled: locked || iso % 10 <= 3, "aria-pressed": teeth.has(iso) ? "true" : "false", onclick: () => (teeth.has(iso) ? teeth.delete(iso) : teeth.add(iso), app.redraw()) }, h("span", { class: "number" }, shownNumber(iso, visit.numbering)), h("span", { class: "count" }, teeth.has(iso) ? "×" : question?.teeth.includes(String(iso)) ? "?" : "")),
      ),
    );
  return {
    title: "Crossbite",
    back: home,
    body: [
      h("p", {}, question?.text ?? "Touch the teeth that meet in crossbite."),
      h("div", { class: "sides", "aria-hidden": "true" }, h("span", {}, "Patient's right"), h("span", {}, "Patient's left")),
      row(upperRow, "Upper teeth"),
      row(lowerRow, "Lower teeth"),
      h(
        "div",
        { class: "actions" },
        h("button", { type: "button", class: teeth.size > 0 ? "primary" : "", "data-key": "keep", disabled: locked || teeth.size === 0, onclick: () => void say(`iso: ${[...teeth].sort((a, b) => a - b).join(" ")}`) }, "These meet in crossbite"),
        h("button", { type: "button", class: teeth.size > 0 ? "" : "primary", "data-key": "none", disabled: locked, onclick: () => void say("none") }, "None does"),
      ),
    ],
  };
}
