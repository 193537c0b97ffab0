// A sign that is talked over with the supervisor before anything else is done: what was seen, with whom, and what was decided.
import { getJson } from "../api";
import type { App } from "../app";
import { h } from "../dom";
import type { Visit } from "../model";
import { go } from "../route";
import type { Screen } from "../shell";

interface Sign {
  readonly warning: string;
  readonly plain: string;
}

let signs: readonly Sign[] | null = null;
let filled: { visit: string; about: string; raisedWith: string; decided: string } | null = null;

/** The sign that is asked for: one that the rules raise, or one that was noted and not decided. */
function first(visit: Visit): string {
  const raised = visit.next.find((advice) => advice.step === "raise_warning" && advice.id !== "warning-open");
  return raised?.id ?? visit.warnings.find((warning) => warning.raisedWith === "" || warning.decided === "")?.about ?? "";
}

export function warningScreen(app: App): Screen {
  const visit = app.visit;
  if (!visit) return { title: "Warning sign", back: { screen: "visits" }, body: [] };
  if (signs === null) {
    void app.guard(async () => void (signs = (await getJson<{ warning_signs: Sign[] }>("/api/rules")).warning_signs)).then((done) => done && app.redraw());
  }
  if (filled?.visit !== visit.id) filled = { visit: visit.id, about: first(visit), raisedWith: visit.supervisor, decided: "" };
  const now = filled;
  const home = { screen: "visit", visit: visit.id } as const;
  const locked = visit.signed !== null || app.server?.readOnly !== null;
  const keep = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    if (await app.change("POST", `/api/visits/${visit.id}/warning`, { about: now.about, raisedWith: now.raisedWith, decided: now.decided }, "Noted.")) {
      filled = null;
      go(home);
    }
  };
  const field = (id: "raisedWith" | "decided", words: string): HTMLElement =>
    h("p", { class: "field" }, h("label", { for: id }, words), h("input", { id, type: "text", maxlength: 200, autocomplete: "off", value: now[id], disabled: locked, "data-key": id, oninput: (event: Event) => (now[id] = (event.target as HTMLInputElement).value) }));
  const noted = (about: string): string => {
    const warning = visit.warnings.find((one) => one.about === about);
    return warning ? (warning.decided === "" ? "noted, nothing decided" : `decided: ${warning.decided}`) : "";
  };
  return {
    title: "Warning sign",
    back: home,
    body: [
      h(
        "form",
        { class: "sign-form", onsubmit: (event: SubmitEvent) => void keep(event) },
        h(
          "fieldset",
          { class: "choices column" },
          h("legend", {}, "What was seen"),
          ...(signs ?? []).map((sign) => h("label", { class: "choice" }, h("input", { type: "radio", name: "about", value: sign.warning, required: true, disabled: locked, checked: now.about === sign.warning, "data-key": `about-${sign.warning}`, onchange: () => ((now.about = sign.warning), app.redraw()) }), sign.plain, noted(sign.warning) !== "" && h("small", {}, noted(sign.warning)))),
        ),
        field("raisedWith", "Raised with"),
        field("decided", "What was decided"),
        h("div", { class: "actions" }, h("button", { type: "submit", class: "primary", "data-main": true, "data-key": "keep", disabled: locked || now.about === "" }, "Note it")),
      ),
    ],
  };
}
